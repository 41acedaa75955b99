import type { WaitingFor } from '#core/steps.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Tx } from '#server/plugins/database.ts'
import { dateColumn } from '#server/plugins/shop-day.ts'

export async function openWait(tx: Tx, jobId: string, what: WaitingFor): Promise<{ id: string } | null> {
  return tx.jobWait.findFirst({ where: { jobId, what, endedAt: null }, select: { id: true } })
}

export interface WaitColumns {
  note: string | null
  dueOn: string | null
}

export async function startWait(
  act: Act,
  wait: WaitColumns & { id?: string | undefined; jobId: string; what: WaitingFor; since: Date },
): Promise<void> {
  const { id, dueOn, ...rest } = wait
  await act.tx.jobWait.create({
    data: { ...rest, dueOn: dueOn === null ? null : dateColumn(dueOn), ...(id === undefined ? {} : { id }) },
    select: { id: true },
  })
}

export async function changeWait(act: Act, id: string, { note, dueOn }: WaitColumns): Promise<void> {
  await act.tx.jobWait.update({ where: { id }, data: { note, dueOn: dueOn === null ? null : dateColumn(dueOn) }, select: { id: true } })
}

/** Ends the open wait of a kind; false where there is none. */
export async function endWait(act: Act, jobId: string, what: WaitingFor, at: Date): Promise<boolean> {
  const { count } = await act.tx.jobWait.updateMany({
    where: { jobId, what, endedAt: null },
    data: { endedAt: at, endedById: act.by.id },
  })
  return count > 0
}
