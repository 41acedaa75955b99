import type { z } from 'zod'
import type { certificateCorrection, certificateNew, certificateVoid } from '#contract/certificates.ts'
import { canonicalJson } from '#core/canonical-json.ts'
import { CHECK_CODE_BYTES, checkCodeFrom } from '#core/check-code.ts'
import { addEvent } from '#server/features/events/store.ts'
import { lockJob } from '#server/features/jobs/store.ts'
import { missingToSign, signedStep } from '#server/features/steps/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { notFound, Problem } from '#server/plugins/errors.ts'
import { gatherSheet, hasFinalSet } from './collect.ts'
import { givenFor } from './gather.ts'
import { sealOf } from './seal.ts'
import * as store from './store.ts'

/** What a sheet needs beside the act: chance for its check code, and the address its QR leads to. */
export interface SheetMaker {
  random: (bytes: number) => Uint8Array
  checkPage: (number: string, code: string) => string
}

/** Signs a job: the gate decides, the next number is taken, the data are sealed, and the step is reached, all in one act. */
export async function issueSheet(act: Act, jobId: string, wanted: z.infer<typeof certificateNew>, maker: SheetMaker): Promise<store.Sheet> {
  mustMaySign(act)
  const job = await lockJob(act.tx, jobId)
  if (!job) throw notFound('This job')
  if ((await store.sheetsOfJob(act.tx, jobId)).length > 0)
    throw new Problem('conflict-state', 'This job has a sheet already. Correct it, and the new one says that it replaces the old.')
  const id = await makeSheet(act, jobId, { id: wanted.id, replaces: null }, maker)
  await signedStep(act, jobId)
  return (await store.sheetById(act.tx, id))!
}

/** A corrected sheet has its own number, names the one it replaces, and says why; the old one stays as it is. */
export async function correctSheet(
  act: Act,
  id: string,
  wanted: z.infer<typeof certificateCorrection>,
  maker: SheetMaker,
): Promise<store.Sheet> {
  const old = await standing(act, id)
  await mustBeReadInFull(act, old.jobId)
  const newId = await makeSheet(act, old.jobId, { id: wanted.id, replaces: { sheet: old, reason: wanted.reason } }, maker)
  return (await store.sheetById(act.tx, newId))!
}

export async function voidSheet(act: Act, id: string, wanted: z.infer<typeof certificateVoid>): Promise<store.Sheet> {
  const old = await standing(act, id)
  await store.addVoid(act, id, wanted.reason)
  const number = store.printedNumber(old.number)
  await addEvent(act, old.jobId, { kind: 'sheet-void', says: `Sheet ${number} is void: ${wanted.reason}`, data: { number } })
  act.note('void certificate', 'certificate', id, { after: { number }, reason: wanted.reason })
  return (await store.sheetById(act.tx, id))!
}

/** A job taken back and worked on again is read twice before its sheet is corrected, as before its first one. */
async function mustBeReadInFull(act: Act, jobId: string): Promise<void> {
  const job = await lockJob(act.tx, jobId)
  if (job?.state === 'signed' || job?.state === 'gone') return
  const missing = await missingToSign(act.tx, jobId, act.now)
  if (missing.length > 0)
    throw new Problem('gate-not-met', 'The crank was worked on since this sheet: read it twice again before the sheet is corrected.', {
      missing,
    })
}

async function standing(act: Act, id: string): Promise<store.Sheet> {
  const known = await store.sheetById(act.tx, id)
  if (!known) throw notFound('This sheet')
  await lockJob(act.tx, known.jobId)
  const sheet = (await store.sheetById(act.tx, id))!
  if (sheet.void) throw new Problem('conflict-state', `Sheet ${store.printedNumber(sheet.number)} is void.`)
  if (sheet.replacedBy)
    throw new Problem(
      'conflict-state',
      `Sheet ${store.printedNumber(sheet.number)} was replaced by ${sheet.replacedBy.number}. Change that one.`,
    )
  return sheet
}

async function makeSheet(
  act: Act,
  jobId: string,
  wanted: { id: string | undefined; replaces: { sheet: store.Sheet; reason: string } | null },
  maker: SheetMaker,
): Promise<string> {
  const number = await store.takeNumber(act.tx)
  const printed = store.printedNumber(number)
  const checkCode = checkCodeFrom(maker.random(CHECK_CODE_BYTES))
  const replaces =
    wanted.replaces === null ? undefined : { number: store.printedNumber(wanted.replaces.sheet.number), reason: wanted.replaces.reason }
  const given = await givenFor(act.tx, jobId, act.by.id, act.now)
  if (!hasFinalSet(given))
    throw new Problem(
      'conflict-state',
      'Both ends were never read on this crank, and a sheet of runout says nothing without them. Read them first.',
    )
  const data = gatherSheet({
    ...given,
    signedBy: act.by.name,
    now: act.now.toISOString(),
    number: printed,
    checkCode,
    pageUrl: maker.checkPage(printed, checkCode),
    bookHead: await store.chainHead(act.tx),
    replaces,
  })
  const id = await store.addSheet(act, {
    id: wanted.id,
    number,
    jobId,
    text: canonicalJson(data),
    seal: sealOf(data),
    checkCode,
    replacesId: wanted.replaces?.sheet.id ?? null,
    reason: wanted.replaces?.reason ?? null,
  })
  const says =
    replaces === undefined ? `Sheet ${printed} made and signed` : `Sheet ${printed} replaces ${replaces.number}: ${replaces.reason}`
  await addEvent(act, jobId, { kind: 'sheet', says, data: { number: printed } })
  act.note(replaces === undefined ? 'issue certificate' : 'correct certificate', 'certificate', id, {
    after: { number: printed },
    reason: replaces?.reason,
  })
  return id
}

function mustMaySign(act: Act): void {
  if (!act.by.maySign && act.by.role !== 'owner') throw new Problem('forbidden', 'Signing is not open to you yet. The owner can open it.')
}
