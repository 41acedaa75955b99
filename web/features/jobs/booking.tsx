import '#web/features/jobs/booking.css'
import '#web/features/jobs/photos.css'
import { useQuery } from '@tanstack/react-query'
import { useEffect, useState } from 'react'
import { useForm } from 'react-hook-form'
import type { Job } from '#contract/jobs.ts'
import { BookingCame } from '#web/features/jobs/booking-came.tsx'
import { BookingCrank } from '#web/features/jobs/booking-crank.tsx'
import {
  BOOKING_NAMES,
  type BookingForm,
  bookingForm,
  EMPTY_BOOKING,
  isBlank,
  readBooking,
  readBookingForm,
} from '#web/features/jobs/booking-form.ts'
import { type BookingSlots, focusField } from '#web/features/jobs/booking-parts.ts'
import { BookingSummary } from '#web/features/jobs/booking-summary.tsx'
import { BookingWhose } from '#web/features/jobs/booking-whose.tsx'
import { BookingWish } from '#web/features/jobs/booking-wish.tsx'
import { faultsOf } from '#web/features/jobs/form-faults.ts'
import { BOOKING_PHOTOS, forgetPhotos, handOnPhotos } from '#web/features/jobs/photo-queue.ts'
import { bookingDrafts, keptBookingQuery, useBookIn } from '#web/features/jobs/queries.ts'
import { type DraftState, type DraftStore, useDraft } from '#web/lib/draft.ts'
import { useHere } from '#web/lib/here.ts'
import { newId } from '#web/lib/id.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { Button } from '#web/ui/button.tsx'
import { Form } from '#web/ui/form.tsx'
import { NoticeLine, ProblemSummary } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

export interface BookingProps extends BookingSlots {
  onTagged(job: Job): void
  onLeave(): void
}

/**
 * Booking one in. Nothing but a name, a way to reach them and the engine is asked for; the rest can follow on the job's
 * page. What is typed lies in the book within half a second, so that a phone call, a reload or a sign-out loses nothing.
 */
export function Booking(props: BookingProps) {
  const kept = useQuery(keptBookingQuery)
  // An empty form in place of a draft that could not be fetched would be kept over it.
  if (kept.isError) return <Failed what="Your draft" error={kept.error} onAgain={() => void kept.refetch()} />
  if (kept.data === undefined || kept.isFetching) return <Loading what="your draft" />
  return <BookingWithDraft {...props} kept={kept.data.draft} />
}

function BookingWithDraft({ kept, ...props }: BookingProps & { kept: unknown }) {
  const [store] = useState<DraftStore>(() => ({ ...bookingDrafts, load: async () => kept }))
  const draft = useDraft('booking', readBookingForm, store)
  if (draft.state === 'reading') return <Loading what="your draft" />
  return <BookingSheet {...props} draft={draft} />
}

interface SheetProps extends BookingProps {
  draft: { found: BookingForm | undefined; state: DraftState; keep(form: BookingForm): void; clear(): Promise<void> }
}

function BookingSheet({ customer, engine, onTagged, onLeave, draft }: SheetProps) {
  const here = useHere()
  const [start] = useState(() => draft.found ?? { ...EMPTY_BOOKING, id: newId() })
  const form = useForm<BookingForm>({ defaultValues: start })
  const booking = useBookIn()
  const [attempt, setAttempt] = useState(0)
  const values = form.watch()

  const { keep } = draft
  useEffect(() => {
    const { unsubscribe } = form.watch((now) => keep(bookingForm.parse(now)))
    return unsubscribe
  }, [form, keep])

  useEffect(() => focusField('customer.name'), [])

  const send = () => {
    if (booking.isPending) return
    setAttempt((now) => now + 1)
    form.clearErrors()
    const read = readBooking(form.getValues(), here.currency)
    if (!read.ok) {
      for (const [name, message] of Object.entries(read.faults)) form.setError(name as 'customer.name', { type: 'typed', message })
      return
    }
    booking.mutate(read.booking, {
      onSuccess: (job) => {
        handOnPhotos(BOOKING_PHOTOS, job.id)
        void draft.clear()
        onTagged(job)
      },
      onError: (error) => putOnForm(error, BOOKING_NAMES, form.setError),
    })
  }

  const throwAway = () => {
    forgetPhotos(BOOKING_PHOTOS)
    form.reset({ ...EMPTY_BOOKING, id: newId() })
    void draft.clear()
    focusField('customer.name')
  }

  const faults = faultsOf(form.formState.errors)
  const atTheHead = form.formState.errors.root?.message
  return (
    <Form enter="next" onSend={send} aria-label="Book one in">
      {(faults.length > 0 || atTheHead !== undefined) && (
        <ProblemSummary title="It is not tagged yet." faults={faults} attempt={attempt}>
          {atTheHead !== undefined && <p>{atTheHead}</p>}
        </ProblemSummary>
      )}
      <div className="booking">
        <section aria-label="Whose and what">
          <BookingWhose form={form} values={values} customer={customer} />
          <BookingCrank form={form} values={values} engine={engine} />
        </section>
        <section aria-label="What they want, and as it lies here">
          <BookingWish form={form} values={values} />
          <BookingCame form={form} values={values} />
        </section>
        <aside className="booking-tag" aria-label="What the tag will say">
          <BookingSummary values={values} />
          <div className="booking-go">
            <Button type="submit" kind="go" wide busy={booking.isPending}>
              Tag it
            </Button>
            <Button wide onClick={onLeave}>
              Keep as draft
            </Button>
            {!isBlank(values) && (
              <button type="button" className="plain" onClick={throwAway}>
                Throw the draft away
              </button>
            )}
          </div>
          <NoticeLine>{draftWords(draft.state)}</NoticeLine>
          <small>Ctrl+Enter tags it. Enter goes to the next field. Label and receipt print from the next page.</small>
        </aside>
      </div>
    </Form>
  )
}

function draftWords(state: DraftState): string {
  if (state === 'kept') return 'Draft kept in the book.'
  if (state === 'typing') return 'Keeping the draft…'
  if (state === 'not-kept') return 'The draft could not be kept: the book did not answer. Do not leave this page yet.'
  return ''
}
