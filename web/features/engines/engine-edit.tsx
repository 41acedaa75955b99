import { useQueryClient } from '@tanstack/react-query'
import { useForm } from 'react-hook-form'
import type { Engine } from '#contract/engines.ts'
import { type EngineHead, HEAD_LABELS, headChangeOf, headFaults, headOf } from '#web/features/engines/engine-form.ts'
import { EngineHeadFields } from '#web/features/engines/engine-head-fields.tsx'
import { engineQuery, useEngineChange, useEngineCopy } from '#web/features/engines/queries.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { useChangeForm } from '#web/lib/use-change-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { ChangeProblems } from '#web/ui/form-problems.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

/** Changes the head of a sheet; a figure is corrected by itself, since it carries its own source. */
export function EngineEdit({ sheet, onShut }: { sheet: Engine; onShut(): void }) {
  const client = useQueryClient()
  const writing = useEngineChange(sheet.id)
  const change = useChangeForm<EngineHead>({
    version: sheet.version,
    values: headOf(sheet),
    names: Object.keys(HEAD_LABELS),
    readNow: async () => {
      const now = await client.fetchQuery({ ...engineQuery(sheet.id), staleTime: 0 })
      return { version: now.version, values: headOf(now) }
    },
  })
  const { form, seen } = change
  const send = () => {
    if (writing.isPending) return
    change.begin()
    const faults = headFaults(form.getValues())
    if (Object.keys(faults).length > 0) return change.mend(faults)
    const wanted = headChangeOf(seen.values, form.getValues())
    if (Object.keys(wanted).length === 0) return onShut()
    writing.mutate({ change: wanted, version: seen.version }, { onSuccess: onShut, onError: change.refused })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Change the sheet">
      <ChangeProblems change={change} what="this sheet" title="The sheet is not changed yet." labels={HEAD_LABELS} />
      <EngineHeadFields form={form} />
      <Buttons>
        <Button type="submit" busy={writing.isPending}>
          Write it so
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}

/** A new sheet with every figure of this one, for an engine that differs in a few. */
export function EngineCopy({ sheet, onMade, onShut }: { sheet: Engine; onMade(id: string): void; onShut(): void }) {
  const copying = useEngineCopy(sheet.id)
  const form = useForm<{ maker: string; code: string }>({ defaultValues: { maker: sheet.maker, code: '' } })
  const { errors } = form.formState
  const send = () => {
    if (copying.isPending) return
    form.clearErrors()
    const { maker, code } = form.getValues()
    if (maker.trim() === '') form.setError('maker', { message: 'The maker, or “not known”.' })
    if (code.trim() === '') form.setError('code', { message: 'The code, or what stands on the case.' })
    if (maker.trim() === '' || code.trim() === '') return
    copying.mutate(
      { maker: maker.trim(), code: code.trim() },
      { onSuccess: (made) => onMade(made.id), onError: (error) => putOnForm(error, ['maker', 'code'], form.setError) },
    )
  }
  return (
    <Form enter="next" onSend={send} aria-label="Copy the sheet">
      {errors.root !== undefined && (
        <ProblemSummary title="The sheet is not copied.">
          <p>{errors.root.message}</p>
        </ProblemSummary>
      )}
      <div className="fields">
        <TextField label="Maker of the new sheet" maxLength={80} error={errors.maker?.message} {...form.register('maker')} />
        <TextField label="Model code of the new sheet" maxLength={80} error={errors.code?.message} {...form.register('code')} />
      </div>
      <Buttons>
        <Button type="submit" busy={copying.isPending}>
          Copy it
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
