import { Link } from 'react-router'
import type { PracticeLine } from '#contract/practice.ts'
import { CALL_WORDS, dialText, LEVEL_WORDS } from '#web/features/practice/words.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { useNow } from '#web/lib/use-clock.ts'
import { type Column, Table } from '#web/ui/table.tsx'

export interface PracticeLinesProps {
  rows: readonly PracticeLine[]
  crankAt(id: string): string
  empty: string
}

/** Practice cranks that were put down: the call, the worse end against the best, moves against a good hand, what was said against what came. */
export function PracticeLines({ rows, crankAt, empty }: PracticeLinesProps) {
  const here = useHere()
  const today = dateIn(here.zone, useNow(60_000))
  const columns: Column<PracticeLine>[] = [
    {
      id: 'day',
      head: 'Day',
      whole: true,
      narrow: 'main',
      cell: (row) => <Link to={crankAt(row.id)}>{day(dateIn(here.zone, row.endedAt ?? row.startedAt), today)}</Link>,
    },
    { id: 'level', head: 'What may be wrong', narrow: 'under', cell: (row) => LEVEL_WORDS[row.level] },
    {
      id: 'call',
      head: 'Call',
      narrow: 'right',
      cell: (row) =>
        row.called === undefined || row.called === 'left'
          ? CALL_WORDS[row.called ?? 'left']
          : `${CALL_WORDS[row.called]}, ${row.score?.calledRight ? 'rightly' : 'wrongly'}`,
    },
    {
      id: 'worst',
      head: 'Worse end, best reachable',
      figures: true,
      cell: (row) => row.score && `${dialText(row.score.worstMm)}, ${dialText(row.score.bestMm)}`,
    },
    {
      id: 'moves',
      head: 'Moves, a good hand',
      figures: true,
      cell: (row) => row.score && `${row.score.moves}, ${row.score.goodMoves}`,
    },
    {
      id: 'said',
      head: 'Said wrong by, mm',
      figures: true,
      cell: (row) => (row.score?.saidOffMm === undefined ? '–' : dialText(row.score.saidOffMm)),
    },
    { id: 'wrong', head: 'Wrong way', figures: true, cell: (row) => row.score?.wrongWay },
  ]
  return <Table caption="Practice cranks" columns={columns} rows={rows} rowKey={(row) => row.id} empty={empty} />
}
