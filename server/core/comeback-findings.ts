/** What can be seen on a crank that came back, and what each sight speaks for. Facts only; who is to blame is decided after them. */

export const FINDINGS = [
  'washers-both-blue',
  'washer-one-blue',
  'cage-broken',
  'track-spalled-edge',
  'track-spalled-all-over',
  'pin-shifted',
  'width-changed',
  'clearance-under',
  'oil-hole-masked',
  'oil-path-starved',
  'seal-land-grooved',
  'bearing-loose-in-case',
  'stuffer-loose',
  'repeats-certificate',
  'nothing-wrong',
] as const
export type Finding = (typeof FINDINGS)[number]

/**
 * Each finding as the bench says it, and what it speaks for: workmanship, a part, or the engine and its use. Common practice,
 * no source.
 */
export const FINDING_WORDS: Readonly<Record<Finding, { says: string; speaksFor: string }>> = {
  'washers-both-blue': { says: 'both washers blue', speaksFor: 'thin oil, or too little side clearance' },
  'washer-one-blue': { says: 'one washer blue', speaksFor: 'side load' },
  'cage-broken': { says: 'cage broken', speaksFor: 'the cage or its lot, where the washers are not blue; else the heat' },
  'track-spalled-edge': { says: 'track spalled at the edge', speaksFor: 'webs not parallel, or a bent rod' },
  'track-spalled-all-over': { says: 'track spalled all over', speaksFor: 'water, rust or dirt, or a soft pin' },
  'pin-shifted': {
    says: 'pin shifted, witness line broken',
    speaksFor: 'a low fit or a worn bore; or a seizure, a kickback, a puller, a drop',
  },
  'width-changed': { says: 'width changed', speaksFor: 'not pressed home; or the cases squeezed it' },
  'clearance-under': { says: 'side clearance under the window', speaksFor: 'our width or the kit’s washers' },
  'oil-hole-masked': { says: 'oil hole masked', speaksFor: 'our pressing' },
  'oil-path-starved': { says: 'oil path starved', speaksFor: 'pump, blocked feed, oil not changed; or a width over the window' },
  'seal-land-grooved': { says: 'seal land grooved', speaksFor: 'a dry seal or sand; or a land that we did not note' },
  'bearing-loose-in-case': {
    says: 'bearing loose in the case',
    speaksFor: 'the case bore, thin premix, dirt; or a loose seat that we passed',
  },
  'stuffer-loose': { says: 'stuffer loose', speaksFor: 'not rung or not secured; or the size of the plug' },
  'repeats-certificate': { says: 'reading repeats the certificate', speaksFor: 'the crank is as it left' },
  'nothing-wrong': { says: 'nothing wrong found', speaksFor: 'balance, or what was hoped for' },
}

/** Sights that speak of a sound crank; everything else is a fault. */
const SOUND: readonly Finding[] = ['repeats-certificate', 'nothing-wrong']

/** Pairs that one crank cannot show at once. */
const EITHER_OR: readonly (readonly [Finding, Finding])[] = [
  ['washers-both-blue', 'washer-one-blue'],
  ['track-spalled-edge', 'track-spalled-all-over'],
  ['repeats-certificate', 'pin-shifted'],
  ['repeats-certificate', 'width-changed'],
]

/** Whether any of these is a fault. */
export function showsAFault(found: readonly Finding[]): boolean {
  return found.some((one) => !SOUND.includes(one))
}

/**
 * What cannot be true together of one crank, in a sentence; null where the findings agree. The same finding twice does not
 * agree either.
 *
 * @example findingsClash(['washers-both-blue', 'cage-broken']) // null
 * @example findingsClash(['nothing-wrong', 'cage-broken']) // 'Nothing wrong found and cage broken cannot both be.'
 *
 * Source: common practice, no source.
 */
export function findingsClash(found: readonly Finding[]): string | null {
  if (new Set(found).size < found.length) return 'The same finding stands there twice.'
  const fault = found.find((one) => !SOUND.includes(one))
  const pairs = fault === undefined ? EITHER_OR : [['nothing-wrong', fault] as const, ...EITHER_OR]
  const clash = pairs.find(([one, other]) => found.includes(one) && found.includes(other))
  if (clash === undefined) return null
  const [one, other] = clash.map((each) => FINDING_WORDS[each].says) as [string, string]
  return `${one.charAt(0).toUpperCase()}${one.slice(1)} and ${other} cannot both be.`
}
