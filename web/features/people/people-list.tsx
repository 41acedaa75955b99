import '#web/features/people/people.css'
import { useQuery, useQueryClient } from '@tanstack/react-query'
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
import { useHere } from '#web/lib/here.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { type EditClash, settleEdits } from '#web/lib/settle-edits.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Differences } from '#web/ui/differences.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

const NAMES = Object.keys(PERSON_LABELS)
const ROLE_SHORT = { counter: 'counter', bench: 'bench', owner: 'owner' } as const

/** Everybody of the shop: where they work, whether they may sign, and whether they may still come in. */
export function PeopleList() {
  const people = useQuery(peopleQuery)
  if (people.isPending) return <Loading what="the people" />
  if (people.isError) return <Failed what="The list" error={people.error} onAgain={() => void people.refetch()} />
  return (
    <>
      <ul className="people">
        {people.data.map((one) => (
          <li key={one.id}>
            <PersonLine one={one} />
          </li>
        ))}
      </ul>
      <Fold open="Somebody new">{(shut) => <NewPersonForm onShut={shut} />}</Fold>
    </>
  )
}

function PersonLine({ one }: { one: Person }) {
  const here = useHere()
  const change = usePersonChange(one.id)
  const isMe = one.id === here.personId
  const facts = [
    ROLE_SHORT[one.role],
    one.maySign ? 'may sign' : undefined,
    one.cranksBefore > 0 ? `${one.cranksBefore} rebuilds before joining` : undefined,
    one.hasPin ? 'has a PIN' : undefined,
    one.barred ? 'barred: may not sign in' : undefined,
  ].filter((fact) => fact !== undefined)
  return (
    <>
      <div>
        <b>{one.name}</b>
        {isMe && ' (you)'} <small>signs in as {one.signIn}</small>
        <div className="soft">{facts.join(' · ')}</div>
      </div>
      {change.isError && (
        <ProblemSummary title="Nothing is changed.">
          <p>{inWords(change.error)}</p>
        </ProblemSummary>
      )}
      <div className="people-acts">
        <Fold open="Change" label={`Change ${one.name}`}>
          {(shut) => <ChangePersonForm one={one} onShut={shut} />}
        </Fold>
        {!isMe && (
          <Button
            busy={change.isPending}
            aria-label={one.barred ? `Let ${one.name} in again` : `Bar ${one.name}: ends their sessions at once`}
            onClick={() => change.mutate({ change: { barred: !one.barred }, version: one.version })}
          >
            {one.barred ? 'Let in again' : 'Bar'}
          </Button>
        )}
      </div>
    </>
  )
}

function listed(errors: Record<string, { message?: string | undefined } | undefined>) {
  return NAMES.flatMap((name) => (errors[name]?.message === undefined ? [] : [{ name, text: errors[name].message }]))
}

function NewPersonForm({ onShut }: { onShut(): void }) {
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
  const faults = listed(form.formState.errors)
  return (
    <Form enter="next" onSend={send} aria-label="Somebody new" autoComplete="off">
      {(faults.length > 0 || form.formState.errors.root !== undefined) && (
        <ProblemSummary title="They are not in the book yet." faults={faults} attempt={attempt}>
          {form.formState.errors.root !== undefined && <p>{form.formState.errors.root.message}</p>}
        </ProblemSummary>
      )}
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

function ChangePersonForm({ one, onShut }: { one: Person; onShut(): void }) {
  const client = useQueryClient()
  const change = usePersonChange(one.id)
  const [seen, setSeen] = useState(() => ({ version: one.version, values: personFormOf(one) }))
  const [clashes, setClashes] = useState<EditClash<string>[] | undefined>(undefined)
  const [attempt, setAttempt] = useState(0)
  const form = useForm<PersonForm>({ defaultValues: seen.values })

  const setBeside = async () => {
    const now = (await client.fetchQuery({ ...peopleQuery, staleTime: 0 })).find((person) => person.id === one.id)
    if (now === undefined) return
    const theirs = personFormOf(now)
    const settled = settleEdits(seen.values, form.getValues(), theirs)
    for (const [name, value] of Object.entries(settled.values)) form.setValue(name, value)
    setSeen({ version: now.version, values: theirs })
    setClashes(settled.clashes)
  }
  const send = () => {
    if (change.isPending) return
    setAttempt(attempt + 1)
    form.clearErrors()
    const read = readPersonChange(seen.values, form.getValues())
    if (!read.ok) {
      for (const [name, message] of Object.entries(read.faults)) form.setError(name, { type: 'typed', message })
      return
    }
    if (Object.keys(read.value).length === 0) {
      onShut()
      return
    }
    change.mutate(
      { change: read.value, version: seen.version },
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
    <Form enter="next" onSend={send} aria-label={`Change ${one.name}`} autoComplete="off">
      {clashes !== undefined && (
        <Differences
          what="this person"
          rows={clashes.map((clash) => ({ ...clash, label: PERSON_LABELS[clash.name] ?? clash.name }))}
          onTheirs={(name) => {
            const clash = clashes.find((each) => each.name === name)
            if (clash !== undefined) form.setValue(name, clash.theirs)
            setClashes(clashes.filter((each) => each.name !== name))
          }}
        />
      )}
      {(faults.length > 0 || form.formState.errors.root !== undefined) && (
        <ProblemSummary title="Nothing is changed yet." faults={faults} attempt={attempt}>
          {form.formState.errors.root !== undefined && <p>{form.formState.errors.root.message}</p>}
        </ProblemSummary>
      )}
      <PersonFields form={form} isNew={false} />
      <Buttons>
        <Button type="submit" busy={change.isPending}>
          Write it so
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
