/** Why cranks of the demo shop come back: what they say, what is seen, and who bears it. */
import type { ComebackCause, ComebackShare } from '#core/comeback.ts'
import type { Finding } from '#core/comeback-findings.ts'
import type { JobKind, WhyNow } from '#core/steps.ts'

export interface CauseSeen {
  says: string
  found: Finding[]
  foundNote: string
  share: ComebackShare
  why: WhyNow
  /** What is done with a crank that is here again. */
  kind: JobKind
}

export const CAUSES = {
  lubrication: {
    says: 'Seized on a long straight. Oil as before, they say.',
    found: ['washers-both-blue', 'cage-broken'],
    foundNote: 'Both washers blue, the rod dry above the big end.',
    share: 'theirs',
    why: 'seized',
    kind: 'rebuild',
  },
  kit: {
    says: 'Knocks. Nothing was changed.',
    found: ['cage-broken'],
    foundNote: 'Cage in pieces, washers bright, silver on the rod.',
    share: 'part',
    why: 'knock',
    kind: 'rebuild',
  },
  'pin-shift': {
    says: 'Shakes more every time out.',
    found: ['pin-shifted'],
    foundNote: 'The witness line on the right web is broken by 1 mm.',
    share: 'ours',
    why: 'not-known',
    kind: 'rebuild',
  },
  'case-or-bearing': {
    says: 'Rumbles on the left side.',
    found: ['bearing-loose-in-case'],
    foundNote: 'The left main turns in the case by hand; the crank is as it left.',
    share: 'theirs',
    why: 'not-known',
    kind: 'check-and-report',
  },
  workmanship: {
    says: 'A whine since the first hour.',
    found: ['track-spalled-edge'],
    foundNote: 'The track is spalled at its left edge; the rod is straight.',
    share: 'ours',
    why: 'knock',
    kind: 'rebuild',
  },
  'nothing-found': {
    says: 'Shakes; they think that it is the crank.',
    found: ['repeats-certificate', 'nothing-wrong'],
    foundNote: 'Both ends read as on the certificate.',
    share: 'theirs',
    why: 'not-known',
    kind: 'check-and-report',
  },
} as const satisfies Partial<Record<ComebackCause, CauseSeen>>

export type CauseOfDemo = keyof typeof CAUSES

/** The causes of cranks outside the bad lot, in the order in which they are given out: each of them at least once in nine. */
export const DECK: readonly CauseOfDemo[] = [
  'lubrication',
  'pin-shift',
  'case-or-bearing',
  'workmanship',
  'nothing-found',
  'lubrication',
  'kit',
  'lubrication',
  'case-or-bearing',
  'lubrication',
  'workmanship',
]
