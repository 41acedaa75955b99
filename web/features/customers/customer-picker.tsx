import { useQuery } from '@tanstack/react-query'
import { customerOffersQuery, customerQuery } from '#web/features/customers/queries.ts'
import { historyWords, reachWords, wantsWords } from '#web/features/customers/words.ts'
import { useHere } from '#web/lib/here.ts'
import { useSettled } from '#web/lib/use-settled.ts'
import { Known } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { SuggestField } from '#web/ui/suggest-field.tsx'

export interface CustomerPickerProps {
  /** Id of the known customer; empty while it is somebody new or not said. */
  id: string
  /** The name as typed. */
  name: string
  error?: string | undefined
  onName(typed: string): void
  onKnown(id: string, name: string): void
  onForget(): void
}

const REST_MS = 200

/** Whose it is: while the name is typed, those whom the book knows are offered; once known, what to know of them stands there. */
export function CustomerPicker({ id, name, error, onName, onKnown, onForget }: CustomerPickerProps) {
  return id === '' ? <Asked name={name} error={error} onName={onName} onKnown={onKnown} /> : <KnownCustomer id={id} onForget={onForget} />
}

function Asked({ name, error, onName, onKnown }: Pick<CustomerPickerProps, 'name' | 'error' | 'onName' | 'onKnown'>) {
  const { currency } = useHere()
  const asked = useSettled(name.trim(), REST_MS)
  const offers = useQuery(customerOffersQuery(asked))
  const rows = asked === '' || name.trim() === '' ? [] : (offers.data?.rows ?? [])
  return (
    <SuggestField
      label="Name"
      name="customer.name"
      autoComplete="off"
      value={name}
      error={error}
      onChange={onName}
      suggestions={rows.map((row) => ({
        id: row.id,
        says: (
          <>
            <b>{row.name}</b> <small>{[reachWords(row), historyWords(row, currency)].filter((one) => one !== '').join(' · ')}</small>
          </>
        ),
      }))}
      onPick={(id) => onKnown(id, rows.find((row) => row.id === id)?.name ?? name)}
    />
  )
}

function KnownCustomer({ id, onForget }: { id: string; onForget(): void }) {
  const { currency } = useHere()
  const known = useQuery(customerQuery(id))
  if (known.isPending) return <Loading what="what we know of them" />
  if (known.isError) return <Failed what="What we know of them" error={known.error} onAgain={() => void known.refetch()} />
  const them = known.data
  return (
    <Known>
      <p>
        <b>{them.name}</b> · {historyWords(them, currency)} · {wantsWords(them)}
        {them.note !== undefined && <> · {them.note}</>}
        <br />
        <small>{reachWords(them)}</small>
      </p>
      <button type="button" className="plain" onClick={onForget}>
        It is somebody else
      </button>
    </Known>
  )
}
