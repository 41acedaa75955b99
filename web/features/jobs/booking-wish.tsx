import { JOB_KINDS } from '#core/steps.ts'
import { type BookingPartProps, CHANGED } from '#web/features/jobs/booking-parts.ts'
import { BY_WORDS, KIND_WORDS, KIT_FROM_WORDS } from '#web/features/jobs/words.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { DateField } from '#web/ui/field.tsx'
import { Pick } from '#web/ui/pick.tsx'

/** What they want, by when, with whose kit, and how it comes and goes. */
export function BookingWish({ form, values }: BookingPartProps) {
  const { zone } = useHere()
  const today = dateIn(zone, Date.now())
  const { errors } = form.formState
  const said = (date: string) => (/^\d{4}-\d{2}-\d{2}$/.test(date) ? day(date, today) : '\u00a0')
  return (
    <>
      <Pick
        label="What they want"
        name="kind"
        options={JOB_KINDS.map((value) => ({ value, label: KIND_WORDS[value] }))}
        value={values.kind}
        onChange={(value) => form.setValue('kind', value, CHANGED)}
      />
      <div className="fields">
        <DateField
          label="They want it by"
          readBack={said(values.wantedOn)}
          error={errors.wantedOn?.message}
          {...form.register('wantedOn')}
        />
        <DateField
          label="We promise"
          readBack={said(values.promisedOn)}
          error={errors.promisedOn?.message}
          {...form.register('promisedOn')}
        />
      </div>
      <Pick
        label="Kit"
        name="kitFrom"
        options={(['ours', 'theirs', 'none'] as const).map((value) => ({ value, label: KIT_FROM_WORDS[value] }))}
        value={values.kitFrom}
        onChange={(value) => form.setValue('kitFrom', value, CHANGED)}
      />
      <div className="fields">
        <Pick
          label="It came"
          name="cameBy"
          options={(['counter', 'carrier'] as const).map((value) => ({ value, label: BY_WORDS[value] }))}
          value={values.cameBy}
          onChange={(value) => form.setValue('cameBy', value, CHANGED)}
        />
        <Pick
          label="It goes back"
          name="goesBy"
          options={[
            { value: 'counter', label: 'fetched here' },
            { value: 'carrier', label: 'by carrier' },
          ]}
          value={values.goesBy}
          onChange={(value) => form.setValue('goesBy', value, CHANGED)}
        />
      </div>
    </>
  )
}
