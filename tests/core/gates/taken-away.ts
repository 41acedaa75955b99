import type { JobFacts, PinFit } from '#core/gates/facts.ts'
import type { MissingCode } from '#core/gates/missing.ts'
import type { Step } from '#core/steps.ts'
import { at, LAST_MOVE, notRead, PARTED, PRESSED, taken } from '#tests/core/gates/ready-job.ts'

/** What takes one thing away from a job. */
export type Change = (facts: JobFacts) => Partial<JobFacts>

const goodFit = { interferenceMm: 0.109, verdict: 'go' as const, pinIsOfKit: true }
const goodEnd = { tirMm: 0.012, atStatedPlace: true, cold: true }
export const fitOf = (side: 'left' | 'right', value: Partial<PinFit>, minute = 20): Change => {
  return (facts) => ({ fit: { ...facts.fit, [side]: taken({ ...goodFit, ...value }, minute) } })
}
export const stands = (change: Partial<JobFacts['asItStands']>): Change => {
  return (facts) => ({ asItStands: { ...facts.asItStands, ...change } })
}
export const end = (side: 'left' | 'right', value: Partial<typeof goodEnd>, minute = 102): Change => {
  return (facts) => stands({ runout: { ...facts.asItStands.runout, [side]: taken({ ...goodEnd, ...value }, minute) } })(facts)
}
const noEnd = (side: 'left' | 'right'): Change => {
  return (facts) => stands({ runout: { ...facts.asItStands.runout, [side]: null } })(facts)
}
export const received = (change: Partial<JobFacts['received']>): Change => {
  return (facts) => ({ received: { ...facts.received, ...change } })
}
export const parting = (change: Partial<NonNullable<JobFacts['parting']>>): Change => {
  return (facts) => ({ parting: { ...facts.parting!, ...change } })
}
export const second = (change: Partial<NonNullable<JobFacts['secondSet']>>): Change => {
  return (facts) => ({ secondSet: { ...facts.secondSet!, ...change } })
}
export const third = (left: number, right: number, minute = 115): JobFacts['thirdSet'] => ({
  takenAt: at(minute),
  tirMm: { left: taken(left, minute), right: taken(right, minute) },
})

/** Each line takes one thing away from a job whose gates are all open, and that one code has to come. */
export const ONE_AT_A_TIME: [Step, MissingCode, Change][] = [
  ['measured', 'width-as-received', received({ width: null })],
  ['measured', 'width-as-received', received({ width: taken({ 0: 63.99, 180: 64.06 }, 1) })],
  ['measured', 'runout-left-as-received', received({ runout: { left: null, right: taken(0.21, 2) } })],
  ['measured', 'runout-right-as-received', received({ runout: { left: taken(0.19, 2), right: notRead('the stub is bent') } })],
  ['measured', 'big-end-play', received({ bigEndPlay: null })],
  ['agreed', 'quote', () => ({ quote: null })],
  ['agreed', 'yes', () => ({ quote: { version: 2, yes: null } })],
  ['agreed', 'yes-to-the-present-quote', () => ({ quote: { version: 2, yes: { version: 1, by: 'A. Hollis', how: 'link' } } })],
  ['agreed', 'yes-by-whom-and-how', () => ({ quote: { version: 2, yes: { version: 2, by: ' ', how: 'link' } } })],
  ['agreed', 'yes-by-whom-and-how', () => ({ quote: { version: 2, yes: { version: 2, by: 'A. Hollis', how: '' } } })],
  ['apart', 'peak-tonnage-left', parting({ peakTonnes: { left: null, right: taken(5, PARTED) } })],
  ['apart', 'peak-tonnage-right', parting({ peakTonnes: { left: taken(9.5, PARTED), right: notRead('the gauge stuck') } })],
  ['apart', 'look-at-bores', parting({ look: null })],
  ['apart', 'crack', parting({ look: { galling: false, crack: true } })],
  ['apart', 'web-marks', parting({ webMarks: null })],
  ['apart', 'web-marks', parting({ webMarks: '  ' })],
  ['together', 'kit-lot', () => ({ kitLot: null })],
  ['together', 'fit-left', (facts) => ({ fit: { ...facts.fit, left: null } })],
  ['together', 'fit-right', (facts) => ({ fit: { ...facts.fit, right: notRead('the bore gauge is away') } })],
  ['together', 'fit-left-older-than-parting', fitOf('left', {}, PARTED - 1)],
  ['together', 'fit-right-older-than-parting', fitOf('right', {}, PARTED)],
  ['together', 'fit-left-not-of-the-kit-pin', fitOf('left', { pinIsOfKit: false })],
  ['together', 'fit-right-not-of-the-kit-pin', fitOf('right', { pinIsOfKit: false })],
  ['together', 'fit-left-below-shop-floor', fitOf('left', { verdict: 'below-shop-floor' })],
  ['together', 'fit-right-below-shop-floor', fitOf('right', { verdict: 'below-shop-floor' })],
  ['together', 'fit-left-under-scrap-floor', fitOf('left', { verdict: 'stop' })],
  ['together', 'fit-right-under-scrap-floor', fitOf('right', { verdict: 'stop' })],
  ['together', 'oil-hole', () => ({ oilHole: null })],
  ['together', 'oil-hole-masked', () => ({ oilHole: 'masked' })],
  ['together', 'width', stands({ width: null })],
  ['together', 'width', stands({ width: taken({ 0: 64, 90: 64, 180: 64 }, 100) })],
  ['together', 'width-older-than-last-move', stands({ width: taken({ 0: 64, 90: 64, 180: 64, 270: 64 }, PRESSED - 1) })],
  ['together', 'width-window', (facts) => ({ windows: { ...facts.windows, width: null } })],
  ['together', 'width-out-of-window', stands({ width: taken({ 0: 64.06, 90: 64.06, 180: 64.06, 270: 64.06 }, 100) })],
  ['together', 'width-out-of-window', stands({ width: taken({ 0: 63.94, 90: 63.94, 180: 63.94, 270: 63.94 }, 100) })],
  ['together', 'side-clearance', stands({ sideClearance: null })],
  ['together', 'side-clearance-older-than-last-move', stands({ sideClearance: taken(0.36, PRESSED) })],
  ['together', 'side-clearance-window', (facts) => ({ windows: { ...facts.windows, sideClearance: null } })],
  ['together', 'side-clearance-out-of-window', stands({ sideClearance: taken(0.24, 101) })],
  ['together', 'side-clearance-out-of-window', stands({ sideClearance: taken(0.51, 101) })],
  ['trued', 'runout-left', noEnd('left')],
  ['trued', 'runout-right', noEnd('right')],
  ['trued', 'runout-left-older-than-last-move', end('left', {}, LAST_MOVE - 1)],
  ['trued', 'runout-right-older-than-last-move', end('right', {}, LAST_MOVE)],
  ['trued', 'runout-left-not-cold', (facts) => ({ weldedAt: at(80), ...end('left', { cold: false })(facts) })],
  ['trued', 'runout-right-not-cold', (facts) => ({ weldedAt: at(80), ...end('right', { cold: false })(facts) })],
  ['trued', 'runout-left-older-than-last-move', (facts) => ({ weldedAt: at(95), ...end('left', {}, 94)(facts) })],
  ['trued', 'runout-left-not-at-stated-place', end('left', { atStatedPlace: false })],
  ['trued', 'runout-right-not-at-stated-place', end('right', { atStatedPlace: false })],
  ['trued', 'house-limit-left', (facts) => ({ limits: { ...facts.limits, left: null } })],
  ['trued', 'house-limit-right', (facts) => ({ limits: { ...facts.limits, right: null } })],
  ['trued', 'runout-left-over-house', end('left', { tirMm: 0.031 })],
  ['trued', 'runout-right-over-house', end('right', { tirMm: 0.031 })],
  ['trued', 'runout-left-over-house-inside-maker', end('left', { tirMm: 0.021 })],
  ['trued', 'runout-right-over-house-inside-maker', end('right', { tirMm: 0.021 })],
  ['trued', 'width', stands({ width: notRead('the micrometer is away') })],
  ['trued', 'width-older-than-last-move', stands({ width: taken({ 0: 64, 90: 64, 180: 64, 270: 64 }, 89) })],
  ['trued', 'width-out-of-window', stands({ width: taken({ 0: 64.06, 90: 64.06, 180: 64.06, 270: 64.06 }, 100) })],
  ['trued', 'side-clearance', stands({ sideClearance: null })],
  ['trued', 'side-clearance-older-than-last-move', stands({ sideClearance: taken(0.36, 89) })],
  ['trued', 'side-clearance-out-of-window', stands({ sideClearance: taken(0.51, 101) })],
  ['signed', 'second-reading', () => ({ secondSet: null })],
  ['signed', 'second-reading-left', second({ tirMm: { left: null, right: taken(0.015, 110) } })],
  ['signed', 'second-reading-right', second({ tirMm: { left: taken(0.011, 110), right: notRead('dial 4 fell') } })],
  ['signed', 'second-reading-by-the-same-person', second({ byAnotherPerson: false })],
  ['signed', 'second-reading-saw-the-first', second({ firstHidden: false })],
  ['signed', 'second-reading-older-than-last-move', second({ takenAt: at(LAST_MOVE) })],
  ['signed', 'second-reading-over-house-left', second({ tirMm: { left: taken(0.021, 110), right: taken(0.015, 110) } })],
  ['signed', 'second-reading-over-house-right', second({ tirMm: { left: taken(0.011, 110), right: taken(0.0201, 110) } })],
  ['signed', 'readings-differ-left', second({ tirMm: { left: taken(0.0006, 110), right: taken(0.015, 110) } })],
  ['signed', 'readings-differ-right', second({ tirMm: { left: taken(0.011, 110), right: taken(0.0026, 110) } })],
  [
    'signed',
    'third-set-settles-nothing',
    (facts) => ({ ...second({ tirMm: { left: taken(0.05, 110), right: taken(0.015, 110) } })(facts), thirdSet: third(0.03, 0.03) }),
  ],
  ['signed', 'instrument-overdue', () => ({ overdueInstruments: ['dial 4'] })],
  ['signed', 'instrument-in-doubt', () => ({ doubtedInstruments: ['dial 4 was dropped'] })],
  ['signed', 'certificate', () => ({ certificate: null })],
  ['signed', 'certificate-older-than-readings', () => ({ certificate: { madeAt: at(109) } })],
  ['gone', 'box-list', () => ({ boxListChecked: false })],
  ['gone', 'paid', () => ({ paid: false })],
  ['gone', 'paid', () => ({ paid: false, ownersWord: ' ' })],
]
