import { factsOf } from '#core/bench/job-facts.ts'
import type { JobRecord } from '#core/bench/job-record.ts'
import { lastStirredAt, type SecondCheck, secondCheck, standsBeforeSigned } from '#core/bench/second-check.ts'
import type { Missing, MissingCode } from '#core/gates/missing.ts'
import { missingFor } from '#core/gates.ts'
import { isLater } from '#core/instants.ts'
import { doneWord } from '#core/steps.ts'

/** How the second check stands, as one person meets it. */
export interface CheckState {
  check: SecondCheck
  /** The set that comes next; null where the readings settle it, or where the job does not stand at its second check. */
  next: 'second' | 'third' | null
  mayRead: boolean
  /** Why this person may not take it. */
  because: string | null
  /** Whether the readings confirm each other; null before there are two. */
  agree: boolean | null
  says: string[]
}

const DISAGREEMENT: readonly MissingCode[] = [
  'second-reading-over-house-left',
  'second-reading-over-house-right',
  'readings-differ-left',
  'readings-differ-right',
  'third-set-settles-nothing',
]

/**
 * The second check of a job: which set comes next, and whether this person may take it. The second reading is another
 * person's (or the builder's in a shop of one, where the setting says so); where it does not confirm the first, either of
 * the two takes a third. After a blow, a pressing or a weld the crank is read for true again before anything else.
 *
 * Source: second readings as second-reading.ts; common practice, no source.
 *
 * @example checkState({ ...record, state: 'together' }, 'ewa').next // null
 */
export function checkState(job: JobRecord, personId: string): CheckState {
  const check = secondCheck(job)
  const { first, firstSets, second, third } = check
  const base = { check, agree: null, says: [] }
  if (!standsBeforeSigned(job)) {
    return { ...base, next: null, mayRead: false, because: `It is ${doneWord(job.state)}: the second check is not what comes next.` }
  }
  if (second === null)
    return { ...base, next: 'second', ...mayTakeSecond(job, first !== null && wasStirred(job, first.doneAt), firstSets, personId) }
  const missing = missingFor('signed', factsOf(job))
  const disagreement = missing.filter((one) => DISAGREEMENT.includes(one.code))
  // A second reading that the owner let go unread confirms nothing, and a third would have nothing to settle.
  const isUnread = second.notReadBecause !== null
  const agree = disagreement.length === 0 && !isUnread
  const says = [...saysOf(missing), ...(agree ? [third === null ? BOTH_AGREE : TWO_OF_THREE_AGREE] : [])]
  if (agree || isUnread || third !== null) return { check, next: null, mayRead: false, because: 'The readings are in.', agree, says }
  const isOneOfTheTwo = personId === second.personId || firstSets.some((set) => set.personId === personId)
  const because = isOneOfTheTwo ? null : 'The third set is for one of the two who read it before.'
  return { check, next: 'third', mayRead: isOneOfTheTwo, because, agree, says }
}

const BOTH_AGREE = 'Both readings agree within what the dials can tell.'
const TWO_OF_THREE_AGREE = 'Two of the three readings agree within what the dials can tell.'

function mayTakeSecond(
  job: JobRecord,
  isStirred: boolean,
  firstSets: SecondCheck['firstSets'],
  personId: string,
): Pick<CheckState, 'mayRead' | 'because'> {
  if (isStirred) return { mayRead: false, because: 'It was moved after it was last read. Read it for true again first.' }
  if (firstSets.some((set) => set.personId === personId) && !job.settings.samePersonMayCheck)
    return { mayRead: false, because: 'You took the first reading. Ask somebody else to read it, cold.' }
  return { mayRead: true, because: null }
}

function wasStirred(job: JobRecord, readAt: string): boolean {
  const stirredAt = lastStirredAt(job)
  return stirredAt !== null && !isLater(readAt, stirredAt)
}

/** What the table of gates says of the second reading, its certificate left aside. */
function saysOf(missing: readonly Missing[]): string[] {
  return missing
    .filter(
      (one) => one.code.startsWith('second-reading') || one.code.startsWith('readings-differ') || one.code === 'third-set-settles-nothing',
    )
    .map((one) => one.detail)
}
