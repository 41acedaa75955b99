import type { CertificateOfJob } from '#contract/certificates.ts'
import { certificateTable } from '#core/certificate-figures.ts'
import { plainLine } from '#core/certificate-words.ts'
import { missingToSign } from '#server/features/steps/store.ts'
import type { Caller } from '#server/plugins/act.ts'
import type { Db } from '#server/plugins/database.ts'
import { gatherSheet, hasFinalSet } from './collect.ts'
import { givenFor } from './gather.ts'
import { rowOf } from './row.ts'
import { sheetsOfJob } from './store.ts'

/** The sheets of a job, and what the next one would say to the letter, with what stands against it. */
export async function previewSheet(db: Db['prisma'], jobId: string, caller: Caller, now: Date): Promise<CertificateOfJob> {
  const [given, sheets, missing] = await Promise.all([
    givenFor(db, jobId, caller.id, now),
    sheetsOfJob(db, jobId),
    missingToSign(db, jobId, now),
  ])
  const maySign = caller.role !== 'counter' && (caller.maySign || caller.role === 'owner')
  // The sheet would give the first reading away to somebody who is still to take the second.
  const hidden = given.bench.measurements.some((set) => set.hidden)
  const readable = !hidden && maySign && sheets.length === 0 && hasFinalSet(given)
  const preview = readable
    ? gatherSheet({ ...given, signedBy: caller.name, now: now.toISOString(), number: '0000', checkCode: '0000-0000', pageUrl: '' })
    : undefined
  return {
    mayIssue: maySign && missing.length === 0 && sheets.length === 0,
    missing,
    ...(preview === undefined
      ? {}
      : {
          plain: plainLine(preview),
          lines: certificateTable(preview).map((line) => ({
            what: line.what,
            notes: line.notes,
            asReceived: line.asReceived,
            now: line.nowMm,
            giveOrTake: line.giveOrTake,
            allowed: line.allowed,
            verdict: line.verdict,
          })),
        }),
    issued: sheets.map(rowOf),
  }
}
