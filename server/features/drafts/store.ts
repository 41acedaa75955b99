import type { z } from 'zod'
import type { draft } from '#contract/drafts.ts'
import { Prisma } from '#prisma/client/client.ts'
import type { Act } from '#server/plugins/act.ts'
import { ask, type Db } from '#server/plugins/database.ts'

type Draft = z.infer<typeof draft>

export async function readDraft(db: Db, personId: string, form: string): Promise<Draft | null> {
  const row = await db.prisma.draft.findUnique({ where: { personId_form: { personId, form } }, select: { data: true, changedAt: true } })
  return row && { data: row.data as Draft['data'], changedAt: row.changedAt.toISOString() }
}

export async function keepDraft(act: Act, form: string, data: Draft['data']): Promise<Draft> {
  const kept = { data: data as Prisma.InputJsonObject, changedAt: act.now }
  await act.tx.draft.upsert({
    where: { personId_form: { personId: act.by.id, form } },
    create: { personId: act.by.id, form, ...kept },
    update: kept,
    select: { form: true },
  })
  return { data, changedAt: act.now.toISOString() }
}

/** Throws away the caller's own draft of a form, if there is one. */
export async function dropDraft(act: Act, form: string): Promise<void> {
  await ask(act.tx, Prisma.sql`DELETE FROM draft WHERE person_id = ${act.by.id}::uuid AND form = ${form}`)
}
