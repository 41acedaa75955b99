import '#web/features/instruments/instruments.css'
import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import type { Instrument } from '#contract/instruments.ts'
import { ChangeInstrument } from '#web/features/instruments/change-instrument.tsx'
import { DoubtLine } from '#web/features/instruments/doubt-line.tsx'
import { instrumentsQuery } from '#web/features/instruments/queries.ts'
import { isDueSoon, KIND_WORDS, shortMm, stepWords } from '#web/features/instruments/words.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { Fold } from '#web/ui/fold.tsx'
import { later } from '#web/ui/later.tsx'
import { Over } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

const AddInstrument = later('form', async () => (await import('#web/features/instruments/add-instrument.tsx')).AddInstrument)

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
    <div className="register">
      {used.length === 0 ? (
        <p className="soft">No instrument is in the book yet. Add the dials and micrometers that the bench reads with.</p>
      ) : (
        <Rows instruments={used} today={today} name="Instruments in use" />
      )}
      <Fold open="Add an instrument">{(shut) => <AddInstrument today={today} onShut={shut} />}</Fold>
      {ended.length > 0 && (
        <details className="details-line">
          <summary>Used no more: {ended.length}</summary>
          <Rows instruments={ended} today={today} name="Instruments used no more" />
        </details>
      )}
    </div>
  )
}

function Rows({ instruments, today, name }: { instruments: readonly Instrument[]; today: string; name: string }) {
  const { zone } = useHere()
  return (
    <ul className="register-rows" aria-label={name}>
      {instruments.map((one) => (
        <li key={one.id}>
          <span>
            <Link className="stand-alone" to={`/bench/instruments/${one.id}`}>
              <b>{one.name}</b>
            </Link>{' '}
            {saysKind(one) ? null : <small>{KIND_WORDS[one.kind]}</small>}
          </span>
          <span>{one.doubt === undefined ? <Due one={one} today={today} /> : <DoubtLine one={one} zone={zone} now={Date.now()} />}</span>
          <small>
            {stepWords(one)}
            {dialWords(one)} · {one.checkedOn === undefined ? 'no check written down' : `checked ${day(one.checkedOn, today)}`}
            {one.note === undefined ? '' : ` · ${one.note}`}
          </small>
          <ChangeInstrument key={one.version} one={one} today={today} />
        </li>
      ))}
    </ul>
  )
}

/** A name such as “Micrometer 2” already says what it is. */
function saysKind({ name, kind }: Instrument): boolean {
  return name.toLowerCase().includes(KIND_WORDS[kind])
}

function Due({ one, today }: { one: Instrument; today: string }) {
  if (one.ended) return <>used no more</>
  if (one.dueOn === undefined) return <>no day set</>
  return one.overdue ? (
    <Over>overdue since {day(one.dueOn, today)}</Over>
  ) : (
    <>
      due {isDueSoon(one, today) && 'soon, '}
      {day(one.dueOn, today)}
    </>
  )
}

/** What the register says of a dial's own faults. */
function dialWords({ errorMm, retraceMm, repeatMm }: Instrument): string {
  return [
    errorMm === undefined ? '' : ` · error ${shortMm(errorMm)}`,
    retraceMm === undefined ? '' : ` · retrace ${shortMm(retraceMm)}`,
    repeatMm === undefined ? '' : ` · repeat ${shortMm(repeatMm)}`,
  ].join('')
}
