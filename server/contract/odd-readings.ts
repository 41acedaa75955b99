import { z } from 'zod'
import { GAUGE_VERDICTS } from '#core/bench/gauge-and-fit.ts'
import { ODD_CODES } from '#core/bench/odd-reading.ts'

export const oddReading = z
  .strictObject({
    code: z
      .enum(ODD_CODES)
      .describe(
        'not-by-the-sheet: further from the window of the sheet than is plausible; not-like-the-tap-before: it left the row of taps; not-like-the-others: one place leaves the rest of its set; not-like-ours: the middle leaves our own last ones of this engine; warm: the part was more than 3 K from 20 °C',
      ),
    place: z.string().optional().describe('Which place of the set; absent where it is about the whole set'),
    likelyMm: z.number().optional().describe('What it would be without the slip of hand or eye that explains it, mm'),
    count: z.int().optional().describe('How many of ours it is compared with'),
    medianMm: z.number().optional().describe('Middle of those, mm'),
    wideMm: z.number().optional().describe('By how much a part that is not at 20 °C reads wide, mm; less than 0 narrow'),
    says: z.string().describe('What is odd, as a question to whoever read it'),
  })
  .describe('One thing about a set that is worth a second look; it is asked about and never refused')

export const oursWidths = z
  .strictObject({
    received: z
      .array(z.number().describe('Middle of one, mm at 20 °C'))
      .describe('Widths over webs as cranks of this engine came in, newest first, mm'),
    built: z
      .array(z.number().describe('Middle of one, mm at 20 °C'))
      .describe('Widths over webs as they went out of the press here, newest first, mm'),
  })
  .describe('Our own last widths of this engine, of other jobs, mm')

export const gaugeRead = z
  .strictObject({
    verdict: z.enum(GAUGE_VERDICTS).describe('The peak beside the band that the fit foretells, no unit; far: by more than a third'),
    says: z.string().optional().describe('What to look for; absent within the band'),
  })
  .describe('The peak of the gauge beside what the fit foretells')
