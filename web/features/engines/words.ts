import type { ENGINE_FIGURES, Engine, EngineFigureName, EngineRow, SOURCES } from '#contract/engines.ts'
import { figure } from '#web/lib/format.ts'

export const CYCLE_WORDS = { '2T': 'two-stroke', '4T': 'four-stroke' } as const

export const SOURCE_WORDS: Readonly<Record<(typeof SOURCES)[number], string>> = {
  'makers-book': 'maker’s book',
  'common-practice': 'common practice',
  'from-memory': 'from memory',
  'worked-out': 'worked out',
  'measured-here': 'measured here',
  invented: 'invented (demo)',
}

/** A figure in mm without idle noughts, at least two decimals: `64.00`, `0.0125`. */
export function sheetFigure(valueMm: number): string {
  return figure(valueMm, 5).replace(/(\.\d\d)(\d*?)0+$/, '$1$2')
}

/** `four-stroke, 62.4 stroke, width 64.00` */
export function engineLine(row: Pick<EngineRow, 'cycle' | 'strokeMm' | 'widthMm'>): string {
  return [
    CYCLE_WORDS[row.cycle],
    row.strokeMm === undefined ? undefined : `${String(Number(row.strokeMm.toFixed(3)))} stroke`,
    row.widthMm === undefined ? undefined : `width ${sheetFigure(row.widthMm)}`,
  ]
    .filter((one) => one !== undefined)
    .join(', ')
}

export function engineName(sheet: Pick<Engine, 'maker' | 'code'>): string {
  return `${sheet.maker} ${sheet.code}`
}

/** The figures of a sheet as they belong together at the bench. */
export const FIGURE_GROUPS: readonly { title: string; names: readonly EngineFigureName[] }[] = [
  { title: 'Crank', names: ['strokeMm', 'widthMinMm', 'widthMaxMm', 'clearanceMinMm', 'clearanceMaxMm', 'playLimitMm', 'rimRadiusMm'] },
  { title: 'Pin and fit', names: ['pinDiameterMm', 'pinLengthMm', 'engagementMm', 'fitMinMm', 'fitMaxMm', 'shopFloorMm'] },
  { title: 'Where it is held and read', names: ['supportLeftMm', 'supportRightMm', 'dialLeftMm', 'dialRightMm'] },
  {
    title: 'Runout allowed',
    names: ['limitMakerLeftMm', 'limitMakerRightMm', 'limitHouseLeftMm', 'limitHouseRightMm'],
  },
] satisfies { title: string; names: (keyof typeof ENGINE_FIGURES)[] }[]

export const CENTRE_WORDS = { pressed: 'a shaft pressed in', integral: 'of one piece' } as const

/** How a crank is put together, in a line; undefined where it is one throw with one rod and nothing between the webs. */
export function buildWords({ build }: Pick<Engine, 'build'>): string | undefined {
  if (build === undefined) return undefined
  const { throws, rodsOnAPin, phaseDeg, phaseLimitDeg, centre, centreLimitMm, trapped } = build
  const angles = phaseDeg.map((angle) => `${angle}°`).join(', ')
  return [
    throws > 1 ? `${throws} throws at ${angles}${phaseLimitDeg === undefined ? '' : `, ${phaseLimitDeg}° either way`}` : 'one throw',
    rodsOnAPin === 2 ? 'two rods on one pin' : undefined,
    centre === undefined
      ? undefined
      : `the middle ${CENTRE_WORDS[centre]}${centreLimitMm === undefined ? '' : `, may swing ${centreLimitMm}`}`,
    trapped.length === 0 ? undefined : `between the webs: ${trapped.map(({ what }) => what).join(', ')}`,
  ]
    .filter((one) => one !== undefined)
    .join(' · ')
}
