import type { UseFormReturn } from 'react-hook-form'
import { type EngineHead, HEAD_LABELS } from '#web/features/engines/engine-form.ts'
import { CYCLE_WORDS } from '#web/features/engines/words.ts'
import { AreaField, TextField } from '#web/ui/field.tsx'
import { Pick } from '#web/ui/pick.tsx'

/** Maker, code, cycle, what lies under each dial, and what surprised us. */
export function EngineHeadFields({ form }: { form: UseFormReturn<EngineHead> }) {
  const { errors } = form.formState
  const cycle = form.watch('cycle')
  const label = (name: string) => HEAD_LABELS[name] ?? name
  return (
    <>
      <div className="fields">
        <TextField label={label('maker')} maxLength={80} error={errors.maker?.message} {...form.register('maker')} />
        <TextField label={label('code')} maxLength={80} error={errors.code?.message} {...form.register('code')} />
      </div>
      <Pick
        label={label('cycle')}
        name="cycle"
        options={(['2T', '4T'] as const).map((value) => ({ value, label: CYCLE_WORDS[value] }))}
        value={cycle === '2T' || cycle === '4T' ? cycle : undefined}
        error={errors.cycle?.message}
        onChange={(value) => form.setValue('cycle', value, { shouldDirty: true })}
      />
      <div className="fields">
        <TextField
          label={label('surfaceLeft')}
          hint="taper 1:5 + keyway; say what misleads: thread, spline, keyway"
          maxLength={80}
          error={errors.surfaceLeft?.message}
          {...form.register('surfaceLeft')}
        />
        <TextField
          label={label('surfaceRight')}
          hint="plain 20 mm, thread beyond 60"
          maxLength={80}
          error={errors.surfaceRight?.message}
          {...form.register('surfaceRight')}
        />
      </div>
      <AreaField label={label('note')} rows={2} maxLength={1000} error={errors.note?.message} {...form.register('note')} />
    </>
  )
}
