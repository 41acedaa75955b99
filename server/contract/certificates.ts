import { z } from 'zod'
import { id, instant, line, recorded } from './primitives.ts'

const missing = z.strictObject({ code: z.string(), detail: z.string(), pass: z.enum(['owner', 'never']) })

export const certificateRow = z.strictObject({
  id,
  number: z.string().describe('Number of the sheet, without gaps'),
  issuedAt: instant,
  issuedBy: z.string(),
  checkCode: z.string().describe('Check code for looking it up, such as 7K4M-9QTX'),
  seal: z.strictObject({
    alg: z.string().describe('Digest of the seal'),
    keyId: z.string().nullable().describe('Key of the seal; null for a bare digest'),
    value: z.string().describe('The seal, hex, over the RFC 8785 form of the data'),
  }),
  replaces: z.string().optional().describe('Number of the sheet it replaces'),
  reason: z.string().optional().describe('Why it replaces it'),
  replacedBy: z.string().optional().describe('Number of the sheet that replaces it'),
  void: z.strictObject({ reason: z.string(), at: instant, by: z.string() }).optional(),
})

export const certificateOfJob = z.strictObject({
  mayIssue: z.boolean().describe('A sheet can be made now by this person'),
  missing: z.array(missing).describe('What stands against it'),
  plain: z.string().optional().describe('The plain line it would carry'),
  lines: z
    .array(
      z.strictObject({
        what: z.string(),
        asReceived: z.string(),
        now: z.string(),
        giveOrTake: z.string(),
        allowed: z.string(),
        verdict: z.string(),
      }),
    )
    .optional()
    .describe('The rows it would carry, as they print'),
  issued: z.array(certificateRow).describe('Sheets of this job, newest first'),
})
export type CertificateOfJob = z.infer<typeof certificateOfJob>

export const certificateNew = z.strictObject({ ...recorded })
export const certificateCorrection = z.strictObject({
  ...recorded,
  reason: line(400).describe('Why the sheet is replaced; prints on the new one'),
})
export const certificateVoid = z.strictObject({ ...recorded, reason: line(400).describe('Why the sheet is void') })
export const paperQuery = z.strictObject({ paper: z.enum(['A4', 'Letter']).optional().describe('Paper size; the shop’s unless said') })

/** Looking a sheet up: by number and code, or by the SHA-256 of the file, worked out in the browser. */
export const lookUp = z.union([
  z.strictObject({ number: line(20).describe('Number of the sheet'), code: line(20).describe('Check code') }),
  z.strictObject({
    sha256: z
      .string()
      .regex(/^[0-9a-f]{64}$/, 'Sixty-four hexadecimal figures.')
      .describe('SHA-256 of the file'),
  }),
])
export const lookedUp = z.strictObject({
  number: z.string(),
  heading: z.string().describe('What the sheet is'),
  standing: z.enum(['stands', 'replaced', 'void']).describe('Whether it stands'),
  standingSays: z.string().describe('The same in a sentence'),
  shop: z.string(),
  issuedOn: z.string().describe('Day of issue, YYYY-MM-DD'),
  crank: z.string().describe('Maker, code, tag'),
  plain: z.string().describe('The plain line of the sheet'),
  lines: z.array(z.strictObject({ what: z.string(), now: z.string(), allowed: z.string(), verdict: z.string() })),
  seal: z.string().describe('The seal, hex'),
  files: z.array(z.string()).describe('SHA-256 of every file drawn of this sheet'),
})
export type LookedUp = z.infer<typeof lookedUp>

/** The customer's page: where the crank is, in plain words; no name, no address. */
export const yourCrank = z.strictObject({
  shop: z.string(),
  tag: z.string(),
  engine: z.string(),
  kind: z.string(),
  state: z.string().describe('Last step done, or the end'),
  path: z.array(z.string()).describe('Steps of this kind of job'),
  headline: z.string().describe('Where it is, in a sentence'),
  waiting: z.array(z.string()).describe('What it waits for, in sentences'),
  promisedOn: z.string().optional().describe('YYYY-MM-DD'),
  found: z.array(z.string()).describe('What we found, in sentences'),
  money: z.array(z.string()).describe('What was said yes to, in sentences'),
  photos: z.array(z.strictObject({ id, caption: z.string().optional(), at: instant })),
  certificate: z.strictObject({ number: z.string(), checkCode: z.string() }).optional(),
})
export type YourCrank = z.infer<typeof yourCrank>
