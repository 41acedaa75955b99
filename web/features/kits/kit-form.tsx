import '#web/features/kits/kits.css'
import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { z } from 'zod'
import type { kitOfJob } from '#contract/kits.ts'
import { KIT_SIGNS } from '#core/limits.ts'
import { fittedWords, type KnownLot, lotsOf } from '#web/features/kits/known-lots.ts'
import { kitsQuery, useNameKit } from '#web/features/kits/queries.ts'
import { newId } from '#web/lib/id.ts'
import { inWords } from '#web/lib/problem.ts'
import { useSettled } from '#web/lib/use-settled.ts'
import { Button } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'
import { SuggestField } from '#web/ui/suggest-field.tsx'

type KitOfJob = z.infer<typeof kitOfJob>
type Name = 'maker' | 'part' | 'lot'

const LABELS: Readonly<Record<Name, string>> = { maker: 'Maker of the kit', part: 'Part number', lot: 'Lot, from the rod or the bag' }
const NAMES = ['maker', 'part', 'lot'] as const

export interface KitFormProps {
  jobId: string
  engineId: string
  kit: KitOfJob | undefined
  whoseWanted: 'ours' | 'theirs' | 'none'
  onNamed(): void
}

/** Maker, part and lot, so that a bad lot is found in an hour and not after a season. Known lots are offered. */
export function KitForm({ jobId, engineId, kit, whoseWanted, onNamed }: KitFormProps) {
  const [given, setGiven] = useState({ maker: kit?.maker ?? '', part: kit?.part ?? '', lot: kit?.lot ?? '' })
  const [whose, setWhose] = useState<'ours' | 'theirs' | undefined>(kit?.whose ?? (whoseWanted === 'none' ? undefined : whoseWanted))
  const [attempt, setAttempt] = useState(0)
  const [id] = useState(newId)
  const name = useNameKit(jobId)
  const typed = useSettled([given.maker, given.part].join(' ').trim(), 200)
  const ofEngine = useQuery(kitsQuery({ engineId }))
  const found = useQuery({ ...kitsQuery({ q: typed }), enabled: typed !== '' })
  const known = lotsOf(ofEngine.data ?? [])
  const offers = lotsOf(typed === '' ? (ofEngine.data ?? []) : (found.data ?? [])).filter((one) => isBeginning(given, one))
  const same = [...known, ...lotsOf(found.data ?? [])].find((one) => NAMES.every((field) => isSame(one[field], given[field])))

  const faults = attempt === 0 ? [] : lacking({ ...given, whose })
  const send = () => {
    setAttempt(attempt + 1)
    if (whose === undefined || lacking({ ...given, whose }).length > 0) return
    name
      .mutateAsync({ id, maker: given.maker.trim(), part: given.part.trim(), lot: given.lot.trim(), whose })
      .then(onNamed, () => undefined)
  }
  const put = (one: KnownLot) => setGiven({ maker: one.maker, part: one.part, lot: one.lot })
  return (
    <div className="kit">
      {known.length > 0 && (
        <section aria-label="Lots known for this engine">
          <h2>Lots known for this engine</h2>
          <ul className="kit-lots">
            {known.map((one) => (
              <li key={one.id}>
                <button type="button" className="kit-lot" onClick={() => put(one)}>
                  <span>
                    {one.maker} {one.part}, lot <b className="fig">{one.lot}</b>
                  </span>
                  <small>{fittedWords(one.fitted)}</small>
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      <Form enter="next" onSend={send} aria-label="The kit">
        {(faults.length > 0 || name.isError) && (
          <ProblemSummary title="The kit is not named yet." attempt={attempt} faults={faults}>
            {name.isError && <p>{inWords(name.error)}</p>}
          </ProblemSummary>
        )}
        <SuggestField
          label={LABELS.maker}
          name="maker"
          value={given.maker}
          error={faults.find((one) => one.name === 'maker')?.text}
          onChange={(maker) => setGiven({ ...given, maker })}
          suggestions={offers.slice(0, 8).map((one) => ({ id: one.id, says: `${one.maker} ${one.part}, lot ${one.lot}` }))}
          onPick={(lotId) => {
            const one = offers.find((lot) => lot.id === lotId)
            if (one !== undefined) put(one)
          }}
        />
        {(['part', 'lot'] as const).map((field) => (
          <TextField
            key={field}
            label={LABELS[field]}
            name={field}
            maxLength={KIT_SIGNS[field]}
            autoComplete="off"
            value={given[field]}
            error={faults.find((one) => one.name === field)?.text}
            {...(field === 'lot' && same !== undefined ? { readBack: fittedWords(same.fitted) } : {})}
            onChange={(event) => setGiven({ ...given, [field]: event.target.value })}
          />
        ))}
        <Pick
          label="Whose kit"
          name="whose"
          options={[
            { value: 'ours', label: 'ours' },
            { value: 'theirs', label: 'theirs: sealed, or measured and noted' },
          ]}
          value={whose}
          error={faults.find((one) => one.name === 'whose')?.text}
          onChange={setWhose}
        />
        <Button kind="go" type="submit" busy={name.isPending}>
          {kit === undefined ? 'Kit is in' : 'This kit it is'}
        </Button>
      </Form>
    </div>
  )
}

function isSame(one: string, other: string): boolean {
  return one.toLowerCase() === other.trim().toLowerCase()
}

function isBeginning(given: Record<Name, string>, one: KnownLot): boolean {
  const typed = given.maker.trim().toLowerCase()
  return (
    typed !== '' && `${one.maker} ${one.part}`.toLowerCase().includes(typed) && !NAMES.every((field) => isSame(one[field], given[field]))
  )
}

function lacking(given: Record<Name, string> & { whose: string | undefined }): { name: string; text: string }[] {
  return [
    ...NAMES.filter((field) => given[field].trim() === '').map((field) => ({ name: field, text: `${LABELS[field]}: write it here.` })),
    ...(given.whose === undefined ? [{ name: 'whose', text: 'Say whose kit it is.' }] : []),
  ]
}
