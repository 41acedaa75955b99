/** The mark that a demo book is filled to the end; a book marked demo without it was stopped half way. */
import type { Act } from '#server/plugins/act.ts'
import type { Db } from '#server/plugins/database.ts'

const KEY = 'demo-filled'

export async function markFilled(act: Act): Promise<void> {
  await act.tx.setting.create({ data: { key: KEY, value: true, changedAt: act.now }, select: { key: true } })
}

export async function isFilled(db: Db): Promise<boolean> {
  const row = await db.prisma.setting.findUnique({ where: { key: KEY }, select: { value: true } })
  return row?.value === true
}
