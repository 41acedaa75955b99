import { HOURS_HOW } from '#contract/jobs.ts'
import { WHY_NOW } from '#core/steps.ts'
import { type BookingPartProps, type BookingSlots, CHANGED } from '#web/features/jobs/booking-parts.ts'
import { ChosenCrank, CranksByNumber, CranksOfCustomer } from '#web/features/jobs/crank-known.tsx'
import { HOURS_HOW_WORDS, WHY_WORDS } from '#web/features/jobs/words.ts'
import { TextField } from '#web/ui/field.tsx'
import { QuantityField } from '#web/ui/measure-field.tsx'
import { Pick, PickMany } from '#web/ui/pick.tsx'

/** The crank itself: engine, number, hours and what was done to it before, in the order of the phone call. */
export function BookingCrank({ form, values, engine }: BookingPartProps & { engine: BookingSlots['engine'] }) {
  const { errors } = form.formState
  return (
    <>
      {values.crank.id === '' ? (
        <>
          <CranksOfCustomer form={form} values={values} />
          {engine({
            id: values.crank.engineId,
            typed: values.engineTyped,
            error: errors.crank?.engineId?.message,
            onTyped: (typed) => {
              form.setValue('engineTyped', typed, CHANGED)
              if (values.crank.engineId !== '') form.setValue('crank.engineId', '', CHANGED)
            },
            onPick: (id, name) => {
              form.setValue('crank.engineId', id, CHANGED)
              form.setValue('engineTyped', name, CHANGED)
              form.clearErrors('crank.engineId')
            },
          })}
        </>
      ) : (
        <ChosenCrank form={form} values={values} />
      )}
      <div className="fields">
        {values.crank.id === '' && (
          <TextField
            label="Engine or crank number"
            autoComplete="off"
            autoCapitalize="characters"
            spellCheck={false}
            maxLength={60}
            error={errors.crank?.engineNumber?.message}
            {...form.register('crank.engineNumber')}
          />
        )}
        <QuantityField
          label="Hours on this crank"
          unit="h"
          name="hours"
          value={values.hours}
          error={errors.hours?.message}
          onChange={(typed) => {
            form.setValue('hours', typed, CHANGED)
            if (typed.trim() !== '' && values.hoursHow === 'unknown') form.setValue('hoursHow', 'declared', CHANGED)
          }}
        />
      </div>
      <Pick
        label="Those hours are"
        name="hoursHow"
        options={HOURS_HOW.map((value) => ({ value, label: HOURS_HOW_WORDS[value] }))}
        value={values.hoursHow}
        error={errors.hoursHow?.message}
        onChange={(value) => {
          form.setValue('hoursHow', value, CHANGED)
          form.clearErrors('hoursHow')
        }}
      />
      {values.crank.id === '' && <CranksByNumber form={form} values={values} />}
      <TextField
        label="Rebuilt before? By whom, which kit, welded?"
        maxLength={400}
        error={errors.earlierRebuild?.message}
        {...form.register('earlierRebuild')}
      />
      {values.crank.id === '' && (
        <div className="fields">
          <TextField
            label="Pressed how often before (once, by the maker)"
            inputMode="numeric"
            error={errors.crank?.pressedBefore?.message}
            {...form.register('crank.pressedBefore')}
          />
          <PickMany
            label="The pin"
            options={[{ value: 'welded', label: 'is welded' }]}
            value={values.crank.welded ? ['welded'] : []}
            onChange={(now) => form.setValue('crank.welded', now.includes('welded'), CHANGED)}
          />
        </div>
      )}
      <Pick
        label="Why now"
        name="whyNow"
        options={WHY_NOW.map((value) => ({ value, label: WHY_WORDS[value] }))}
        value={values.whyNow}
        onChange={(value) => form.setValue('whyNow', value, CHANGED)}
      />
      <div className="fields">
        <TextField
          label="Use: enduro, road, kart, a race day"
          maxLength={200}
          error={errors.usedFor?.message}
          {...form.register('usedFor')}
        />
        <TextField label="Who fits it" maxLength={200} error={errors.whoFits?.message} {...form.register('whoFits')} />
        <TextField label="Fuel and oil, how often changed" maxLength={200} error={errors.oil?.message} {...form.register('oil')} />
      </div>
    </>
  )
}
