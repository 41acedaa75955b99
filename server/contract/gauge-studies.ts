import { z } from 'zod'
import { GAUGE_VERDICTS } from '#core/gauge-study.ts'
import { id, instant, line, pageOf, pageQuery, recorded } from './primitives.ts'
import { gaugeOut } from './sum-gauge.ts'

export const STUDY_LIMITS = { parts: { min: 2, max: 30 }, people: { min: 2, max: 3 }, rounds: { min: 2, max: 5 } } as const

export const gaugeStudyNew = z.strictObject({
  id: id.optional(),
  name: line(80).describe('What the study is called, such as dial 4 on five cranks'),
  instrumentId: id.describe('Id of the instrument that is read'),
  what: line(120).describe('What is read, such as full swing at the left end'),
  toleranceMm: z.number().gt(0).max(10).optional().describe('Width of the window that the instrument has to judge, mm'),
  parts: z.array(line(40)).min(STUDY_LIMITS.parts.min).max(STUDY_LIMITS.parts.max).describe('Names of the parts, each another'),
  people: z.array(id).min(STUDY_LIMITS.people.min).max(STUDY_LIMITS.people.max).describe('Ids of the people who read'),
  rounds: z.int().min(STUDY_LIMITS.rounds.min).max(STUDY_LIMITS.rounds.max).describe('How often each person reads each part'),
})
export type GaugeStudyNew = z.infer<typeof gaugeStudyNew>

export const STUDY_STATES = ['open', 'all-in', 'given-up'] as const
const head = {
  id,
  name: z.string().describe('What the study is called'),
  state: z
    .enum(STUDY_STATES)
    .describe('open: readings are missing and all are hidden; all-in: everybody has read; given-up: it ended before'),
  instrument: z
    .strictObject({ id, name: z.string().describe('Name as the bench calls it'), stepMm: z.number().describe('One division, mm') })
    .describe('The instrument that is read'),
  what: z.string().describe('What is read'),
  startedAt: instant.describe('When it was started, RFC 3339'),
  startedBy: z.string().describe('Name of whoever started it'),
  closedAt: instant.optional().describe('When the last reading came in, or it was given up'),
  closedBecause: z.string().optional().describe('Why it was given up'),
  taken: z.int().describe('Readings that are in'),
  wanted: z.int().describe('Readings that it needs in all'),
}
export const gaugeStudyRow = z.strictObject(head)
export type GaugeStudyRow = z.infer<typeof gaugeStudyRow>
export const gaugeStudies = pageOf(gaugeStudyRow)

const at = {
  part: z.int().describe('Which part, counted from 1'),
  round: z.int().describe('Which round, counted from 1'),
}
export const studyReading = z.strictObject({
  ...at,
  personId: id.describe('Id of whoever read it'),
  mm: z.number().describe('What was read, mm'),
})

export const studyResult = z.strictObject({
  readings: z.array(studyReading).describe('Every reading, by part, person and round'),
  answer: gaugeOut.optional().describe('What the sum comes to; absent where it cannot be worked out'),
  verdict: z.enum(GAUGE_VERDICTS).optional().describe('good under 10 %, usable to 30 %, above that not'),
  says: z.array(z.string()).describe('The same in words, or why it cannot be worked out'),
})

export const gaugeStudy = z.strictObject({
  ...head,
  toleranceMm: z.number().optional().describe('Width of the window that the instrument has to judge, mm'),
  parts: z.array(z.string()).describe('Names of the parts in the order in which they are counted'),
  rounds: z.int().describe('How often each person reads each part'),
  people: z
    .array(
      z.strictObject({
        id,
        name: z.string().describe('Name'),
        taken: z.int().describe('How many readings are in'),
        wanted: z.int().describe('How many are needed'),
      }),
    )
    .describe('Who reads'),
  next: z
    .strictObject(at)
    .nullable()
    .optional()
    .describe('What you read next; null when yours are all in; absent where you do not read in it'),
  last: z
    .strictObject({ id, ...at, mm: z.number().describe('What you read, mm') })
    .optional()
    .describe('Your own last reading while the study is open, to strike out where it was mistyped'),
  result: studyResult.optional().describe('There once all readings are in'),
})
export type GaugeStudy = z.infer<typeof gaugeStudy>

export const gaugeReadingNew = z.strictObject({
  ...recorded,
  ...at,
  mm: z.number().min(-1000).max(1000).describe('What was read, mm'),
})
export type GaugeReadingNew = z.infer<typeof gaugeReadingNew>

export const studyBecause = z.strictObject({ because: line().describe('Why') })

export const studiesQuery = z.strictObject(pageQuery)
