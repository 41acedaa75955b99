import { z } from 'zod'
import { engineBuild } from './crank-build.ts'
import { id, instant, line, optionalLine, pageOf, pageQuery, prose, version } from './primitives.ts'

/** The figures of a model sheet: name on the wire, what it is, and the range it may have. All mm. */
export const ENGINE_FIGURES = {
  strokeMm: { says: 'Stroke', min: 10, max: 300 },
  widthMinMm: { says: 'Width over webs, least', min: 10, max: 300 },
  widthMaxMm: { says: 'Width over webs, most', min: 10, max: 300 },
  clearanceMinMm: { says: 'Rod side clearance, least', min: 0.01, max: 5 },
  clearanceMaxMm: { says: 'Rod side clearance, most', min: 0.01, max: 5 },
  pinDiameterMm: { says: 'Crankpin diameter', min: 1, max: 300 },
  pinLengthMm: { says: 'Crankpin length', min: 1, max: 300 },
  engagementMm: { says: 'Bore length in the web', min: 1, max: 300 },
  fitMinMm: { says: 'Pin fit by the sheet, least', min: 0, max: 1 },
  fitMaxMm: { says: 'Pin fit by the sheet, most', min: 0, max: 1 },
  shopFloorMm: { says: 'Pin fit, floor of the shop', min: 0, max: 1 },
  supportLeftMm: { says: 'Crank centre to left support', min: 1, max: 1000 },
  supportRightMm: { says: 'Crank centre to right support', min: 1, max: 1000 },
  dialLeftMm: { says: 'Left support to dial, + outboard', min: -1000, max: 1000 },
  dialRightMm: { says: 'Right support to dial, + outboard', min: -1000, max: 1000 },
  limitMakerLeftMm: { says: 'Runout allowed by the maker, left, full swing at that dial', min: 0.001, max: 1 },
  limitMakerRightMm: { says: 'Runout allowed by the maker, right, full swing at that dial', min: 0.001, max: 1 },
  limitHouseLeftMm: { says: 'Runout allowed by the house, left, full swing at that dial', min: 0.001, max: 1 },
  limitHouseRightMm: { says: 'Runout allowed by the house, right, full swing at that dial', min: 0.001, max: 1 },
  playLimitMm: { says: 'Big-end play allowed', min: 0.001, max: 2 },
  rimRadiusMm: { says: 'Shaft centre to web rim', min: 5, max: 500 },
} as const
export type EngineFigureName = keyof typeof ENGINE_FIGURES
export const ENGINE_FIGURE_NAMES = Object.keys(ENGINE_FIGURES) as [EngineFigureName, ...EngineFigureName[]]

export const SOURCES = ['makers-book', 'common-practice', 'from-memory', 'worked-out', 'measured-here', 'invented'] as const
export const source = z.enum(SOURCES).describe('Where the figure comes from; invented is for demo books only')
const figureName = z.enum(ENGINE_FIGURE_NAMES).describe('Which figure of the sheet')

function fits(figure: { name: EngineFigureName; value: number }): boolean {
  const { min, max } = ENGINE_FIGURES[figure.name]
  return figure.value >= min && figure.value <= max && !(figure.name.startsWith('dial') && Math.abs(figure.value) < 1)
}

export const figureNew = z
  .strictObject({
    name: figureName,
    value: z.number().describe('The figure, mm'),
    source,
    note: optionalLine().optional().describe('Page, edition, or why it was corrected'),
  })
  .refine(fits, { path: ['value'], message: 'This figure is out of its range.' })
export type FigureNew = z.infer<typeof figureNew>

/** A correction names the version it corrects, so that two people cannot correct past each other. */
export const figureCorrection = z
  .strictObject({
    id: id.optional(),
    name: figureName,
    value: z.number().describe('The figure as it should be, mm'),
    source,
    note: line().describe('Why, and from where'),
    replaces: z.int().min(0).describe('Version of this figure that was seen; 0 where the sheet had none'),
  })
  .refine(fits, { path: ['value'], message: 'This figure is out of its range.' })
export type FigureCorrection = z.infer<typeof figureCorrection>

export const engineFigure = z.strictObject({
  name: figureName,
  value: z.number().describe('The figure, mm'),
  source,
  note: z.string().optional().describe('Page, edition, or why it was corrected'),
  version: z.int().describe('Counts the corrections of this figure'),
  at: instant.describe('When it was written down'),
  by: z.string().optional().describe('Who wrote it down'),
})
export type EngineFigure = z.infer<typeof engineFigure>

const surface = line(80).describe('What the dial stands on, such as taper 1:5, keyway skipped')

export const engineNew = z.strictObject({
  id: id.optional(),
  maker: line(80).describe('Maker'),
  code: line(80).describe('Model code'),
  cycle: z.enum(['2T', '4T']).describe('Two-stroke or four-stroke'),
  surfaceLeft: surface,
  surfaceRight: surface,
  note: prose(1000).optional().describe('What surprised us about this engine'),
  figures: z.array(figureNew).max(ENGINE_FIGURE_NAMES.length).describe('The figures known so far'),
  build: engineBuild.optional().describe('How the crank is put together; one throw with one rod unless said'),
})
export type EngineNew = z.infer<typeof engineNew>

export const engineCopy = z.strictObject({
  id: id.optional(),
  maker: line(80).describe('Maker of the new sheet'),
  code: line(80).describe('Model code of the new sheet'),
})

export const engineChange = z.strictObject({
  maker: line(80).optional().describe('Maker'),
  code: line(80).optional().describe('Short stable code'),
  cycle: z.enum(['2T', '4T']).optional().describe('Two-stroke or four-stroke'),
  surfaceLeft: surface.optional(),
  surfaceRight: surface.optional(),
  note: prose(1000).nullable().optional().describe('Note; null takes it away'),
  build: engineBuild.nullable().optional().describe('How the crank is put together; null: one throw with one rod'),
})
export type EngineChange = z.infer<typeof engineChange>

export const engine = z.strictObject({
  id,
  maker: z.string().describe('Maker'),
  code: z.string().describe('Model code'),
  cycle: z.enum(['2T', '4T']).describe('Two-stroke or four-stroke'),
  surfaceLeft: z.string().describe('What the left dial stands on'),
  surfaceRight: z.string().describe('What the right dial stands on'),
  note: z.string().optional().describe('What surprised us about this engine'),
  figures: z.array(engineFigure).describe('The figures that stand, one a name'),
  build: engineBuild.optional().describe('How the crank is put together; absent: one throw with one rod'),
  earlier: z.array(engineFigure).optional().describe('Earlier versions of corrected figures, newest first (single sheet only)'),
  copiedFrom: z.string().optional().describe('Maker and code of the sheet this one was copied from'),
  version,
})
export type Engine = z.infer<typeof engine>

export const engineRow = z.strictObject({
  id,
  maker: z.string().describe('Maker'),
  code: z.string().describe('Model code'),
  cycle: z.enum(['2T', '4T']).describe('Two-stroke or four-stroke'),
  strokeMm: z.number().optional().describe('Stroke, mm'),
  widthMm: z.number().optional().describe('Middle of the width window, mm'),
  cranksHere: z.int().describe('Jobs we have had on this engine'),
})
export type EngineRow = z.infer<typeof engineRow>
export const engineQuery = z.strictObject({ q: optionalLine(100).optional().describe('Part of maker or code'), ...pageQuery })
export const enginePage = pageOf(engineRow)
