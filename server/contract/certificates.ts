import { z } from 'zod'
import { joint } from './crank-build.ts'
import { id, instant, line, recorded } from './primitives.ts'

const missing = z.strictObject({
  code: z.string().describe('Short stable code'),
  joint: joint.optional(),
  detail: z.string().describe('What it is, in bench words'),
  pass: z.enum(['owner', 'never']).describe('Whether the owner may let it pass with a reason'),
})

export const certificateRow = z.strictObject({
  id,
  number: z.string().describe('Number of the sheet, without gaps'),
  issuedAt: instant,
  issuedBy: z.string().describe('Who signed it'),
  checkCode: z.string().describe('Check code for looking it up, such as 7K4M-9QTX'),
  seal: z
    .strictObject({
      alg: z.string().describe('Digest of the seal'),
      keyId: z.string().nullable().describe('Key of the seal; null for a bare digest'),
      value: z.string().describe('The seal, hex, over the RFC 8785 form of the data'),
    })
    .describe('What holds the data together'),
  replaces: z.string().optional().describe('Number of the sheet it replaces'),
  reason: z.string().optional().describe('Why it replaces it'),
  replacedBy: z.string().optional().describe('Number of the sheet that replaces it'),
  void: z
    .strictObject({ reason: z.string().describe('Why'), at: instant, by: z.string().describe('Who') })
    .optional()
    .describe('Void, and why'),
})

export const certificateOfJob = z.strictObject({
  mayIssue: z.boolean().describe('A sheet can be made now by this person'),
  missing: z.array(missing).describe('What stands against it'),
  plain: z.string().optional().describe('The plain line it would carry'),
  lines: z
    .array(
      z.strictObject({
        what: z.string().describe('What it is'),
        notes: z.array(z.string()).describe('What prints small beneath it: what the dial stood on, where a limit was given'),
        asReceived: z.string().describe('As received, as it prints'),
        now: z.string().describe('Now, as it prints'),
        giveOrTake: z.string().describe('Give or take, as it prints'),
        allowed: z.string().describe('What is allowed, as it prints'),
        verdict: z.string().describe('The verdict in words'),
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
  number: z.string().describe('Number of the sheet'),
  heading: z.string().describe('What the sheet is'),
  standing: z.enum(['stands', 'replaced', 'void']).describe('Whether it stands'),
  standingSays: z.string().describe('The same in a sentence'),
  shop: z.string().describe('Name of the shop'),
  issuedOn: z.string().describe('Day of issue, YYYY-MM-DD'),
  crank: z.string().describe('Maker, code, tag'),
  plain: z.string().describe('The plain line of the sheet'),
  lines: z
    .array(
      z.strictObject({
        what: z.string().describe('What it is'),
        now: z.string().describe('Now, as it prints'),
        allowed: z.string().describe('What is allowed, as it prints'),
        verdict: z.string().describe('The verdict in words'),
      }),
    )
    .describe('The rows of the sheet, as they print'),
  seal: z.string().describe('The seal, hex'),
  files: z.array(z.string()).describe('SHA-256 of every file drawn of this sheet'),
})
export type LookedUp = z.infer<typeof lookedUp>

/** The customer's page: where the crank is, in plain words; no name, no address. */
export const yourCrank = z.strictObject({
  shop: z.string().describe('Name of the shop'),
  tag: z.string().describe('Tag of the job, such as 318-V'),
  engine: z.string().describe('Maker and code of the engine'),
  kind: z.string().describe('Kind of job'),
  state: z.string().describe('Last step done, or the end'),
  path: z.array(z.string()).describe('Steps of this kind of job'),
  headline: z.string().describe('Where it is, in a sentence'),
  waiting: z.array(z.string()).describe('What it waits for, in sentences'),
  promisedOn: z.string().optional().describe('YYYY-MM-DD'),
  found: z.array(z.string()).describe('What we found, in sentences'),
  money: z.array(z.string()).describe('What was said yes to, in sentences'),
  photos: z
    .array(z.strictObject({ id, caption: z.string().optional().describe('What it shows'), at: instant }))
    .describe('Photos, oldest first'),
  certificate: z
    .strictObject({ number: z.string().describe('Number of the sheet'), checkCode: z.string().describe('Check code of the sheet') })
    .optional()
    .describe('Its certificate, once there is one'),
})
export type YourCrank = z.infer<typeof yourCrank>
