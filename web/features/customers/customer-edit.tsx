import { useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import { useForm } from 'react-hook-form'
import type { Customer } from '#contract/customers.ts'
import { CustomerFields } from '#web/features/customers/customer-fields.tsx'
import {
  CUSTOMER_LABELS,
  type CustomerForm,
  customerChangeOf,
  customerFormOf,
  EMPTY_CUSTOMER,
  readCustomer,
} from '#web/features/customers/customer-form.ts'
import { customerQuery, useCustomerChange, useCustomerNew } from '#web/features/customers/queries.ts'
import { Problem } from '#web/lib/problem.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { type EditClash, settleEdits } from '#web/lib/settle-edits.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Differences } from '#web/ui/differences.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

const NAMES = Object.keys(CUSTOMER_LABELS)

function listed(errors: Record<string, { message?: string | undefined } | undefined>) {
  return NAMES.flatMap((name) => (errors[name]?.message === undefined ? [] : [{ name, text: errors[name].message }]))
}

/** Somebody new, without a crank yet. */
export function CustomerNewForm({ onMade, onShut }: { onMade(id: string): void; onShut(): void }) {
  const adding = useCustomerNew()
  const form = useForm<CustomerForm>({ defaultValues: EMPTY_CUSTOMER })
  const [attempt, setAttempt] = useState(0)
  const send = () => {
    if (adding.isPending) return
    setAttempt(attempt + 1)
    form.clearErrors()
    const read = readCustomer(form.getValues())
    if (!read.ok) {
      for (const [name, message] of Object.entries(read.faults)) form.setError(name, { type: 'typed', message })
      return
    }
    adding.mutate(read.customer, { onSuccess: (them) => onMade(them.id), onError: (error) => putOnForm(error, NAMES, form.setError) })
  }
  const faults = listed(form.formState.errors)
  return (
    <Form enter="next" onSend={send} aria-label="Somebody new">
      {(faults.length > 0 || form.formState.errors.root !== undefined) && (
        <ProblemSummary title="They are not written down yet." faults={faults} attempt={attempt}>
          {form.formState.errors.root !== undefined && <p>{form.formState.errors.root.message}</p>}
        </ProblemSummary>
      )}
      <CustomerFields form={form} />
      <Buttons>
        <Button type="submit" busy={adding.isPending}>
          Write them down
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}

/** A change to a customer; what somebody else wrote meanwhile is set beside it, and nothing typed is lost. */
export function CustomerEdit({ them, onShut }: { them: Customer; onShut(): void }) {
  const client = useQueryClient()
  const change = useCustomerChange(them.id)
  const [seen, setSeen] = useState(() => ({ version: them.version, values: customerFormOf(them) }))
  const [clashes, setClashes] = useState<EditClash<string>[] | undefined>(undefined)
  const [attempt, setAttempt] = useState(0)
  const form = useForm<CustomerForm>({ defaultValues: seen.values })

  const setBeside = async () => {
    const now = await client.fetchQuery({ ...customerQuery(them.id), staleTime: 0 })
    const theirs = customerFormOf(now)
    const settled = settleEdits(seen.values, form.getValues(), theirs)
    for (const [name, value] of Object.entries(settled.values)) form.setValue(name, value)
    setSeen({ version: now.version, values: theirs })
    setClashes(settled.clashes)
  }

  const send = () => {
    if (change.isPending) return
    setAttempt(attempt + 1)
    form.clearErrors()
    const read = readCustomer(form.getValues())
    if (!read.ok) {
      for (const [name, message] of Object.entries(read.faults)) form.setError(name, { type: 'typed', message })
      return
    }
    const wanted = customerChangeOf(seen.values, form.getValues())
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
    <Form enter="next" onSend={send} aria-label={`Change ${them.name}`}>
      {clashes !== undefined && (
        <Differences
          what="this customer"
          rows={clashes.map((one) => ({ ...one, label: CUSTOMER_LABELS[one.name] ?? one.name }))}
          onTheirs={(name) => {
            const clash = clashes.find((one) => one.name === name)
            if (clash !== undefined) form.setValue(name, clash.theirs)
            setClashes(clashes.filter((one) => one.name !== name))
          }}
        />
      )}
      {(faults.length > 0 || form.formState.errors.root !== undefined) && (
        <ProblemSummary title="It is not written down yet." faults={faults} attempt={attempt}>
          {form.formState.errors.root !== undefined && <p>{form.formState.errors.root.message}</p>}
        </ProblemSummary>
      )}
      <CustomerFields form={form} />
      <Buttons>
        <Button type="submit" busy={change.isPending}>
          Write it so
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
