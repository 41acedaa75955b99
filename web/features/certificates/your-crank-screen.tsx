import '#web/features/certificates/certificates.css'
import type { ReactNode } from 'react'
import { Link } from 'react-router'
import type { YourCrank } from '#contract/certificates.ts'
import { ENDS, JOB_KINDS, type JobKind, type JobState, STEPS } from '#core/steps.ts'
import { crankPhotoAddress } from '#web/features/certificates/queries.ts'
import { longDay } from '#web/lib/format.ts'
import { JobShaft } from '#web/ui/job-shaft.tsx'

export interface YourCrankScreenProps {
  crank: YourCrank
  token: string
  /** Today, for days of another year. */
  today: string
}

/** Where somebody's crank is, in the words that the counter would say on the phone. */
export function YourCrankScreen({ crank, token, today }: YourCrankScreenProps) {
  const { promisedOn, found, money, photos, certificate } = crank
  return (
    <>
      <Shaft crank={crank} />
      {crank.waiting.map((sentence) => (
        <p key={sentence} className="crank-big">
          {sentence}
        </p>
      ))}
      {promisedOn !== undefined && (
        <p>
          Ready by <b>{longDay(promisedOn, today)}</b>. If that slips, you hear from us the same day.
        </p>
      )}
      {found.length > 0 && <Found sentences={found} />}
      {money.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {certificate !== undefined && (
        <p>
          Its certificate is No. {certificate.number}, check code {certificate.checkCode}.{' '}
          <Link to={`/check?number=${encodeURIComponent(certificate.number)}&code=${encodeURIComponent(certificate.checkCode)}`}>
            Look the sheet up
          </Link>
        </p>
      )}
      {photos.length > 0 && (
        <section aria-labelledby="photos">
          <h2 id="photos">Photos we took ({photos.length})</h2>
          <div className="crank-photos">
            {photos.map((photo, place) => (
              <figure key={photo.id}>
                <a href={crankPhotoAddress(token, photo.id)} target="_blank" rel="noreferrer">
                  <img
                    src={crankPhotoAddress(token, photo.id)}
                    alt={photo.caption === undefined || photo.caption === '' ? `Photo ${place + 1} of your crank` : photo.caption}
                    loading="lazy"
                  />
                </a>
                {photo.caption !== undefined && photo.caption !== '' && <figcaption>{photo.caption}</figcaption>}
              </figure>
            ))}
          </div>
        </section>
      )}
      <p className="soft">
        A question? Ring or write to us and name the tag, {crank.tag}. Anyone with this link can read this page. It shows no name and no
        address.
      </p>
    </>
  )
}

function Found({ sentences }: { sentences: readonly string[] }): ReactNode {
  return (
    <section className="crank-found" aria-label="What we found">
      <p>
        <b>What we found:</b>
      </p>
      {sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </section>
  )
}

const STATES: readonly JobState[] = [...STEPS, ...ENDS]

/** The strip of the crank; a step that this page does not know yet leaves it out, the sentence still says where it is. */
function Shaft({ crank }: { crank: YourCrank }) {
  const kind = JOB_KINDS.find((one): one is JobKind => one === crank.kind)
  const state = STATES.find((one) => one === crank.state)
  if (kind === undefined || state === undefined) return null
  return <JobShaft kind={kind} done={state} size="big" waiting={crank.waiting.length > 0 ? 'waiting' : undefined} />
}
