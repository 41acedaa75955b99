import { z } from 'zod'
import { LENGTH_MM, LIST_MOST, PART_TEMPERATURE_C } from '#core/limits.ts'
import { answeredNumber, method, within } from './sum-figures.ts'

/** A window whose ends must stand the right way round; the fault is shown at the greater end. */
function window(what: string) {
  return z
    .strictObject({ minMm: within(LENGTH_MM, `Least ${what}, mm`), maxMm: within(LENGTH_MM, `Greatest ${what}, mm`) })
    .refine(({ minMm, maxMm }) => minMm <= maxMm, { path: ['maxMm'], message: 'No less than minMm.' })
    .describe(`Window of the ${what}, mm, both ends allowed`)
}

export const widthIn = z
  .strictObject({
    webLeftMm: within(LENGTH_MM, 'Thickness of the left web beside the bore, mm'),
    webRightMm: within(LENGTH_MM, 'Thickness of the right web beside the bore, mm'),
    rodWidthMm: within(LENGTH_MM, 'Width of the rod at the big end, mm'),
    washersMm: z
      .array(within(LENGTH_MM, 'Thickness of one thrust washer, mm'))
      .max(LIST_MOST)
      .describe(`Thrust washers, mm each, none to ${LIST_MOST}`),
    clearance: window('side clearance'),
    width: window('width over the webs'),
    widthNowMm: within(LENGTH_MM, 'Width over the webs as it measures now, mm').optional(),
    partTemperatureC: within(PART_TEMPERATURE_C, 'Temperature of the crank when that was measured, °C; 20 unless said').optional(),
  })
  .describe('Stack of the big end and its two windows, mm at 20 °C')

export const widthOut = z
  .strictObject({
    stackMm: answeredNumber('Webs, rod and washers one on another, mm'),
    window: z
      .strictObject({
        minMm: answeredNumber('Least width that meets both windows, mm'),
        maxMm: answeredNumber('Greatest width that meets both windows, mm'),
      })
      .nullable()
      .describe('Widths that meet both windows, mm; null when there is none'),
    aim: z
      .strictObject({ widthMm: answeredNumber('Width to aim at, mm'), clearanceMm: answeredNumber('Side clearance at that width, mm') })
      .optional()
      .describe('Middle of the window, mm; absent when there is none'),
    possible: z.boolean().describe('Whether any width meets both windows, no unit'),
    clearanceNowMm: answeredNumber('Side clearance as it is now, mm').optional(),
    toGoMm: answeredNumber('Width now less the aim, mm: + is still to press').optional(),
    method,
  })
  .describe('The width to press to, mm at 20 °C')
