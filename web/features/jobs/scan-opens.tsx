import '#web/features/jobs/scan.css'
import { useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import { useNavigate } from 'react-router'
import { findQuery, jobQuery } from '#web/features/jobs/queries.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { useScans } from '#web/lib/scan.ts'
import { type ScannedCode, scannedCode } from '#web/lib/scanned-code.ts'

/** A label or a tag under the scanner opens its crank, from whatever page; where it cannot, the page stays and says why. */
export function ScanOpens({ at }: { at: 'bench' | 'jobs' }) {
  const client = useQueryClient()
  const navigate = useNavigate()
  const [said, setSaid] = useState<string | undefined>(undefined)

  const idOf = async (code: ScannedCode): Promise<string | undefined> => {
    if ('jobId' in code) return (await client.fetchQuery(jobQuery(code.jobId))).id
    if ('tag' in code) return (await client.fetchQuery(findQuery(code.tag))).rows.find((row) => row.title === code.tag)?.id
    return undefined
  }
  const open = async (readings: string[]) => {
    const code = scannedCode(readings)
    if ('fault' in code) return setSaid(code.fault)
    try {
      const id = await idOf(code)
      if (id === undefined) return setSaid('No crank in the book has this tag.')
      setSaid(undefined)
      await navigate(`/${at}/${id}`)
    } catch (error) {
      setSaid(error instanceof Problem && error.status === 404 ? 'This label is of no crank in this book.' : inWords(error))
    }
  }
  useScans({ onCode: (readings) => void open(readings), isOurs: (readings) => !('fault' in scannedCode(readings)) })

  return (
    <div className="scan-said" role="status">
      {said !== undefined && (
        <>
          <span>Scanned: {said}</span>{' '}
          <button type="button" className="plain" onClick={() => setSaid(undefined)}>
            Close
          </button>
        </>
      )}
    </div>
  )
}
