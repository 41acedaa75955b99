/**
 * The rules by which the office counts, each as one plain sentence that stands beside its figure, and the names of the
 * figures behind which there is a list of cranks. Source: how the shop counts, decided once.
 */

/** Figures of which the cranks can be listed. */
export const CRANK_FIGURES = [
  'house',
  'late',
  'promised',
  'waiting',
  'ready',
  'deposits',
  'done-not-collected',
  'unpaid',
  'in',
  'out',
  'first-check',
  'comebacks',
  'running',
  'still-out',
  'earning',
] as const
export type CrankFigure = (typeof CRANK_FIGURES)[number]

/** What the comebacks are told apart by. */
export const COMEBACK_KEYS = ['cause', 'lot', 'engine', 'person'] as const
export type ComebackKey = (typeof COMEBACK_KEYS)[number]

/** Money owed on a crank that went home is shown after so many days. Common practice, no source. */
export const UNPAID_DAYS = 30

/** A check of an instrument is shown so many days before it is due. Common practice, no source. */
export const INSTRUMENT_DAYS = 7

/** A lot is held for more than chance where its p, for as many lots as are looked at, is under this. Common practice. */
export const LOT_CHANCE = 0.05

/** The rule of each figure whose cranks can be listed. */
export const CRANK_RULES: Readonly<Record<CrankFigure, string>> = {
  house: 'Cranks booked in and not gone home, given back or scrapped.',
  late: 'Promise before today, in the zone of the shop, and not yet signed. Signed and not fetched is never late.',
  promised: 'Not yet signed, and promised for a day from Monday to Sunday of this week.',
  waiting: 'In the house and waiting for a kit, a yes or somebody outside, from the day that was said.',
  ready: 'Signed and not gone home. Owed is what was agreed and is not paid.',
  deposits: 'In the house, with deposits taken and not given back.',
  'done-not-collected': 'Signed, not gone home, and something of what was agreed is not paid.',
  unpaid: `Gone home more than ${UNPAID_DAYS} days ago, and something of what was agreed is not paid.`,
  in: 'Cranks by the day they were booked in, in the zone of the shop.',
  out: 'Cranks by the day they went home, were given back or scrapped, in the zone of the shop.',
  'first-check':
    'The first set of runout readings by the second person, by its day; inside where both ends are within the house limit. Struck-out sets do not count, nor do sets with an end not read or without a limit, nor jobs to check and report. By person: whoever called it true.',
  comebacks:
    'Cranks by the day they went home; back where a report of them came within 12 months of it, whoever is to blame. Struck-out reports do not count. Cranks gone less than 12 months ago are counted, and their number stands beside. By person: whoever called it true.',
  running:
    'Cranks that went home with a kit, by hours ridden since, to the whole hour above. One that is reported back fell at those hours; one that is not runs at the hours last heard of, and at 0 where nobody was asked. Struck-out reports and calls do not count.',
  'still-out': 'Gone home with a kit of this lot, not reported back, not in the house again, and no other kit fitted since.',
  earning:
    'Rebuilt cranks by the day they went home, with bench hours and an agreed price. Price is the last agreed quote without tax; hours are all bench-clock time on the job after corrections.',
}

/** The rules of what is no list of cranks. */
export const OFFICE_RULES = {
  stay: 'Days from the day a crank was booked in to the day it left, in the zone of the shop, of those that left in these weeks. Half and 17 in 20 are percentiles of type 7 after Hyndman and Fan.',
  flow: 'Weeks run from Monday to Sunday, in the zone of the shop. In: by the day booked in. Out: by the day it went home, was given back or scrapped. The last week counts up to today.',
  little:
    'Little’s law: in hand = cranks a day × days here. A day: those that left in these weeks, by the days from the first Monday to today. Days here: their mean.',
  instruments: `In use, and the check is due within ${INSTRUMENT_DAYS} days or was due before.`,
  proof: 'The last time that a backup was restored into a book of its own and found whole. It should be less than 48 hours ago.',
  lot: 'Each lot against all other kits by Fisher’s exact test, two-sided. A lot is called not chance where two or more came back, more often than of the others, and its p, raised for as many lots as could show anything with their few cranks (Holm, Tarone), is under 0.05.',
  freeHours:
    'Bench hours left this week: the hours of a week less those clocked since Monday, and no more than a fifth of them for each day from today to Friday. A crank asks for the median of the last ten of its engine and kind, else of the shop, less what is clocked on it.',
} as const

/** What a list of cranks is of, in words. */
export const CRANK_TITLES: Readonly<Record<CrankFigure, string>> = {
  house: 'In the house',
  late: 'Late',
  promised: 'Promised this week',
  waiting: 'Waiting',
  ready: 'Ready to go home',
  deposits: 'Deposits held',
  'done-not-collected': 'Done, not fetched and not paid',
  unpaid: `Gone home more than ${UNPAID_DAYS} days ago and not paid`,
  in: 'Booked in',
  out: 'Left the house',
  'first-check': 'Checked by the second person',
  comebacks: 'Gone home',
  running: 'Gone home with a kit',
  'still-out': 'Still out running with this lot',
  earning: 'Rebuilt, with hours and a price',
}
