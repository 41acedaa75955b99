import '#web/features/customers/merge.css'
import { useQuery } from '@tanstack/react-query'
import { type ReactNode, useState } from 'react'
import type { Customer } from '#contract/customers.ts'
import { type CustomerFacts, mergedCustomer } from '#core/merged-customer.ts'
import { CustomerPicker } from '#web/features/customers/customer-picker.tsx'
import { customerQuery, useMerge } from '#web/features/customers/queries.ts'
import { reachWords } from '#web/features/customers/words.ts'
import { counted } from '#web/lib/format.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

export interface MergeProps {
  one: Customer
  /** The other entry; empty until it is found. */
  otherId: string
  onOther(id: string): void
  /** The cranks of a customer with their jobs. */
  cranks(customerId: string): ReactNode
  onMerged(id: string): void
}

/** Two entries that are one customer: the other is found, both are looked at side by side, and one stays. */
export function MergeCustomers({ one, otherId, onOther, cranks, onMerged }: MergeProps) {
  const [typed, setTyped] = useState('')
  const other = useQuery(customerQuery(otherId))
  if (otherId === '')
    return (
      <div className="narrow-field">
        <p>Who is the same as {one.name}? Find the other entry.</p>
        <CustomerPicker id="" name={typed} onName={setTyped} onKnown={onOther} onForget={() => onOther('')} />
      </div>
    )
  if (other.isPending) return <Loading what="the other entry" />
  if (other.isError) return <Failed what="The other entry" error={other.error} onAgain={() => void other.refetch()} />
  const choose = (
    <button type="button" className="plain" onClick={() => onOther('')}>
      Choose another entry
    </button>
  )
  if (other.data.id === one.id) return <p>This is the same entry twice. {choose}</p>
  return (
    <>
      <p>{choose}</p>
      <SideBySide key={other.data.id} one={one} other={other.data} cranks={cranks} onMerged={onMerged} />
    </>
  )
}

function SideBySide({
  one,
  other,
  cranks,
  onMerged,
}: { one: Customer; other: Customer } & { cranks: MergeProps['cranks']; onMerged: MergeProps['onMerged'] }) {
  const merging = useMerge()
  const [staysId, setStays] = useState<string | undefined>(undefined)
  const [reason, setReason] = useState('')
  const [tried, setTried] = useState(0)
  const stays = [one, other].find((each) => each.id === staysId)
  const gone = stays === undefined ? undefined : stays.id === one.id ? other : one
  const noReason = reason.trim() === ''
  const send = () => {
    if (merging.isPending) return
    setTried(tried + 1)
    if (stays === undefined || gone === undefined || noReason) return
    // Once they are one, both addresses read as the one that stays and this form is gone: what follows must not hang on it.
    merging.mutateAsync({ stays: stays.id, version: stays.version, gone: gone.id, goneVersion: gone.version, reason: reason.trim() }).then(
      () => onMerged(stays.id),
      () => undefined,
    )
  }
  const isStale = merging.error instanceof Problem && merging.error.type === 'stale-version'
  const faults = [
    ...(stays === undefined ? [{ name: 'stays', text: 'Choose which entry stays.' }] : []),
    ...(noReason ? [{ name: 'reason', text: 'Say how you know that they are one.' }] : []),
  ]
  return (
    <Form enter="next" onSend={send} aria-label="Make two entries one">
      {tried > 0 && (faults.length > 0 || merging.isError) && (
        <ProblemSummary title="They are still two." faults={faults} attempt={tried}>
          {merging.isError && faults.length === 0 && (
            <p>
              {isStale
                ? 'Somebody changed one of them meanwhile. Both stand here as they are now: look again, then press again.'
                : inWords(merging.error)}
            </p>
          )}
        </ProblemSummary>
      )}
      <div className="side-by-side">
        {[one, other].map((each) => (
          <section key={each.id} aria-label={`Entry ${each.name}${each.id === one.id ? '' : ', the other'}`}>
            <h2>{each.name}</h2>
            <Facts them={each} />
            {cranks(each.id)}
          </section>
        ))}
      </div>
      <Pick
        label="Which entry stays"
        name="stays"
        options={[one, other].map((each, place) => ({
          value: each.id,
          label: one.name === other.name ? `${each.name}, ${place === 0 ? 'the first' : 'the second'}` : each.name,
        }))}
        value={staysId}
        error={tried > 0 && stays === undefined ? 'Choose which entry stays.' : undefined}
        onChange={setStays}
      />
      {stays !== undefined && gone !== undefined && <WhatFollows stays={stays} gone={gone} />}
      <AreaField
        label="How do you know that they are one?"
        name="reason"
        rows={2}
        maxLength={400}
        value={reason}
        error={tried > 0 && noReason ? 'Say how you know that they are one.' : undefined}
        onChange={(event) => setReason(event.target.value)}
      />
      <Buttons>
        <Button type="submit" kind="go" busy={merging.isPending}>
          Make them one
        </Button>
      </Buttons>
    </Form>
  )
}

function Facts({ them }: { them: Customer }) {
  const reach = reachWords(them)
  return (
    <dl className="facts">
      <dt>To reach</dt>
      <dd>{reach === '' ? 'nothing written down' : reach}</dd>
      {them.note !== undefined && (
        <>
          <dt>Remember</dt>
          <dd className="lines">{them.note}</dd>
        </>
      )}
      <dt>Here</dt>
      <dd>{them.cranksHere === 0 ? 'no job yet' : counted(them.cranksHere, 'job')}</dd>
    </dl>
  )
}

function factsOf(them: Customer): CustomerFacts {
  const { name, phone = null, mail = null, address = null, note = null } = them
  return { name, phone, mail, address, note }
}

/** What will stand afterwards, before it is done. */
function WhatFollows({ stays, gone }: { stays: Customer; gone: Customer }) {
  const after = mergedCustomer(factsOf(stays), factsOf(gone))
  const reach = [after.phone, after.mail, after.address?.replaceAll('\n', ', ')].filter((one) => one !== null && one !== undefined)
  return (
    <div className="known">
      <p>
        <b>{after.name}</b> stays, with all cranks and jobs of both: {reach.join(', ')}.
        {after.note !== null && after.note !== (stays.note ?? null) && (
          <>
            {' '}
            To remember: <span className="lines">{after.note}</span>
          </>
        )}
      </p>
      <p>
        The other entry is found no more, and its address leads on to this one. It cannot be taken back; the audit keeps both as they stood.
      </p>
    </div>
  )
}
