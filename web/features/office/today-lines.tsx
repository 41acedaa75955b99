import type { ReactNode } from 'react'
import { Link } from 'react-router'
import type { OfficeToday } from '#contract/office-today.ts'
import { type Figure, FigureFoot } from '#web/features/office/figure-foot.tsx'
import { cranksHref } from '#web/features/office/search.ts'
import { type Crank, TodayTable } from '#web/features/office/today-table.tsx'
import { promisedWords, readyWords, waitingWords } from '#web/features/office/words.ts'
import { counted, day, hours, money } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { Over } from '#web/ui/notice.tsx'

/** So many cranks stand in a line itself; the table beneath has the rest. */
const NAMED = 3

/** What stands in the shop today, a sentence a line: what is late and why first. */
export function TodayLines({ today }: { today: OfficeToday }) {
  const { currency } = useHere()
  const { late, promised, waiting, ready, instruments, proof } = today
  return (
    <ul className="office-lines" aria-label="Today">
      <Line figure={late} of="late" rows={late.rows} right={(row) => counted(row.daysLate, 'day')} rightHead="late by">
        <Late late={late} today={today.today} />
      </Line>
      <Line
        figure={promised}
        of="promised this week"
        rows={promised.rows}
        right={(row) => (
          <>
            {day(row.promisedOn, today.today)}
            <br />
            <small>{hours(row.leftHours)} left</small>
          </>
        )}
        rightHead="promised, still asks for"
      >
        {promisedWords(promised)} {!promised.fits && <Over>More than the bench has left</Over>}
      </Line>
      <Line figure={waiting} of="waiting" rows={waiting.rows} right={(row) => counted(row.days, 'day')} rightHead="waits">
        <Waiting waiting={waiting} />
      </Line>
      <Line
        figure={ready}
        of="ready, not fetched"
        rows={ready.rows}
        right={(row) => (row.owesMinor === undefined || row.owesMinor <= 0 ? 'paid' : money(row.owesMinor, currency))}
        rightHead="to pay"
      >
        {readyWords(ready, currency)}
      </Line>
      <Line figure={instruments} of="instruments due" one="instrument">
        <Instruments instruments={instruments} />
      </Line>
      <li>
        <p>
          {proof.warning === undefined ? (
            `${proof.says}.`
          ) : (
            <>
              <Over>{proof.says}</Over>. {proof.warning} <Link to="/office/backup">see to the backup</Link>
            </>
          )}
        </p>
        <span className="figure-foot">{proof.rule}</span>
      </li>
    </ul>
  )
}

interface LineProps<Row extends Crank> {
  figure: Figure
  of: string
  one?: string
  rows?: readonly Row[]
  right?: (row: Row) => ReactNode
  rightHead?: string
  children: ReactNode
}

function Line<Row extends Crank>({ figure, of, one, rows = [], right, rightHead = '', children }: LineProps<Row>) {
  return (
    <li>
      <div className="office-says">{children}</div>
      <FigureFoot figure={figure} of={of} {...(one === undefined ? {} : { one })} />
      {right !== undefined && rows.length > 0 && <TodayTable of={of} n={figure.n} rows={rows} right={right} rightHead={rightHead} />}
    </li>
  )
}

function Late({ late, today }: { late: OfficeToday['late']; today: string }) {
  if (late.n === 0) return <>Nothing is late.</>
  const rest = late.n - Math.min(NAMED, late.rows.length)
  return (
    <>
      <Over>{late.n} late</Over>
      <ul className="late-cranks">
        {late.rows.slice(0, NAMED).map((row) => (
          <li key={row.id}>
            <span className="tag">
              <Link to={`/jobs/${row.id}`}>{row.tag}</Link>
            </span>
            <span>
              {row.reasons.join('; ')}{' '}
              <small>
                · promised {day(row.promisedOn, today)}, {counted(row.daysLate, 'day')} late{row.toldLate ? ', told' : ', not told yet'}
              </small>
            </span>
          </li>
        ))}
      </ul>
      {rest > 0 && <small>and {rest} more</small>}
    </>
  )
}

function Waiting({ waiting }: { waiting: OfficeToday['waiting'] }) {
  return (
    <>
      {waitingWords(waiting)}
      {waiting.of.length > 1 && (
        <small>
          {waiting.of.map((one) => (
            <span key={one.what}>
              {' '}
              <Link to={cranksHref(one.cranks)}>{WAIT_LINKS[one.what]}</Link>
            </span>
          ))}
        </small>
      )}
    </>
  )
}

const WAIT_LINKS = { kit: 'those for a kit', yes: 'those for a yes', outside: 'those for somebody outside' } as const

function Instruments({ instruments }: { instruments: OfficeToday['instruments'] }) {
  if (instruments.rows.length === 0) return <>No instrument is due for its check within a week.</>
  return (
    <>
      {instruments.rows.map((one) => (
        <span key={one.id}>{one.overdue ? <Over>{one.says}</Over> : one.says}. </span>
      ))}
      <Link to="/bench/instruments">see to it</Link>
    </>
  )
}
