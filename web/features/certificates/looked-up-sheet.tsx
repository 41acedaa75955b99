import type { LookedUp } from '#contract/certificates.ts'
import { dayInWords } from '#core/days-in-words.ts'
import { CertificateRows } from '#web/features/certificates/certificate-rows.tsx'

export interface LookedUpSheetProps {
  sheet: LookedUp
  /** SHA-256 of the file that was dropped in, where one was. */
  fileSha256?: string | undefined
  fileName?: string | undefined
}

const STANDING_WORDS = { stands: 'It stands.', replaced: 'It is replaced.', void: 'It is void.' } as const

/** What the shop's book says of a sheet: whether it stands, its own figures, and whether a file is the very file drawn. */
export function LookedUpSheet({ sheet, fileSha256, fileName }: LookedUpSheetProps) {
  const holds = sheet.standing === 'stands'
  return (
    <section aria-labelledby="standing">
      <div className="standing">
        <p className="standing-word" id="standing">
          <span className={holds ? undefined : 'over'}>{STANDING_WORDS[sheet.standing]}</span>
        </p>
        <p>{sheet.standingSays}</p>
        {fileSha256 !== undefined && <SameFile sheet={sheet} sha256={fileSha256} name={fileName ?? 'The file'} />}
      </div>
      <h2>
        {sheet.heading} No. <span className="fig">{sheet.number}</span>
      </h2>
      <p className="soft">
        {sheet.shop} · {sheet.crank} · issued {dayInWords(sheet.issuedOn)}
      </p>
      <p className="sheet-plain">{sheet.plain}</p>
      <CertificateRows rows={sheet.lines} caption={`Figures of sheet ${sheet.number}, as the shop's book has them`} />
      <p className="soft">
        Compare these figures with the sheet in your hand. Fingerprint of the figures: <span className="seal fig">{sheet.seal}</span>
      </p>
    </section>
  )
}

function SameFile({ sheet, sha256, name }: { sheet: LookedUp; sha256: string; name: string }) {
  if (sheet.files.includes(sha256))
    return (
      <p>
        <b>{name} is the very file that was drawn of this sheet</b>, byte for byte.
      </p>
    )
  return (
    <p>
      <b className="over">{name} is not the file that was drawn.</b> It may have been printed or saved anew, or changed. Go by the figures
      below, not by the file.
    </p>
  )
}
