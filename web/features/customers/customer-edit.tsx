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
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { useChangeForm } from '#web/lib/use-change-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Form } from '#web/ui/form.tsx'
import { ChangeProblems, FormProblems } from '#web/ui/form-problems.tsx'

const NAMES = Object.keys(CUSTOMER_LABELS)

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
  return (
    <Form enter="next" onSend={send} aria-label="Somebody new">
      <FormProblems errors={form.formState.errors} title="They are not written down yet." labels={CUSTOMER_LABELS} attempt={attempt} />
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
  const writing = useCustomerChange(them.id)
  const change = useChangeForm<CustomerForm>({
    version: them.version,
    values: customerFormOf(them),
    names: NAMES,
    readNow: async () => {
      const now = await client.fetchQuery({ ...customerQuery(them.id), staleTime: 0 })
      return { version: now.version, values: customerFormOf(now) }
    },
  })
  const { form, seen } = change
  const send = () => {
    if (writing.isPending) return
    change.begin()
    const read = readCustomer(form.getValues())
    if (!read.ok) return change.mend(read.faults)
    const wanted = customerChangeOf(seen.values, form.getValues())
    if (Object.keys(wanted).length === 0) return onShut()
    writing.mutate({ change: wanted, version: seen.version }, { onSuccess: onShut, onError: change.refused })
  }
  return (
    <Form enter="next" onSend={send} aria-label={`Change ${them.name}`}>
      <ChangeProblems change={change} what="this customer" title="It is not written down yet." labels={CUSTOMER_LABELS} />
      <CustomerFields form={form} />
      <Buttons>
        <Button type="submit" busy={writing.isPending}>
          Write it so
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
