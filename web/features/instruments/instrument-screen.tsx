import '#web/features/instruments/instruments.css'
import { useState } from 'react'
import { Link } from 'react-router'
import type { InstrumentCheck, InstrumentPage } from '#contract/instrument-checks.ts'
import type { Instrument } from '#contract/instruments.ts'
import { CheckForm } from '#web/features/instruments/check-form.tsx'
import { DoubtLine } from '#web/features/instruments/doubt-line.tsx'
import { MadeWith } from '#web/features/instruments/made-with.tsx'
import { useCheckInstrument } from '#web/features/instruments/queries.ts'
import { foundWords, isDueSoon, KIND_WORDS, stepWords } from '#web/features/instruments/words.ts'
import { dateIn, day, dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { Fold } from '#web/ui/fold.tsx'
import { Over } from '#web/ui/notice.tsx'
import { Reason } from '#web/ui/reason.tsx'
import { type Column, Table } from '#web/ui/table.tsx'

/** One instrument: how it stands, what was found of it, and the certificates that rest on its readings. */
export function InstrumentScreen({ page, crankAt }: { page: InstrumentPage; crankAt(jobId: string): string }) {
  const { zone, role } = useHere()
  const { instrument: one, checks } = page
  const now = Date.now()
  const today = dateIn(zone, now)
  const [fault, setFault] = useState<string | undefined>(undefined)
  const columns: readonly Column<InstrumentCheck>[] = [
    { id: 'when', head: 'When', cell: (row) => dayAndTime(row.occurredAt, zone, now), whole: true, narrow: 'main' },
    { id: 'found', head: 'Found', cell: (row) => (row.held === true ? foundWords(row) : <Over>{foundWords(row)}</Over>), narrow: 'right' },
    { id: 'by', head: 'By', cell: (row) => [row.by, row.note].filter((said) => said !== undefined).join(': ') },
    {
      id: 'certificates',
      head: 'Certificates then',
      cell: (row) =>
        row.held === true ? null : (
          <button type="button" className="plain" aria-pressed={fault === row.id} onClick={() => setFault(row.id)}>
            show below
          </button>
        ),
    },
  ]
  return (
    <div className="register">
      <p>
        {KIND_WORDS[one.kind]} · {stepWords(one)} ·{' '}
        {one.checkedOn === undefined ? 'no check written down' : `last good check ${day(one.checkedOn, today)}`} ·{' '}
        <DueWords one={one} today={today} />
      </p>
      <p role="status">
        <DoubtLine one={one} zone={zone} now={now} />
      </p>
      {role !== 'counter' && !one.ended && <Acts one={one} today={today} />}
      <MadeWith key={fault ?? 'now'} id={one.id} fault={fault} crankAt={crankAt} onNow={() => setFault(undefined)} />
      <section aria-labelledby="checks">
        <h2 id="checks">What was found of it</h2>
        <Table
          caption="What was found of it"
          columns={columns}
          rows={checks}
          rowKey={(row) => row.id}
          empty="No check, zero or fall is written down."
        />
      </section>
      <p>
        <Link to="/bench/instruments">All instruments</Link>
      </p>
    </div>
  )
}

function DueWords({ one, today }: { one: Instrument; today: string }) {
  if (one.ended) return <>used no more</>
  if (one.dueOn === undefined) return <>no day set for the next</>
  if (one.overdue) return <Over>overdue since {day(one.dueOn, today)}</Over>
  return (
    <>
      next due {isDueSoon(one, today) && 'soon, '}
      {day(one.dueOn, today)}
    </>
  )
}

function Acts({ one, today }: { one: Instrument; today: string }) {
  const fall = useCheckInstrument(one.id)
  const [told, setTold] = useState(0)
  return (
    <div className="instrument-acts">
      <Fold open="Check it">{(shut) => <CheckForm one={one} today={today} onShut={shut} />}</Fold>
      <Reason
        key={told}
        open="It fell"
        label="How it fell"
        confirm="It was dropped"
        most={200}
        busy={fall.isPending}
        error={fall.isError ? inWords(fall.error) : undefined}
        onConfirm={(note) =>
          fall.mutateAsync({ kind: 'dropped', note }).then(
            () => setTold(told + 1),
            () => undefined,
          )
        }
      >
        <p>It signs nothing until a check finds it good.</p>
      </Reason>
    </div>
  )
}
