import type { z } from 'zod'
import type { certificateRow } from '#contract/certificates.ts'
import { printedNumber, type Sheet } from './store.ts'

export function rowOf(sheet: Sheet): z.infer<typeof certificateRow> {
  return {
    id: sheet.id,
    number: printedNumber(sheet.number),
    issuedAt: sheet.issuedAt.toISOString(),
    issuedBy: sheet.issuedBy,
    checkCode: sheet.checkCode,
    seal: sheet.seal,
    ...(sheet.replaces === null ? {} : { replaces: sheet.replaces }),
    ...(sheet.reason === null ? {} : { reason: sheet.reason }),
    ...(sheet.replacedBy === null ? {} : { replacedBy: sheet.replacedBy.number }),
    ...(sheet.void === null ? {} : { void: { reason: sheet.void.reason, at: sheet.void.at.toISOString(), by: sheet.void.by } }),
  }
}
