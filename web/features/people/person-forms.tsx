import { useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import { useForm } from 'react-hook-form'
import type { Person } from '#contract/people.ts'
import { PersonFields } from '#web/features/people/person-fields.tsx'
import {
  EMPTY_PERSON,
  PERSON_LABELS,
  type PersonForm,
  personFormOf,
  readNewPerson,
  readPersonChange,
} from '#web/features/people/person-form.ts'
import { peopleQuery, usePersonChange, usePersonNew } from '#web/features/people/queries.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { useChangeForm } from '#web/lib/use-change-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Form } from '#web/ui/form.tsx'
import { ChangeProblems, FormProblems } from '#web/ui/form-problems.tsx'

const NAMES = Object.keys(PERSON_LABELS)

export function NewPersonForm({ onShut }: { onShut(): void }) {
  const adding = usePersonNew()
  const form = useForm<PersonForm>({ defaultValues: EMPTY_PERSON })
  const [attempt, setAttempt] = useState(0)
  const send = () => {
    if (adding.isPending) return
    setAttempt(attempt + 1)
    form.clearErrors()
    const read = readNewPerson(form.getValues())
    if (!read.ok) {
      for (const [name, message] of Object.entries(read.faults)) form.setError(name, { type: 'typed', message })
      return
    }
    adding.mutate(read.value, { onSuccess: onShut, onError: (error) => putOnForm(error, NAMES, form.setError) })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Somebody new" autoComplete="off">
      <FormProblems errors={form.formState.errors} title="They are not in the book yet." labels={PERSON_LABELS} attempt={attempt} />
      <PersonFields form={form} isNew />
      <Buttons>
        <Button type="submit" busy={adding.isPending}>
          Put them in the book
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}

export function ChangePersonForm({ one, isMe, onShut }: { one: Person; isMe: boolean; onShut(): void }) {
  const client = useQueryClient()
  const writing = usePersonChange(one.id)
  const change = useChangeForm<PersonForm>({
    version: one.version,
    values: personFormOf(one),
    names: NAMES,
    readNow: async () => {
      const people = await client.fetchQuery({ ...peopleQuery, staleTime: 0 })
      const now = people.find((person) => person.id === one.id) ?? one
      return { version: now.version, values: personFormOf(now) }
    },
  })
  const { form, seen } = change
  const send = () => {
    if (writing.isPending) return
    change.begin()
    const read = readPersonChange(seen.values, form.getValues())
    if (!read.ok) return change.mend(read.faults)
    if (Object.keys(read.value).length === 0) return onShut()
    writing.mutate({ change: read.value, version: seen.version }, { onSuccess: onShut, onError: change.refused })
  }
  return (
    <Form enter="next" onSend={send} aria-label={`Change ${one.name}`} autoComplete="off">
      <ChangeProblems change={change} what="this person" title="Nothing is changed yet." labels={PERSON_LABELS} />
      <PersonFields form={form} isNew={false} isMe={isMe} />
      <Buttons>
        <Button type="submit" busy={writing.isPending}>
          Write it so
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
