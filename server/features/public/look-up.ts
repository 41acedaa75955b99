import type { LookedUp } from '#contract/certificates.ts'
import { certificateTable } from '#core/certificate-figures.ts'
import { HEADINGS, plainLine } from '#core/certificate-words.ts'
import { dayInWords } from '#core/days-in-words.ts'
import { printedNumber, type Sheet } from '#server/features/certificates/store.ts'

/** What anybody with number and code, or with the file, may read: the sheet's own figures and how it stands. No owner. */
export function lookedUpOf(sheet: Sheet, files: string[], dayOf: (at: Date) => string): LookedUp {
  const { data } = sheet
  const standing = sheet.void ? 'void' : sheet.replacedBy ? 'replaced' : 'stands'
  return {
    number: printedNumber(sheet.number),
    heading: HEADINGS[data.heading],
    standing,
    standingSays: sheet.void
      ? `This sheet was made void on ${dayInWords(dayOf(sheet.void.at))}: ${sheet.void.reason}`
      : sheet.replacedBy
        ? `This sheet was replaced by ${sheet.replacedBy.number} on ${dayInWords(dayOf(sheet.replacedBy.at))}. Ask for that one.`
        : `This sheet stands as it was issued on ${dayInWords(data.issuedOn)}.`,
    shop: data.shop.name,
    issuedOn: data.issuedOn,
    crank: `${data.crank.maker} ${data.crank.code}, tag ${data.crank.tag}`,
    plain: plainLine(data),
    lines: certificateTable(data).map((line) => ({ what: line.what, now: line.nowMm, allowed: line.allowed, verdict: line.verdict })),
    seal: sheet.seal.value,
    files,
  }
}
