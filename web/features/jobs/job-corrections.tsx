import { useQueryClient } from '@tanstack/react-query'
import { HOURS_HOW, type Job, YES_HOW } from '#contract/jobs.ts'
import { WHY_NOW } from '#core/steps.ts'
import { CORRECTION_LABELS, type CorrectionName, type Corrections, changeOf, correctionsOf } from '#web/features/jobs/corrections-form.ts'
import { jobQuery, useJobChange } from '#web/features/jobs/queries.ts'
import { HOURS_HOW_WORDS, KIT_FROM_WORDS, WHY_WORDS } from '#web/features/jobs/words.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { useChangeForm } from '#web/lib/use-change-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField, DateField, SelectField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { ChangeProblems } from '#web/ui/form-problems.tsx'

const label = (name: CorrectionName) => CORRECTION_LABELS[name] ?? name

/**
 * Corrects what was booked. Should somebody have changed it meanwhile, what they wrote comes into the form where nothing
 * was typed, and stands beside what was typed where both changed the same fact.
 */
export function JobCorrections({ job, onShut }: { job: Job; onShut(): void }) {
  const here = useHere()
  const client = useQueryClient()
  const writing = useJobChange(job.id)
  const change = useChangeForm<Corrections>({
    version: job.version,
    values: correctionsOf(job),
    names: Object.keys(CORRECTION_LABELS),
    readNow: async () => {
      const now = await client.fetchQuery({ ...jobQuery(job.id), staleTime: 0 })
      return { version: now.version, values: correctionsOf(now) }
    },
  })
  const { form, seen } = change
  const { errors } = form.formState
  const today = dateIn(here.zone, Date.now())
  const said = (date: string | undefined) => (date !== undefined && /^\d{4}-\d{2}-\d{2}$/.test(date) ? day(date, today) : '\u00a0')

  const send = () => {
    if (writing.isPending) return
    change.begin()
    const read = changeOf(seen.values, form.getValues())
    if (!read.ok) return change.mend({ [read.name]: read.text })
    if (Object.keys(read.change).length === 0) return onShut()
    writing.mutate({ change: read.change, version: seen.version }, { onSuccess: onShut, onError: change.refused })
  }

  const chosen = (name: CorrectionName) => ({
    name,
    value: form.watch(name) ?? '',
    onChange: (event: { target: { value: string } }) => form.setValue(name, event.target.value, { shouldDirty: true }),
  })
  const text = (name: CorrectionName, most: number) => (
    <TextField label={label(name)} maxLength={most} error={errors[name]?.message} {...form.register(name)} />
  )
  return (
    <Form enter="next" onSend={send} aria-label="Correct what was booked">
      <ChangeProblems change={change} what="what was booked" title="It is not corrected yet." labels={CORRECTION_LABELS} />
      <div className="fields">
        <DateField
          label={label('wantedOn')}
          readBack={said(form.watch('wantedOn'))}
          error={errors.wantedOn?.message}
          {...form.register('wantedOn')}
        />
        <DateField
          label={label('promisedOn')}
          readBack={said(form.watch('promisedOn'))}
          error={errors.promisedOn?.message}
          {...form.register('promisedOn')}
        />
        <SelectField label={label('whyNow')} choices={WHY_NOW.map((value) => ({ value, label: WHY_WORDS[value] }))} {...chosen('whyNow')} />
        <TextField label={label('hours')} unit="h" inputMode="decimal" error={errors.hours?.message} {...form.register('hours')} />
        <SelectField
          label={label('hoursHow')}
          choices={HOURS_HOW.map((value) => ({ value, label: HOURS_HOW_WORDS[value] }))}
          error={errors.hoursHow?.message}
          {...chosen('hoursHow')}
        />
        <SelectField
          label={label('kitFrom')}
          choices={(['ours', 'theirs', 'none'] as const).map((value) => ({ value, label: KIT_FROM_WORDS[value] }))}
          {...chosen('kitFrom')}
        />
        <SelectField
          label={label('goesBy')}
          choices={[
            { value: 'counter', label: 'fetched here' },
            { value: 'carrier', label: 'by carrier' },
          ]}
          {...chosen('goesBy')}
        />
        <SelectField
          label={label('oldPartsBack')}
          choices={[
            { value: 'no', label: 'no' },
            { value: 'yes', label: 'yes' },
          ]}
          {...chosen('oldPartsBack')}
        />
        {text('usedFor', 200)}
        {text('oil', 200)}
        {text('whoFits', 200)}
        {text('feeYesBy', 200)}
        <SelectField
          label={label('feeYesHow')}
          nothing="no yes yet"
          choices={YES_HOW.map((value) => ({ value, label: value }))}
          {...chosen('feeYesHow')}
        />
      </div>
      {text('earlierRebuild', 400)}
      <TextField
        label={label('cameWith')}
        hint="with commas between; a number before what came more than once, as 2 keys"
        error={errors.cameWith?.message}
        {...form.register('cameWith')}
      />
      <TextField label={label('condition')} hint="with commas between" error={errors.condition?.message} {...form.register('condition')} />
      <AreaField label={label('conditionNote')} rows={2} maxLength={1000} {...form.register('conditionNote')} />
      <AreaField label={`${label('also')}, for the certificate`} rows={2} maxLength={400} {...form.register('also')} />
      <AreaField label={`${label('notDone')}, for the certificate`} rows={2} maxLength={400} {...form.register('notDone')} />
      <Buttons>
        <Button type="submit" busy={writing.isPending}>
          Write it so
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
