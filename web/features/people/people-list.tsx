import '#web/features/people/people.css'
import { useQuery } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import { Link } from 'react-router'
import type { Person } from '#contract/people.ts'
import { ChangePersonForm, NewPersonForm } from '#web/features/people/person-forms.tsx'
import { peopleQuery, usePersonChange } from '#web/features/people/queries.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

const ROLE_SHORT = { counter: 'counter', bench: 'bench', owner: 'owner' } as const

export interface PeopleListProps {
  /** Where somebody is signed in; `isMe` for the one who looks. */
  sessions(one: Person, isMe: boolean): ReactNode
}

/** Everybody of the shop: where they work, whether they may sign, and whether they may still come in. */
export function PeopleList({ sessions }: PeopleListProps) {
  const people = useQuery(peopleQuery)
  if (people.isPending) return <Loading what="the people" />
  if (people.isError) return <Failed what="The list" error={people.error} onAgain={() => void people.refetch()} />
  return (
    <>
      <ul className="people">
        {people.data.map((one) => (
          <li key={one.id}>
            <PersonLine one={one} sessions={sessions} />
          </li>
        ))}
      </ul>
      <Fold open="Somebody new">{(shut) => <NewPersonForm onShut={shut} />}</Fold>
    </>
  )
}

function factsOf(one: Person): string {
  const facts = [
    ROLE_SHORT[one.role],
    one.maySign ? 'may sign' : undefined,
    one.cranksBefore > 0 ? `${one.cranksBefore} rebuilds before joining` : undefined,
    one.hasPin ? 'has a PIN' : undefined,
    one.barred ? 'barred: may not sign in' : undefined,
  ]
  return facts.filter((fact) => fact !== undefined).join(' · ')
}

function PersonLine({ one, sessions }: { one: Person } & PeopleListProps) {
  const here = useHere()
  const change = usePersonChange(one.id)
  const isMe = one.id === here.personId
  const write = (wanted: Parameters<typeof change.mutate>[0]['change']) => change.mutate({ change: wanted, version: one.version })
  return (
    <>
      <div>
        <b>{one.name}</b>
        {isMe && ' (you)'} <small>signs in as {one.signIn}</small>
        <div className="soft">{factsOf(one)}</div>
        <small>
          <Link className="stand-alone" to={`/office/audit?person=${one.id}`}>
            What {isMe ? 'you' : one.name} changed
          </Link>
        </small>
      </div>
      {change.isError && (
        <ProblemSummary title="Nothing is changed.">
          <p>{inWords(change.error)}</p>
        </ProblemSummary>
      )}
      <div className="people-acts">
        <Fold open="Change" label={`Change ${one.name}`}>
          {(shut) => <ChangePersonForm one={one} isMe={isMe} onShut={shut} />}
        </Fold>
        {!one.barred && (
          <Fold open="Sessions" label={`Sessions of ${one.name}`}>
            {() => sessions(one, isMe)}
          </Fold>
        )}
        {one.hasPin && (
          <Button
            busy={change.isPending}
            aria-label={`Take the PIN of ${one.name} away: ends their sessions at once`}
            onClick={() => write({ clearPin: true })}
          >
            Take the PIN away
          </Button>
        )}
        {!isMe && (
          <Button
            busy={change.isPending}
            aria-label={one.barred ? `Let ${one.name} in again` : `Bar ${one.name}: ends their sessions at once`}
            onClick={() => write({ barred: !one.barred })}
          >
            {one.barred ? 'Let in again' : 'Bar'}
          </Button>
        )}
      </div>
    </>
  )
}
