import '#web/features/money/money.css'
import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import { usePayment } from '#web/features/money/queries.ts'
import { dayAndTime, money } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { readMoney } from '#web/lib/quantity.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { QuantityField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

const WHAT_WORDS = { deposit: 'deposit', payment: 'paid', back: 'given back' } as const
type What = keyof typeof WHAT_WORDS
const HOW_PAID = ['cash', 'card', 'transfer'] as const

/** `412.00 agreed, 100.00 taken, 312.00 to pay` */
export function owedWords(job: Pick<Job, 'owes' | 'payments' | 'quotes'>, currency: string): string {
  const taken = (job.payments ?? []).reduce((sum, one) => sum + (one.what === 'back' ? -one.amountMinor : one.amountMinor), 0)
  const agreed = job.quotes?.find((one) => one.yes !== undefined)
  if (agreed === undefined)
    return taken > 0 ? `${money(taken, currency)} held, nothing agreed yet` : 'Nothing agreed and nothing taken yet.'
  const owes = job.owes ?? 0
  const over = taken - agreed.totalMinor
  const rest = owes > 0 ? `${money(owes, currency)} to pay` : over > 0 ? `paid, ${money(over, currency)} too much` : 'paid'
  return `${money(agreed.totalMinor, currency)} agreed, ${money(taken, currency)} taken, ${rest}`
}

/** Money taken and given back on this job, and what is still to pay. */
export function Payments({ job }: { job: Job }) {
  const here = useHere()
  const now = Date.now()
  const payments = job.payments ?? []
  return (
    <section aria-label="Money">
      <h2>Money</h2>
      <p>
        <b>{owedWords(job, here.currency)}</b>
      </p>
      {payments.length > 0 && (
        <ul className="payments">
          {payments.map((one) => (
            <li key={one.id}>
              <span className="fig">
                {one.what === 'back' ? money(-one.amountMinor, here.currency) : money(one.amountMinor, here.currency)}
              </span>
              <span>
                {WHAT_WORDS[one.what]}, {one.how}
                {one.note !== undefined && one.note !== '' && `, ${one.note}`}{' '}
                <small>
                  · {one.by}, {dayAndTime(one.at, here.zone, now)}
                </small>
              </span>
            </li>
          ))}
        </ul>
      )}
      <Fold open="Money taken or given back">{(shut) => <PaymentForm job={job} onDone={shut} onShut={shut} />}</Fold>
    </section>
  )
}

export interface PaymentFormProps {
  job: Job
  onDone(): void
  onShut?: () => void
}

/** No card data: what, how much, and by which way. */
export function PaymentForm({ job, onDone, onShut }: PaymentFormProps) {
  const here = useHere()
  const payment = usePayment(job.id)
  const owes = job.owes ?? 0
  const [what, setWhat] = useState<What>(owes > 0 ? 'payment' : 'deposit')
  const [typed, setTyped] = useState(owes > 0 ? money(owes, here.currency) : '')
  const [how, setHow] = useState<string | undefined>(undefined)
  const [note, setNote] = useState('')
  const [tried, setTried] = useState(false)
  const read = readMoney(typed, here.currency)
  const amount = read.ok && read.value > 0 ? read.value : undefined
  const wrongAmount = amount !== undefined ? undefined : read.ok || read.nothingTyped ? 'An amount, please.' : read.detail
  const send = () => {
    setTried(true)
    if (amount === undefined || how === undefined) return
    payment.mutate({ amountMinor: amount, what, how, ...(note.trim() === '' ? {} : { note: note.trim() }) }, { onSuccess: onDone })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Money taken or given back">
      {payment.isError && (
        <ProblemSummary title="It is not written down.">
          <p>{inWords(payment.error)}</p>
        </ProblemSummary>
      )}
      <Pick
        label="What it is"
        options={(['deposit', 'payment', 'back'] as const).map((value) => ({
          value,
          label: value === 'payment' ? 'payment' : WHAT_WORDS[value],
        }))}
        value={what}
        onChange={setWhat}
      />
      <QuantityField
        label="Amount"
        unit={here.currency}
        value={typed}
        read={(text) => readMoney(text, here.currency)}
        error={tried ? wrongAmount : undefined}
        onChange={setTyped}
      />
      <Pick
        label="How"
        options={HOW_PAID.map((value) => ({ value, label: value }))}
        value={HOW_PAID.find((value) => value === how)}
        error={tried && how === undefined ? 'Cash, card or transfer?' : undefined}
        onChange={setHow}
      />
      <TextField label="Note" hint="no card data" maxLength={200} value={note} onChange={(event) => setNote(event.target.value)} />
      <Buttons>
        <Button type="submit" busy={payment.isPending}>
          {what === 'back' ? 'It is given back' : 'It is taken'}
        </Button>
        {onShut !== undefined && <Button onClick={onShut}>Leave it</Button>}
      </Buttons>
    </Form>
  )
}
