import { useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import { useForm } from 'react-hook-form'
import type { Engine } from '#contract/engines.ts'
import { type EngineHead, HEAD_LABELS, headChangeOf, headFaults, headOf } from '#web/features/engines/engine-form.ts'
import { EngineHeadFields } from '#web/features/engines/engine-head-fields.tsx'
import { engineQuery, useEngineChange, useEngineCopy } from '#web/features/engines/queries.ts'
import { Problem } from '#web/lib/problem.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { type EditClash, settleEdits } from '#web/lib/settle-edits.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Differences } from '#web/ui/differences.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

const NAMES = Object.keys(HEAD_LABELS)

function listed(errors: Record<string, { message?: string | undefined } | undefined>) {
  return NAMES.flatMap((name) => (errors[name]?.message === undefined ? [] : [{ name, text: errors[name].message }]))
}

/** Changes the head of a sheet; a figure is corrected by itself, since it carries its own source. */
export function EngineEdit({ sheet, onShut }: { sheet: Engine; onShut(): void }) {
  const client = useQueryClient()
  const change = useEngineChange(sheet.id)
  const [seen, setSeen] = useState(() => ({ version: sheet.version, values: headOf(sheet) }))
  const [clashes, setClashes] = useState<EditClash<string>[] | undefined>(undefined)
  const [attempt, setAttempt] = useState(0)
  const form = useForm<EngineHead>({ defaultValues: seen.values })

  const setBeside = async () => {
    const now = await client.fetchQuery({ ...engineQuery(sheet.id), staleTime: 0 })
    const theirs = headOf(now)
    const settled = settleEdits(seen.values, form.getValues(), theirs)
    for (const [name, value] of Object.entries(settled.values)) form.setValue(name, value)
    setSeen({ version: now.version, values: theirs })
    setClashes(settled.clashes)
  }

  const send = () => {
    if (change.isPending) return
    setAttempt(attempt + 1)
    form.clearErrors()
    const missing = Object.entries(headFaults(form.getValues()))
    for (const [name, message] of missing) form.setError(name, { type: 'typed', message })
    if (missing.length > 0) return
    const wanted = headChangeOf(seen.values, form.getValues())
    if (Object.keys(wanted).length === 0) {
      onShut()
      return
    }
    change.mutate(
      { change: wanted, version: seen.version },
      {
        onSuccess: onShut,
        onError: (error) => {
          if (error instanceof Problem && error.type === 'stale-version')
            void setBeside().catch((again: unknown) => putOnForm(again, [], form.setError))
          else putOnForm(error, NAMES, form.setError)
        },
      },
    )
  }

  const faults = listed(form.formState.errors)
  return (
    <Form enter="next" onSend={send} aria-label="Change the sheet">
      {clashes !== undefined && (
        <Differences
          what="this sheet"
          rows={clashes.map((one) => ({ ...one, label: HEAD_LABELS[one.name] ?? one.name }))}
          onTheirs={(name) => {
            const clash = clashes.find((one) => one.name === name)
            if (clash !== undefined) form.setValue(name, clash.theirs)
            setClashes(clashes.filter((one) => one.name !== name))
          }}
        />
      )}
      {(faults.length > 0 || form.formState.errors.root !== undefined) && (
        <ProblemSummary title="The sheet is not changed yet." faults={faults} attempt={attempt}>
          {form.formState.errors.root !== undefined && <p>{form.formState.errors.root.message}</p>}
        </ProblemSummary>
      )}
      <EngineHeadFields form={form} />
      <Buttons>
        <Button type="submit" busy={change.isPending}>
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
