import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import type { z } from 'zod'
import type { crankHit } from '#contract/cranks.ts'
import { doneWord, isEnd } from '#core/steps.ts'
import { type BookingPartProps, CHANGED, focusField } from '#web/features/jobs/booking-parts.ts'
import { cranksQuery } from '#web/features/jobs/queries.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { type Here, useHere } from '#web/lib/here.ts'
import { useSettled } from '#web/lib/use-settled.ts'
import { Button } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Known } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

type Hit = z.infer<typeof crankHit>
type EarlierJob = Hit['jobs'][number]

const LEAST_LETTERS = 3
const REST_MS = 250

/** The cranks that a known customer had here, to be taken with one press. */
export function CranksOfCustomer({ form, values }: BookingPartProps) {
  const { id } = values.customer
  const cranks = useQuery(cranksQuery(id === '' ? {} : { customerId: id }))
  if (id === '') return null
  return <Hits title="Their cranks that were here:" hits={cranks.data ?? []} form={form} values={values} />
}

/** Whether a crank of this number was here, looked up while it is typed. */
export function CranksByNumber({ form, values }: BookingPartProps) {
  const number = useSettled(values.crank.engineNumber.trim(), REST_MS)
  const isEnough = number.length >= LEAST_LETTERS
  const cranks = useQuery(cranksQuery(isEnough ? { number } : {}))
  if (!isEnough) return null
  // Those of the known customer stand above already.
  const others = (cranks.data ?? []).filter((hit) => values.customer.id === '' || hit.customerId !== values.customer.id)
  return <Hits title="Found by number:" hits={others} form={form} values={values} />
}

function Hits({ title, hits, form, values }: BookingPartProps & { title: string; hits: readonly Hit[] }) {
  if (hits.length === 0) return null
  const take = (hit: Hit) => {
    form.setValue('crank.id', hit.id, CHANGED)
    form.setValue('crank.engineId', hit.engineId, CHANGED)
    form.setValue('crank.engineNumber', hit.engineNumber ?? '', CHANGED)
    form.setValue('engineTyped', hit.engine, CHANGED)
    form.clearErrors('crank')
    focusField('hours')
    if (values.earlierRebuild.trim() === '') form.setValue('earlierRebuild', rebuiltWords(hit), CHANGED)
    if (values.customer.id !== '' || values.customer.name.trim() !== '') return
    form.setValue('customer.id', hit.customerId, CHANGED)
    form.setValue('customer.name', hit.whose, CHANGED)
    form.clearErrors('customer')
  }
  return (
    <Known>
      <p>{title}</p>
      <ul className="crank-hits">
        {hits.map((hit) => (
          <li key={hit.id}>
            <HitLine hit={hit} />
            <TakeHit hit={hit} onTake={() => take(hit)} />
          </li>
        ))}
      </ul>
    </Known>
  )
}

/** A crank that is in the house cannot be booked in again; its job is a press away instead. */
function TakeHit({ hit, onTake }: { hit: Hit; onTake(): void }) {
  const here = hit.jobs.find((job) => !isEnd(job.state) && job.state !== 'gone')
  if (here !== undefined) {
    return (
      <Link className="quiet" to={`/jobs/${here.id}`}>
        In the house, as {here.tag}
      </Link>
    )
  }
  return (
    <Button onClick={onTake} aria-label={`It is this one: ${hit.engine} ${hit.engineNumber ?? ''}`}>
      It is this one
    </Button>
  )
}

function jobWords(job: EarlierJob, here: Here): string {
  const kit = job.kit === undefined ? '' : `, ${job.kit}`
  const sheet = job.certificate === undefined ? '' : `, certificate ${job.certificate}`
  const booked = day(dateIn(here.zone, job.bookedAt), dateIn(here.zone, Date.now()))
  return `${job.tag}, ${booked}${kit}${sheet}${isEnd(job.state) ? `, ${doneWord(job.state)}` : ''}`
}

function HitLine({ hit }: { hit: Hit }) {
  const here = useHere()
  return (
    <span>
      <b>
        {hit.engine} {hit.engineNumber}
      </b>{' '}
      · {hit.whose}
      {hit.welded && ' · pin welded'}
      {hit.jobs.map((job) => (
        <small key={job.id}>
          <br />
          {jobWords(job, here)}
        </small>
      ))}
    </span>
  )
}

/** `by us, 187-L, Ardenlow K1, lot A-2417, not welded` */
function rebuiltWords(hit: Hit): string {
  const last = hit.jobs[0]
  if (last === undefined) return hit.welded ? 'pin welded' : ''
  return ['by us', last.tag, last.kit, hit.welded ? 'welded' : 'not welded'].filter((one) => one !== undefined).join(', ')
}

/** The crank as the book knows it, and whether it comes back with something wrong. */
export function ChosenCrank({ form, values }: BookingPartProps) {
  const ofCustomer = useQuery(cranksQuery({ customerId: values.customer.id }))
  const byNumber = useQuery(cranksQuery({ number: values.crank.engineNumber.trim() }))
  const hit = [...(ofCustomer.data ?? []), ...(byNumber.data ?? [])].find((one) => one.id === values.crank.id)
  const gone = (hit?.jobs ?? []).filter((job) => job.state === 'gone')
  const { errors } = form.formState
  const forget = () => {
    form.setValue('crank.id', '', CHANGED)
    form.setValue('comebackOf', '', CHANGED)
  }
  return (
    <>
      <Known>
        <p>
          {hit === undefined ? (
            <b>
              {values.engineTyped} {values.crank.engineNumber}
            </b>
          ) : (
            <HitLine hit={hit} />
          )}
        </p>
        {hit !== undefined && values.customer.id !== hit.customerId && <p>It was {hit.whose}’s; booking it in makes it theirs.</p>}
        <button type="button" className="plain" onClick={forget}>
          It is another crank
        </button>
      </Known>
      {gone.length > 0 && (
        <Pick
          label="Does it come back with something wrong?"
          name="comebackOf"
          hint="Within 12 months or its promised hours it is a comeback, whoever is to blame; that is decided after looking."
          options={[{ value: '', label: 'no' }, ...gone.map((job) => ({ value: job.id, label: `yes, after ${job.tag}` }))]}
          value={values.comebackOf}
          error={errors.comebackOf?.message}
          onChange={(value) => form.setValue('comebackOf', value, CHANGED)}
        />
      )}
      {gone.length > 0 && values.comebackOf !== '' && (
        <TextField label="What they say is wrong" maxLength={400} error={errors.comebackWhy?.message} {...form.register('comebackWhy')} />
      )}
    </>
  )
}
