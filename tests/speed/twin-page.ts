/** The twin's page of one job, which its booking answers too. */
import type pg from 'pg'
import { daysLate } from '#core/calendar.ts'
import { owesMinor } from '#core/owes.ts'
import { pageStatement, type ReadPage } from '#server/features/job-page/store.ts'

export interface Twin {
  pool: pg.Pool
  clock: () => Date
}

export interface Person {
  id: string
  name: string
}

export const OWNER = 'owner'
export const ZONE = 'UTC'

/** The page of one job as the owner reads it. */
export async function readPage(pool: Pick<pg.Pool, 'query'>, id: string, today: string): Promise<object> {
  const { text, values } = pageStatement(id, { role: OWNER, zone: ZONE, today })
  const { rows } = await pool.query<{ page: ReadPage }>({ name: 'page', text, values })
  const page = rows[0]!.page
  const days = daysLate({ promised: page.promisedOn ?? null, today, state: page.state })
  const paid = (what: string) => (page.payments ?? []).filter((payment) => payment.what === what).map((payment) => payment.amountMinor)
  const owes = owesMinor({
    agreedMinor: page.quotes?.find((quote) => quote.yes !== undefined)?.totalMinor ?? null,
    deposits: paid('deposit'),
    payments: paid('payment'),
    givenBack: paid('back'),
  })
  const signed = page.state === 'signed' ? page.steps.find((step) => step.step === 'signed') : undefined
  return {
    ...page,
    late: days > 0,
    ...(days > 0 ? { daysLate: days } : {}),
    toldLate: days > 0 && page.toldLate,
    ...(signed === undefined ? {} : { readySince: signed.at }),
    ...(owes === null ? {} : { owes }),
  }
}
