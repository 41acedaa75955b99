import '#web/features/money/money.css'
import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import { YES_HOW } from '#contract/jobs.ts'
import { useQuoteNew, useYes } from '#web/features/money/queries.ts'
import { dayAndTime, money } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { readMoney } from '#web/lib/quantity.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField, TextField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { QuantityField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

type Quote = NonNullable<Job['quotes']>[number]
type How = (typeof YES_HOW)[number]

/** What was quoted, who said yes and how; only the last quote can be agreed. */
export function Quotes({ job }: { job: Job }) {
  const here = useHere()
  const quotes = job.quotes ?? []
  const last = quotes[0]
  return (
    <section aria-label="Quotes" id="money" tabIndex={-1}>
      <h2>Quotes</h2>
      {last === undefined && <p className="soft">No quote yet.</p>}
      <ol className="quotes" reversed>
        {quotes.map((quote, place) => (
          <li key={quote.id} value={quote.version}>
            <QuoteLine quote={quote} isLast={place === 0} />
          </li>
        ))}
      </ol>
      <Buttons>
        {last !== undefined && last.yes === undefined && job.state !== 'gone' && (
          <Fold open={`Yes to ${money(last.totalMinor, here.currency)}`}>{(shut) => <YesForm job={job} quote={last} onShut={shut} />}</Fold>
        )}
        {job.state !== 'gone' && (
          <Fold open={last === undefined ? 'Write a quote' : 'Write another quote'}>{(shut) => <QuoteForm job={job} onShut={shut} />}</Fold>
        )}
      </Buttons>
    </section>
  )
}

function QuoteLine({ quote, isLast }: { quote: Quote; isLast: boolean }) {
  const here = useHere()
  const now = Date.now()
  const yes = quote.yes
  return (
    <>
      <b className="fig">{money(quote.totalMinor, here.currency, true)}</b>{' '}
      <small>
        with {money(quote.taxMinor, here.currency)} tax · {quote.madeBy}, {dayAndTime(quote.madeAt, here.zone, now)}
      </small>
      <div className="quote-text">{quote.text}</div>
      <small>
        {yes !== undefined
          ? `Yes by ${yes.by}, ${yes.how}, ${dayAndTime(yes.at, here.zone, now)}; written down by ${yes.enteredBy}`
          : isLast
            ? 'Waits for a yes.'
            : 'Replaced before a yes.'}
      </small>
    </>
  )
}

function QuoteForm({ job, onShut }: { job: Job; onShut(): void }) {
  const here = useHere()
  const quote = useQuoteNew(job.id)
  const [total, setTotal] = useState('')
  const [text, setText] = useState(job.quotes?.[0]?.text ?? '')
  const [attempt, setAttempt] = useState(0)
  const read = readMoney(total, here.currency)
  const amount = read.ok && read.value > 0 ? read.value : undefined
  const wrongTotal = amount !== undefined ? undefined : read.ok || read.nothingTyped ? 'A quote has a total.' : read.detail
  const wrongText = text.trim() === '' ? 'Say what it is for.' : undefined
  const isTried = attempt > 0
  const send = () => {
    setAttempt(attempt + 1)
    if (amount === undefined || wrongText !== undefined) return
    quote.mutate({ totalMinor: amount, text: text.trim() }, { onSuccess: onShut })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Write a quote">
      {((isTried && (wrongTotal ?? wrongText) !== undefined) || quote.isError) && (
        <ProblemSummary title="The quote is not made." attempt={attempt}>
          <p>{quote.isError ? inWords(quote.error) : [wrongTotal, wrongText].filter((one) => one !== undefined).join(' ')}</p>
        </ProblemSummary>
      )}
      <AreaField
        label="What it is for, as the customer reads it"
        rows={4}
        maxLength={2000}
        value={text}
        error={isTried ? wrongText : undefined}
        onChange={(event) => setText(event.target.value)}
      />
      <QuantityField
        label="Total with tax"
        unit={here.currency}
        value={total}
        read={(typed) => readMoney(typed, here.currency)}
        error={isTried ? wrongTotal : undefined}
        onChange={setTotal}
      />
      <p className="soft">It replaces the quote before and waits for a yes, whatever was agreed.</p>
      <Buttons>
        <Button type="submit" busy={quote.isPending}>
          Ask for a yes
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}

function YesForm({ job, quote, onShut }: { job: Job; quote: Quote; onShut(): void }) {
  const yes = useYes(job.id)
  const [by, setBy] = useState(job.customer?.name ?? '')
  const [how, setHow] = useState<How | undefined>(undefined)
  const [tried, setTried] = useState(false)
  const send = () => {
    setTried(true)
    if (by.trim() === '' || how === undefined) return
    yes.mutate({ quoteVersion: quote.version, by: by.trim(), how }, { onSuccess: onShut })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Enter the yes">
      {yes.isError && (
        <ProblemSummary title="The yes is not written down.">
          <p>{inWords(yes.error)}</p>
        </ProblemSummary>
      )}
      <TextField
        label="Who said yes"
        maxLength={200}
        value={by}
        error={tried && by.trim() === '' ? 'A yes has a name.' : undefined}
        onChange={(event) => setBy(event.target.value)}
      />
      <Pick
        label="How it came"
        options={YES_HOW.map((value) => ({ value, label: value }))}
        value={how}
        error={tried && how === undefined ? 'Say how the yes came.' : undefined}
        onChange={setHow}
      />
      <Buttons>
        <Button type="submit" busy={yes.isPending}>
          They said yes
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
