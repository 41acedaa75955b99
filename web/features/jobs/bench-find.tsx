import '#web/features/jobs/find.css'
import { useQuery, useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import { Link, useNavigate } from 'react-router'
import { parseTag } from '#core/tag.ts'
import { findQuery } from '#web/features/jobs/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { useSettled } from '#web/lib/use-settled.ts'
import { FindBox } from '#web/ui/find-box.tsx'

const REST_MS = 150

/** The find box of the bench: a tag typed or scanned opens its crank here. */
export function BenchFind() {
  const [typed, setTyped] = useState('')
  const navigate = useNavigate()
  const client = useQueryClient()
  const asked = useSettled(typed.trim(), REST_MS)
  const answer = useQuery(findQuery(asked))
  const rows = asked === '' ? [] : (answer.data?.rows ?? []).filter((row) => row.what === 'job')
  const open = async (text: string) => {
    const found = await client.fetchQuery(findQuery(text)).catch(() => undefined)
    const first = found?.rows.find((row) => row.what === 'job')
    if (first === undefined) return
    setTyped('')
    void navigate(`/bench/${first.id}`)
  }
  const tag = parseTag(typed)
  const isWrong = !tag.ok && tag.reason === 'wrong-letter'
  return (
    <FindBox by="tag, engine number" value={typed} onChange={setTyped} onFind={(text) => void open(text)}>
      {typed.trim() === '' ? undefined : (
        <>
          <p className="found-count" role="status">
            {answer.isError
              ? inWords(answer.error)
              : rows.length > 0
                ? `${rows.length} found`
                : answer.isFetching || typed.trim() !== asked
                  ? 'Looking…'
                  : isWrong
                    ? tag.detail
                    : 'No crank found. A tag is a number and a letter, as 318-V.'}
          </p>
          {rows.length > 0 && (
            <ul>
              {rows.map((row) => (
                <li key={row.id}>
                  <Link className="found-row" to={`/bench/${row.id}`} onClick={() => setTyped('')}>
                    <b>{row.title}</b> <small>{row.says}</small>
                  </Link>
                </li>
              ))}
            </ul>
          )}
        </>
      )}
    </FindBox>
  )
}
