import type { FieldValues, UseFormReturn } from 'react-hook-form'
import type { HeardForm } from '#web/features/comebacks/heard-form.ts'
import { HOW_KNOWN } from '#web/features/comebacks/words.ts'
import { day } from '#web/lib/format.ts'
import { AreaField, DateField, TextField } from '#web/ui/field.tsx'
import { Pick } from '#web/ui/pick.tsx'

type HowKnown = HeardForm['hoursHow']
const HOWS = Object.keys(HOW_KNOWN) as HowKnown[]
const CHANGED = { shouldDirty: true } as const

export interface HeardFieldsProps {
  form: UseFormReturn<HeardForm>
  today: string
  /** What is asked: `What they say is wrong`. */
  saysLabel: string
  saysMost: number
}

/** Day, hours and their words, the same wherever something is heard of a crank that went home. */
export function HeardFields({ form, today, saysLabel, saysMost }: HeardFieldsProps) {
  const { errors } = form.formState as { errors: FieldValues }
  const values = form.watch()
  const typeHours = (typed: string) => {
    form.setValue('hours', typed, CHANGED)
    if (typed.trim() !== '' && values.hoursHow === 'unknown') form.setValue('hoursHow', 'declared', CHANGED)
  }
  return (
    <>
      <DateField
        label="Day"
        max={today}
        readBack={/^\d{4}-\d{2}-\d{2}$/.test(values.day) ? day(values.day, today) : undefined}
        error={errors.day?.message}
        {...form.register('day')}
      />
      <TextField
        label="Hours since it went home"
        unit="h"
        name="hours"
        inputMode="decimal"
        autoComplete="off"
        value={values.hours}
        error={errors.hours?.message}
        onChange={(event) => typeHours(event.target.value)}
      />
      <Pick
        label="Those hours are"
        name="hoursHow"
        options={HOWS.map((value) => ({ value, label: HOW_KNOWN[value] }))}
        value={values.hoursHow}
        error={errors.hoursHow?.message}
        onChange={(how) => form.setValue('hoursHow', how, CHANGED)}
      />
      <AreaField
        label={saysLabel}
        hint="The bench reads it too: no names."
        rows={2}
        maxLength={saysMost}
        error={errors.says?.message}
        {...form.register('says')}
      />
    </>
  )
}
