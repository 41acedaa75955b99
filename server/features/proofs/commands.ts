import { NIGHT_AT, PROOF_HOURS, type Proof, type Proofs } from '#contract/proofs.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Db } from '#server/plugins/database.ts'
import { Problem } from '#server/plugins/errors.ts'
import { CUT_OFF_MS } from './nightly.ts'
import { addDrill, lastHeldDrill, listProofs, openDrill, queueDrill } from './store.ts'

const SHOWN = 30

const cutOff = (now: Date) => new Date(now.getTime() - CUT_OFF_MS)

export async function howItStands(db: Db['prisma'], now: Date): Promise<Proofs> {
  const lastHeld = await lastHeldDrill(db)
  const since = lastHeld === null ? Number.POSITIVE_INFINITY : now.getTime() - Date.parse(lastHeld.startedAt)
  return {
    lastHeld,
    overdue: since > PROOF_HOURS * 3_600_000,
    underWay: await openDrill(db, cutOff(now)),
    nightAt: NIGHT_AT,
    rows: await listProofs(db, SHOWN),
  }
}

/** Asks for a drill now; the background work begins it within seconds. */
export async function askForDrill(act: Act): Promise<Proof> {
  if (await openDrill(act.tx, cutOff(act.now)))
    throw new Problem('conflict-state', 'A drill is under way already. Wait until it has ended.')
  const asked = await addDrill(act.tx, act.now)
  await queueDrill(act.tx, asked.id)
  act.note('ask for a drill', 'proof', asked.id, {})
  return asked
}
