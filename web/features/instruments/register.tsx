import '#web/features/instruments/instruments.css'
import { useQuery } from '@tanstack/react-query'
import type { Instrument } from '#contract/instruments.ts'
import { AddInstrument } from '#web/features/instruments/add-instrument.tsx'
import { ChangeInstrument } from '#web/features/instruments/change-instrument.tsx'
import { instrumentsQuery } from '#web/features/instruments/queries.ts'
import { KIND_WORDS } from '#web/features/instruments/words.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { Fold } from '#web/ui/fold.tsx'
import { Over } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { type Column, Table } from '#web/ui/table.tsx'

/** Dials, micrometers and the rest: when each was last checked, what is overdue, what is used no more. */
export function Register() {
  const { zone } = useHere()
  const all = useQuery(instrumentsQuery)
  if (all.isPending) return <Loading what="the instruments" />
  if (all.isError) return <Failed what="The instruments" error={all.error} onAgain={() => void all.refetch()} />
  const today = dateIn(zone, Date.now())
  const used = all.data.filter((one) => !one.ended)
  const ended = all.data.filter((one) => one.ended)
  return (
    <>
      <Table
        caption="Instruments in use"
        columns={columnsFor(today)}
        rows={used}
        rowKey={(one) => one.id}
        empty="No instrument is in the book yet. Add the dials and micrometers that the bench reads with."
      />
      <Fold open="Add an instrument">{(shut) => <AddInstrument today={today} onShut={shut} />}</Fold>
      {ended.length > 0 && (
        <details className="details-line">
          <summary>Used no more: {ended.length}</summary>
          <Table caption="Instruments used no more" columns={columnsFor(today)} rows={ended} rowKey={(one) => one.id} empty="" />
        </details>
      )}
    </>
  )
}

function columnsFor(today: string): Column<Instrument>[] {
  return [
    {
      id: 'name',
      head: 'instrument',
      narrow: 'main',
      cell: (one) => (
        <>
          <b>{one.name}</b> <small>{KIND_WORDS[one.kind]}</small>
        </>
      ),
    },
    { id: 'step', head: 'one division', figures: true, narrow: 'under', cell: (one) => `${one.stepMm} mm` },
    {
      id: 'checked',
      head: 'last check',
      narrow: 'under',
      cell: (one) => (one.checkedOn === undefined ? 'never written down' : `checked ${day(one.checkedOn, today)}`),
    },
    { id: 'due', head: 'next check', narrow: 'under', cell: (one) => <Due one={one} today={today} /> },
    { id: 'change', head: '', narrow: 'under', cell: (one) => <ChangeInstrument key={one.version} one={one} today={today} /> },
  ]
}

function Due({ one, today }: { one: Instrument; today: string }) {
  if (one.ended) return <>used no more</>
  if (one.dueOn === undefined) return <>no day set</>
  return one.overdue ? <Over>overdue since {day(one.dueOn, today)}</Over> : <>due {day(one.dueOn, today)}</>
}
