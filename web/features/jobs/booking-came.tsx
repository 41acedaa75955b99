import { CAME_WITH, CONDITIONS, YES_HOW } from '#contract/jobs.ts'
import { COUNTED } from '#web/features/jobs/booking-form.ts'
import { type BookingPartProps, CHANGED } from '#web/features/jobs/booking-parts.ts'
import { PhotoAdd } from '#web/features/jobs/photo-add.tsx'
import { BOOKING_PHOTOS } from '#web/features/jobs/photo-queue.ts'
import { money } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { readMoney } from '#web/lib/quantity.ts'
import { AreaField, SelectField, TextField } from '#web/ui/field.tsx'
import { QuantityField } from '#web/ui/measure-field.tsx'
import { Over } from '#web/ui/notice.tsx'
import { PickMany } from '#web/ui/pick.tsx'

const HOW_PAID = ['cash', 'card', 'transfer'] as const

/** What came with it, how it lies here, its photos, and the money taken now. */
export function BookingCame({ form, values }: BookingPartProps) {
  const here = useHere()
  const { errors } = form.formState
  const counted = COUNTED.filter((what) => values.cameWith.includes(what))
  const chip = (what: string) => {
    const count = values.counts[what]?.trim() ?? ''
    return count === '' ? what : `${what}: ${count}`
  }
  return (
    <>
      <PickMany
        label="What came with it"
        name="cameWith"
        options={CAME_WITH.map((value) => ({ value, label: chip(value) }))}
        value={values.cameWith}
        error={errors.cameWith?.message}
        onChange={(now) => form.setValue('cameWith', now, CHANGED)}
      />
      {counted.length > 0 && (
        <div className="fields">
          {counted.map((what) => (
            <TextField
              key={what}
              label={`How many ${what}`}
              inputMode="numeric"
              autoComplete="off"
              error={errors.counts?.[what]?.message}
              {...form.register(`counts.${what}`)}
            />
          ))}
        </div>
      )}
      <div className="fields">
        <TextField
          label="Anything else that came"
          hint="with commas between"
          maxLength={400}
          error={errors.cameElse?.message}
          {...form.register('cameElse')}
        />
        <PickMany
          label="Old parts"
          options={[{ value: 'back', label: 'they want the old parts back' }]}
          value={values.oldPartsBack ? ['back'] : []}
          onChange={(now) => form.setValue('oldPartsBack', now.includes('back'), CHANGED)}
        />
      </div>
      <PickMany
        label="As it lies here"
        name="condition"
        options={CONDITIONS.map((value) => ({ value, label: value }))}
        value={values.condition}
        error={errors.condition?.message}
        onChange={(now) => form.setValue('condition', now, CHANGED)}
      />
      {values.condition.includes('box holed') && (
        <p>
          <Over>box damage: tell the carrier today</Over>
        </p>
      )}
      <AreaField
        label="Damage in words"
        rows={2}
        maxLength={1000}
        error={errors.conditionNote?.message}
        {...form.register('conditionNote')}
      />
      <p className="soft booking-photos">
        Photos: the parcel before and after opening, then six views. They go into the book once it has its tag.
      </p>
      <PhotoAdd place={BOOKING_PHOTOS} />
      <div className="fields booking-rest">
        <TextField label="Lies on rack, shelf, bench" maxLength={60} error={errors.place?.message} {...form.register('place')} />
        <QuantityField
          label="Deposit"
          unit={here.currency}
          name="depositMinor"
          value={values.depositMinor}
          read={(typed) => readMoney(typed, here.currency)}
          error={errors.depositMinor?.message}
          onChange={(typed) => form.setValue('depositMinor', typed, CHANGED)}
        />
        <SelectField
          label="Paid by"
          nothing="not said"
          choices={HOW_PAID.map((value) => ({ value, label: value }))}
          error={errors.depositHow?.message}
          name="depositHow"
          value={values.depositHow}
          onChange={(event) => form.setValue('depositHow', event.target.value, CHANGED)}
        />
      </div>
      <div className="fields">
        <TextField
          label={`Looking-over fee ${money(here.lookingOverFee, here.currency, true)}: yes by`}
          maxLength={200}
          error={errors.feeYesBy?.message}
          {...form.register('feeYesBy')}
        />
        <SelectField
          label="That yes came"
          nothing="no yes yet"
          choices={YES_HOW.map((value) => ({ value, label: value }))}
          error={errors.feeYesHow?.message}
          name="feeYesHow"
          value={values.feeYesHow}
          onChange={(event) => form.setValue('feeYesHow', YES_HOW.find((one) => one === event.target.value) ?? '', CHANGED)}
        />
      </div>
    </>
  )
}
