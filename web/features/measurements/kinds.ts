import type { EngineFigureName } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import type { MEASUREMENT_KINDS, PHASES } from '#contract/measurements.ts'
import type { CrankBuild } from '#core/crank-build.ts'
import { isEnd, type JobKind, type JobState, PATHS, placeOnPath } from '#core/steps.ts'

/** Kinds that are read place by place in lengths; both ends and the angles of the throws have screens of their own. */
export type ReadKind = Exclude<(typeof MEASUREMENT_KINDS)[number], 'runout' | 'phase'>
export type Phase = (typeof PHASES)[number]
export type SheetFigures = Partial<Readonly<Record<EngineFigureName, number>>>

export interface PlaceToRead {
  /** Its name on the wire. */
  place: string
  /** As the bench says it: `opposite the pin`. */
  says: string
  /** A set without it still says something. */
  mayBeLeftOut?: true
}

interface KindToRead {
  title: string
  /** How it is done, in one breath. */
  how: string
  places: readonly PlaceToRead[]
  instruments: readonly Instrument['kind'][]
  /** One step of what usually measures it, mm; counts where no instrument is named. */
  usualStepMm: number
  /** What the big key says. */
  takes: string
  /** Digits to show how it is keyed. */
  example: string
}

const BOTH_WEBS = ['left', 'right'] as const

export const KINDS: Readonly<Record<ReadKind, KindToRead>> = {
  width: {
    title: 'Width over webs',
    how: 'Micrometer over the outer faces, 0 at the pin, turned clockwise seen from the drive end.',
    places: [
      { place: '0', says: '0, at the pin' },
      { place: '90', says: '90' },
      { place: '180', says: '180, opposite' },
      { place: '270', says: '270' },
    ],
    instruments: ['micrometer'],
    usualStepMm: 0.01,
    takes: 'It measures this',
    example: '6406',
  },
  clearance: {
    title: 'Side clearance of the rod',
    how: 'Feeler between rod and washer, the rod pushed over to the other side.',
    places: [
      { place: 'left', says: 'left of the rod' },
      { place: 'right', says: 'right of the rod' },
    ],
    instruments: ['feeler'],
    usualStepMm: 0.01,
    takes: 'It goes in',
    example: '34',
  },
  play: {
    title: 'Big-end play',
    how: 'Pin at the top, rod straight up: pulled and pushed, dial on the rod. Rock: the small end from side to side.',
    places: [
      { place: 'up-down', says: 'up and down' },
      { place: 'rock', says: 'rock of the small end', mayBeLeftOut: true },
    ],
    instruments: ['dial'],
    usualStepMm: 0.01,
    takes: 'It reads this',
    example: '3',
  },
  rod: {
    title: 'Rod',
    how: 'Bend and twist over 100 mm on an arbor through the small end; small-end bore in two directions.',
    places: [
      { place: 'bend', says: 'bend over 100 mm', mayBeLeftOut: true },
      { place: 'twist', says: 'twist over 100 mm', mayBeLeftOut: true },
      { place: 'small-end-0', says: 'small end, along the rod', mayBeLeftOut: true },
      { place: 'small-end-90', says: 'small end, across', mayBeLeftOut: true },
    ],
    instruments: ['dial', 'bore-gauge', 'micrometer'],
    usualStepMm: 0.01,
    takes: 'It measures this',
    example: '4',
  },
  pin: {
    title: 'Pin',
    how: 'Micrometer at the two ends that sit in the webs, in two directions. Pin and bores on one standard.',
    places: BOTH_WEBS.flatMap((web) => [
      { place: `${web}-0`, says: `${web} end, 0`, mayBeLeftOut: true as const },
      { place: `${web}-90`, says: `${web} end, 90`, mayBeLeftOut: true as const },
    ]),
    instruments: ['micrometer'],
    usualStepMm: 0.001,
    takes: 'It measures this',
    example: '35012',
  },
  bore: {
    title: 'Bores of the webs',
    how: 'Bore gauge at two depths in two directions, each web. Pin and bores on one standard.',
    places: BOTH_WEBS.flatMap((web) =>
      (['outer', 'inner'] as const).flatMap((depth) =>
        (['0', '90'] as const).map((turn) => ({
          place: `${web}-${depth}-${turn}`,
          says: `${web} web, ${depth}, ${turn}`,
          mayBeLeftOut: true as const,
        })),
      ),
    ),
    instruments: ['bore-gauge'],
    usualStepMm: 0.001,
    takes: 'It measures this',
    example: '34905',
  },
  stack: {
    title: 'Webs, rod and washers apart',
    how: 'Each web beside its bore, the big end of the rod, both washers: what lies between the outer faces.',
    places: [
      { place: 'web-left', says: 'left web' },
      { place: 'web-right', says: 'right web' },
      { place: 'rod', says: 'rod, big end' },
      { place: 'washer-1', says: 'washer, left', mayBeLeftOut: true },
      { place: 'washer-2', says: 'washer, right', mayBeLeftOut: true },
    ],
    instruments: ['micrometer'],
    usualStepMm: 0.01,
    takes: 'It measures this',
    example: '1975',
  },
  centre: {
    title: 'Swing of the middle',
    how: 'The crank on the supports of the sheet, dial on the bearing seat between the throws, one full turn.',
    places: ['1', '2', '3', '4', '5'].map((place) => ({ place, says: `between throws ${place} and ${Number(place) + 1}` })),
    instruments: ['dial'],
    usualStepMm: 0.01,
    takes: 'It swings this',
    example: '3',
  },
}

/** The places of a kind on this crank: the middle is read between each two throws. */
export function placesOf(kind: ReadKind, build: CrankBuild | undefined): readonly PlaceToRead[] {
  const { places } = KINDS[kind]
  return kind === 'centre' ? places.slice(0, (build?.throws ?? 2) - 1) : places
}

export const READ_KINDS = Object.keys(KINDS) as ReadKind[]

export function isReadKind(word: string | undefined): word is ReadKind {
  return word !== undefined && Object.hasOwn(KINDS, word)
}

export interface PhaseChoice {
  value: Phase
  label: string
}

/** When a set of this kind can be taken as the job stands; the first is the likeliest. */
export function phasesFor(kind: ReadKind, jobKind: JobKind, state: JobState): readonly [PhaseChoice, ...PhaseChoice[]] {
  const received: PhaseChoice = { value: 'received', label: 'as it came in' }
  if (jobKind === 'check-and-report') return [received]
  const isIn = !isEnd(state) && placeOnPath(jobKind, state) <= PATHS[jobKind].indexOf('agreed')
  const onTheWay: PhaseChoice = { value: 'building', label: kind === 'pin' ? 'the pin that came out' : 'on the way' }
  const stands: PhaseChoice = { value: 'built', label: 'as it stands' }
  if (kind === 'pin') return [{ value: 'kit', label: 'the pin of the kit' }, onTheWay]
  if (kind === 'bore' || kind === 'stack') return [onTheWay]
  if (isIn)
    return kind === 'width' || kind === 'clearance' || kind === 'centre'
      ? [received, stands]
      : [received, { value: 'kit', label: 'of the kit' }]
  if (kind === 'rod') return [{ value: 'kit', label: 'of the kit' }, stands]
  return kind === 'play' ? [stands] : [stands, onTheWay]
}

/** About how long the thing is, where the sheet says so well enough that its whole millimetres need not be keyed. */
export function nearOf(kind: ReadKind, figures: SheetFigures): number | undefined {
  const { widthMinMm, widthMaxMm, pinDiameterMm } = figures
  if (kind === 'width') return widthMinMm === undefined || widthMaxMm === undefined ? undefined : (widthMinMm + widthMaxMm) / 2
  return kind === 'pin' || kind === 'bore' ? pinDiameterMm : undefined
}
