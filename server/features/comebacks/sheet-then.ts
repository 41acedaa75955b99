/** One report as it is read: beside it what our sheet said then, and what the crank reads now that it is here again. */
import type { Comeback, SheetThen } from '#contract/comebacks.ts'
import type { Measurement } from '#contract/measurements.ts'
import type { Role } from '#contract/people.ts'
import { type CertificateData, type Figured, wasRead } from '#core/certificate.ts'
import { certificateTable, DASH, figureText } from '#core/certificate-figures.ts'
import { repeatsCertificate } from '#core/comeback.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import { printedNumber, type Sheet, sheetsOfJob } from '#server/features/certificates/store.ts'
import { readBench } from '#server/features/measurements/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'
import { notFound } from '#server/plugins/errors.ts'
import { readReport } from './store.ts'

/** Set-ups whose supports or dials lie further apart than this are not compared, mm. */
const SAME_PLACE_MM = 0.5
const USUAL_STEP_MM = 0.01

export async function comebackAsItStands(act: Act, id: string): Promise<Comeback> {
  return readComeback(act.tx, id, act.by)
}

/** A report with our sheet of that job, as this person may see it. */
export async function readComeback(db: Tx | Db['prisma'], id: string, reader: { id: string; role: Role }): Promise<Comeback> {
  const { zone } = await readSettings(db)
  const report = await readReport(db, id, { seesCustomers: reader.role !== 'bench', zone })
  if (report === null) throw notFound('This report')
  const sheets = await sheetsOfJob(db, report.job.id)
  const sheet = sheets.find((one) => one.void === null && one.replacedBy === null) ?? sheets[0]
  if (sheet === undefined) return report
  const again = report.newJob === undefined ? [] : (await readBench(db, report.newJob.id, reader.id)).measurements
  return { ...report, sheet: sheetThen(sheet, again) }
}

function sheetThen(sheet: Sheet, measuredAgain: readonly Measurement[]): SheetThen {
  const { data } = sheet
  const again = receivedAgain(measuredAgain)
  const [left, right, ...rest] = certificateTable(data)
  // Of a crank with several throws the rows of each follow; what came in again is compared at the ends alone.
  const nows = data.throws === undefined ? [again.width, again.clearance, again.play].map(spreadNow) : []
  const lines = [
    { line: left!, ...endNow(data, 'left', again.runout) },
    { line: right!, ...endNow(data, 'right', again.runout) },
    ...rest.map((line, place) => ({ line, now: nows[place] })),
  ]
  const text = (figured: Figured) => (wasRead(figured) ? figureText(figured, 'mm', 'high') : DASH)
  return {
    id: sheet.id,
    number: printedNumber(sheet.number),
    issuedOn: data.issuedOn,
    stands: sheet.void !== null ? 'void' : sheet.replacedBy !== null ? 'replaced' : 'stands',
    lines: lines.map(({ line, now, ...more }) => ({
      ...(line.end === undefined ? {} : { end: line.end }),
      what: line.what,
      said: line.nowMm,
      giveOrTake: line.giveOrTake,
      allowed: line.allowed,
      verdict: line.verdict,
      past: line.past,
      ...(now === undefined ? {} : { now }),
      ...more,
    })),
    ...(data.fit === undefined ? {} : { fit: { left: text(data.fit.left), right: text(data.fit.right) } }),
    ...(data.again === undefined ? {} : { checkedBy: data.again.by }),
    signedBy: data.signed.by,
    passes: data.passes.map(({ what, reason }) => ({ what, reason })),
  }
}

/** The newest set of each kind as it came in again; one that was not read, or is hidden from this reader, is none. */
function receivedAgain(sets: readonly Measurement[]) {
  const newest = (kind: Measurement['kind']) =>
    sets.findLast((set) => set.kind === kind && set.phase === 'received' && set.struck === undefined && set.values.length > 0)
  return { runout: newest('runout'), width: newest('width'), clearance: newest('clearance'), play: newest('play') }
}

function endNow(data: CertificateData, side: Side, set: Measurement | undefined): { now?: string; repeats?: boolean } {
  const end = set?.runout?.[side]
  if (set === undefined || end === undefined) return {}
  const now = figureText({ mm: end.tirMm, stepMm: set.instrument?.stepMm ?? USUAL_STEP_MM }, 'mm', 'low')
  const { final, giveOrTakeMm } = data[side]
  const giveOrTakeNow = side === 'left' ? set.runout?.giveOrTake.leftMm : set.runout?.giveOrTake.rightMm
  if (!wasRead(final) || giveOrTakeMm === undefined || giveOrTakeNow === undefined || !liesAsThen(data, set)) return { now }
  const repeats = repeatsCertificate({
    thenMm: final.mm,
    nowMm: end.tirMm,
    giveOrTakeThenMm: giveOrTakeMm,
    giveOrTakeNowMm: giveOrTakeNow,
  })
  return { now, repeats }
}

function liesAsThen({ setup }: CertificateData, set: Measurement): boolean {
  const now = set.setup
  if (now === undefined || now.held !== setup.held) return false
  const places = { left: [now.supportLeftMm, now.dialLeftMm], right: [now.supportRightMm, now.dialRightMm] } as const
  return SIDES.every((side) => {
    const [supportMm, dialMm] = places[side]
    return Math.abs(supportMm - setup[side].supportMm) <= SAME_PLACE_MM && Math.abs(dialMm - setup[side].dialMm) <= SAME_PLACE_MM
  })
}

/** `64.00`, or `63.99 to 64.06` where the places differ. */
function spreadNow(set: Measurement | undefined): string | undefined {
  if (set === undefined) return undefined
  const decimals = String(set.instrument?.stepMm ?? USUAL_STEP_MM).split('.')[1]?.length ?? 0
  const values = set.values.filter((value) => value.place !== 'rock').map((value) => value.mm)
  if (values.length === 0) return undefined
  const [least, most] = [Math.min(...values), Math.max(...values)].map((mm) => mm.toFixed(decimals))
  return least === most ? least : `${least} to ${most}`
}
