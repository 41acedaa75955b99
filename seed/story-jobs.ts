/** Jobs of the past that have a story of their own, each so many months before today; the others come by chance. */
import type { JobKind, WhyNow } from '#core/steps.ts'
import type { CustomerKey } from './customers.ts'
import type { Hand } from './people.ts'

/** How a job of the past went, where it was more than a plain rebuild. */
export type Story =
  | 'plain'
  | 'true-only'
  | 'report'
  | 'weld'
  | 'given-back'
  | 'scrapped'
  | 'corrected'
  | 'gauge-not-read'
  | 'rod-not-read'
  | 'slipped-dial'
  | 'bad-lot'
  | 'hollis-before'

export interface Told {
  story: Story
  builder: Hand
  monthsAgo: number
  code?: string
  customer?: CustomerKey
  kind?: JobKind
  why: WhyNow
}

export const TOLD: readonly Told[] = [
  { story: 'hollis-before', builder: 'marek', code: 'R449-4X', customer: 'hollis', why: 'hours-up', monthsAgo: 14 },
  { story: 'bad-lot', builder: 'marek', code: 'F124-K', customer: 'quillfen', why: 'hours-up', monthsAgo: 11.2 },
  { story: 'bad-lot', builder: 'jonas', code: 'F124-K', customer: 'belland', why: 'hours-up', monthsAgo: 9.6 },
  { story: 'bad-lot', builder: 'jonas', code: 'R124-X', customer: 'twofields', why: 'hours-up', monthsAgo: 7.1 },
  { story: 'bad-lot', builder: 'jonas', code: 'R124-X', customer: 'luczak', why: 'seized', monthsAgo: 5.8 },
  { story: 'slipped-dial', builder: 'jonas', code: 'L249-X', customer: 'twofields', why: 'hours-up', monthsAgo: 8.4 },
  { story: 'given-back', builder: 'marek', code: 'D196-R', customer: 'stoss', why: 'seized', monthsAgo: 6.5 },
  { story: 'gauge-not-read', builder: 'marek', code: 'L349-4E', customer: 'simkus', why: 'rust', monthsAgo: 6.1 },
  { story: 'true-only', builder: 'marek', kind: 'true-only', why: 'out-of-true', monthsAgo: 5.4 },
  { story: 'report', builder: 'jonas', kind: 'check-and-report', why: 'not-known', code: 'D346-4R', customer: 'fairw', monthsAgo: 4.5 },
  { story: 'weld', builder: 'ewa', kind: 'weld-only', why: 'not-known', code: 'B486-X', customer: 'ibarrola', monthsAgo: 4.1 },
  { story: 'corrected', builder: 'jonas', code: 'H249-4X', customer: 'orsi', why: 'knock', monthsAgo: 3.4 },
  { story: 'true-only', builder: 'jonas', kind: 'true-only', why: 'dropped', code: 'H197-E', monthsAgo: 3.1 },
  { story: 'rod-not-read', builder: 'jonas', code: 'B293-E', customer: 'rauta', why: 'seized', monthsAgo: 2.7 },
  { story: 'scrapped', builder: 'marek', why: 'rod-broken', code: 'O371-X', customer: 'weiss', monthsAgo: 2.2 },
]
