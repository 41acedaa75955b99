import { z } from 'zod'
import { FIT_VERDICTS } from '#core/fit.ts'
import { DIAMETER_MM, FRICTION, LENGTH_MM, LIST_MOST, PIN_HOLE_MM, POISSON, YOUNGS_GPA } from '#core/limits.ts'
import { answeredNumber, method, within } from './sum-figures.ts'

const metal = z.strictObject({
  youngsGPa: within(YOUNGS_GPA, 'Young’s modulus, GPa; 205 unless said').optional(),
  poisson: within(POISSON, 'Poisson’s ratio, no unit; 0.29 unless said').optional(),
})

export const fitIn = z
  .strictObject({
    pinMm: z
      .array(within(DIAMETER_MM, 'One reading of the pin, mm'))
      .min(1, 'At least one reading of the pin.')
      .max(LIST_MOST)
      .describe('Diameters of the pin end that sits in this web, mm'),
    boreMm: z
      .array(within(DIAMETER_MM, 'One reading of the bore, mm'))
      .min(1, 'At least one reading of the bore.')
      .max(LIST_MOST)
      .describe('Diameters of this web’s bore, mm'),
    engagementMm: within(LENGTH_MM, 'Length of pin in the bore, mm'),
    webOuterMm: within(
      DIAMETER_MM,
      'Outer diameter of the ring of metal that carries the pin, not the rim, mm, more than the bore; twice the bore unless said',
    ).optional(),
    pinHoleMm: within(PIN_HOLE_MM, 'Bore of a hollow pin, mm, less than the bore; 0 unless said').optional(),
    pin: metal.optional().describe('Metal of the pin, GPa and a ratio; steel unless said'),
    web: metal.optional().describe('Metal of the web, GPa and a ratio; steel unless said'),
    friction: z
      .strictObject({ low: within(FRICTION, 'Least friction, no unit'), high: within(FRICTION, 'Greatest friction, no unit') })
      .refine(({ low, high }) => low <= high, { path: ['high'], message: 'No less than low.' })
      .optional()
      .describe('Friction between pin and bore, no unit; 0.12 to 0.20 unless said'),
    floorMm: within(LENGTH_MM, 'Interference under which the web is scrap, mm; 0.0022 × bore unless said').optional(),
    shopFloorMm: within(LENGTH_MM, 'Interference under which the shop asks for a better fit, mm').optional(),
  })
  .superRefine((body, context) => {
    const bore = body.boreMm.reduce((greatest, mm) => Math.max(greatest, mm), 0)
    // A bore that is at fault itself says nothing about the ring and the hole.
    if (bore < DIAMETER_MM.min || bore > DIAMETER_MM.max) return
    if (body.webOuterMm !== undefined && body.webOuterMm <= bore) {
      context.addIssue({ code: 'custom', path: ['webOuterMm'], message: 'More than the greatest bore.' })
    }
    if (body.pinHoleMm !== undefined && body.pinHoleMm >= bore) {
      context.addIssue({ code: 'custom', path: ['pinHoleMm'], message: 'Less than the greatest bore.' })
    }
  })
  .describe('One pin end and the bore it sits in, mm')

export const fitOut = z
  .strictObject({
    interferenceMm: answeredNumber('Least pin less greatest bore, on the diameter, mm; less than 0 when the pin is loose'),
    pressureMPa: answeredNumber('Pressure between pin and bore, MPa'),
    boreHoopMPa: answeredNumber('Hoop stress in the web at the bore, MPa'),
    pressForceKN: z
      .strictObject({ low: answeredNumber('With the least friction, kN'), high: answeredNumber('With the greatest friction, kN') })
      .describe('Force to press it home or off, kN'),
    torqueNm: z
      .strictObject({ low: answeredNumber('With the least friction, N·m'), high: answeredNumber('With the greatest friction, N·m') })
      .describe('What it holds against turning about the pin, N·m'),
    verdict: z.enum(FIT_VERDICTS).describe('Against the two floors, no unit'),
    method,
  })
  .describe('What the fit holds, mm, MPa, kN and N·m')
