import { Fragment, type ReactNode } from 'react'
import type { OfficeCrank } from '#contract/office-cranks.ts'
import { CAUSE_WORDS } from '#core/comeback.ts'
import { doneWord, isEnd } from '#core/steps.ts'
import { crankCells } from '#web/features/office/crank-cells.tsx'
import { counted, dateIn, day, figure, money } from '#web/lib/format.ts'
import type { Here } from '#web/lib/here.ts'
import { Over } from '#web/ui/notice.tsx'
import type { Column } from '#web/ui/table.tsx'

interface Told {
  id: string
  head: string
  /** What a row says under this head, a line each; nothing where the book knows nothing. */
  says(row: OfficeCrank): ReactNode[]
}

const ENDS = { 'given-back': 'given back', scrapped: 'scrapped' } as const

/** What may be told of a crank, in the order of its way through the house. */
function told(here: Here, named: (date: string) => string): Told[] {
  return [
    {
      id: 'stands',
      head: 'stands',
      says: ({ state, outOn, days }) => [
        <b key="state">{isEnd(state) ? ENDS[state] : doneWord(state)}</b>,
        ...(outOn === undefined ? [] : [`${named(outOn)}${days === undefined ? '' : `, after ${counted(days, 'day')}`}`]),
      ],
    },
    {
      id: 'dates',
      head: 'booked, promised',
      says: ({ bookedOn, promisedOn, waitingSince }) => [
        `booked ${named(bookedOn)}`,
        ...(promisedOn === undefined ? [] : [`promised ${named(promisedOn)}`]),
        ...(waitingSince === undefined ? [] : [`waits since ${named(dateIn(here.zone, waitingSince))}`]),
      ],
    },
    { id: 'work', head: 'the work', says: (row) => workWords(row, named) },
    { id: 'since', head: 'since then', says: (row) => sinceWords(row, named) },
    { id: 'money', head: 'hours, money', says: (row) => moneyWords(row, here.currency) },
  ]
}

function workWords({ truedBy, firstCheck, checkedOn, lot }: OfficeCrank, named: (date: string) => string): ReactNode[] {
  const on = checkedOn === undefined ? '' : `, ${named(checkedOn)}`
  return [
    ...(truedBy === undefined ? [] : [`called true by ${truedBy}`]),
    ...(firstCheck === 'within' ? [`first check within our limit${on}`] : []),
    ...(firstCheck === 'over'
      ? [
          <Fragment key="check">
            <Over>first check over our limit</Over>
            {on}
          </Fragment>,
        ]
      : []),
    ...(lot === undefined ? [] : [lot]),
  ]
}

function sinceWords({ backOn, backHours, cause, heardHours }: OfficeCrank, named: (date: string) => string): ReactNode[] {
  const at = backHours === undefined ? '' : ` at ${figure(backHours, 0)} h`
  return [
    ...(backOn === undefined ? [] : [`came back ${named(backOn)}${at}${cause === undefined ? '' : `, ${CAUSE_WORDS[cause]}`}`]),
    ...(heardHours === undefined ? [] : [`last heard of at ${figure(heardHours, 0)} h`]),
  ]
}

function moneyWords({ benchHours, priceMinor, depositMinor, owesMinor }: OfficeCrank, currency: string): ReactNode[] {
  const owes = owesMinor === undefined || owesMinor > 0
  return [
    ...(benchHours === undefined ? [] : [`${figure(benchHours, 1)} h at the bench`]),
    ...(priceMinor === undefined ? [] : [`price ${money(priceMinor, currency)}`]),
    ...(depositMinor === undefined || !owes ? [] : [`deposit ${money(depositMinor, currency)}`]),
    ...(owesMinor === undefined ? [] : [owes ? `${money(owesMinor, currency)} to pay` : 'paid']),
  ]
}

/** A line each on a wide screen, one after another on a narrow one. */
function Lines({ lines }: { lines: readonly ReactNode[] }) {
  return (
    <ul className="told">
      {lines.map((line, place) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: lines stay where they are
        <li key={place}>{line}</li>
      ))}
    </ul>
  )
}

/** The columns that some crank of the list has anything to say under. */
export function crankColumns(rows: readonly OfficeCrank[], here: Here, today: string): Column<OfficeCrank>[] {
  const some = told(here, (date) => day(date, today)).filter((one) => rows.some((row) => one.says(row).length > 0))
  return [
    ...crankCells<OfficeCrank>(),
    ...some.map(
      ({ id, head, says }): Column<OfficeCrank> => ({
        id,
        head,
        narrow: 'under',
        cell: (row) => {
          const lines = says(row)
          return lines.length === 0 ? null : <Lines lines={lines} />
        },
      }),
    ),
  ]
}
