import type { Customer } from '#contract/customers.ts'
import { CustomerEdit } from '#web/features/customers/customer-edit.tsx'
import { historyWords, wantsWords } from '#web/features/customers/words.ts'
import { useHere } from '#web/lib/here.ts'
import { Fold } from '#web/ui/fold.tsx'

/** What the book knows of somebody, and a way to change it. */
export function CustomerFacts({ them }: { them: Customer }) {
  const { currency } = useHere()
  return (
    <section aria-label="What we know of them">
      <dl className="facts">
        {them.phone !== undefined && (
          <>
            <dt>Phone</dt>
            <dd>
              <a href={`tel:${them.phone.replace(/[^\d+]/g, '')}`}>{them.phone}</a>
            </dd>
          </>
        )}
        {them.mail !== undefined && (
          <>
            <dt>Mail</dt>
            <dd>
              <a href={`mailto:${them.mail}`}>{them.mail}</a>
            </dd>
          </>
        )}
        {them.address !== undefined && (
          <>
            <dt>Address</dt>
            <dd className="lines">{them.address}</dd>
          </>
        )}
        <dt>To hear</dt>
        <dd>{wantsWords(them)}</dd>
        {them.note !== undefined && (
          <>
            <dt>Remember</dt>
            <dd className="lines">{them.note}</dd>
          </>
        )}
        <dt>Here</dt>
        <dd>{historyWords(them, currency)}</dd>
      </dl>
      <Fold open="Change it">{(shut) => <CustomerEdit them={them} onShut={shut} />}</Fold>
    </section>
  )
}
