import '#web/features/certificates/certificates.css'
import { type ReactNode, useState } from 'react'
import type { CertificateOfJob } from '#contract/certificates.ts'
import { CertificateRows } from '#web/features/certificates/certificate-rows.tsx'
import { GateReading, type GateReadingProps } from '#web/features/certificates/gate-reading.tsx'
import { IssuedSheets } from '#web/features/certificates/issued-sheets.tsx'
import { type Paper, useSign } from '#web/features/certificates/queries.ts'
import { newId } from '#web/lib/id.ts'
import { inWords } from '#web/lib/problem.ts'
import { useNow } from '#web/lib/use-clock.ts'
import { Button } from '#web/ui/button.tsx'

export interface SignScreenProps {
  jobId: string
  certificate: CertificateOfJob
  /** What the owner let pass, as it prints. */
  passes: readonly string[]
  gate: GateReadingProps
  /** The paper is headed so: certificate or report. */
  paperWord: 'certificate' | 'report'
  zone: string
  paper: Paper
  maySign: boolean
  isOwner: boolean
  /** The owner's way to let something pass. */
  letPass?: ReactNode
  /** The way to where a missing thing is taken, by its code. */
  wayTo?(missing: CertificateOfJob['missing'][number]): ReactNode
}

/** What is missing that the signing itself brings. */
const BROUGHT_BY_SIGNING: readonly string[] = ['certificate', 'certificate-older-than-readings']

/** The sheet before it is signed, to the letter, and the sheets once they are. */
export function SignScreen(props: SignScreenProps) {
  const { jobId, certificate, passes, gate, paperWord, zone, paper, maySign, isOwner, letPass, wayTo } = props
  const now = useNow(60_000)
  const { issued, plain, lines } = certificate
  const missing = certificate.missing.filter((one) => !BROUGHT_BY_SIGNING.includes(one.code))
  return (
    <div className="sign">
      {issued.length > 0 && <IssuedSheets jobId={jobId} issued={issued} zone={zone} now={now} paper={paper} mayCorrect={isOwner} />}
      {issued.length === 0 && (
        <>
          {plain !== undefined && <p className="sheet-plain">{plain}</p>}
          {lines !== undefined && <CertificateRows rows={lines} caption={`Rows of the ${paperWord} as they print`} />}
          {plain === undefined && (
            <p>
              {maySign
                ? `Nothing to show yet: the readings that make the ${paperWord} are not all in.`
                : 'Signing is not open to you. Somebody who may sign sees here what will print.'}
            </p>
          )}
        </>
      )}
      <GateReading {...gate} />
      {passes.length > 0 && (
        <section aria-labelledby="let-pass">
          <h2 id="let-pass">Let pass, and printed so</h2>
          <ul className="sheet-passes">
            {passes.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </section>
      )}
      {issued.length === 0 && missing.length > 0 && (
        <section aria-labelledby="still-missing">
          <h2 id="still-missing">Still missing</h2>
          <ul className="sheet-missing">
            {missing.map((one) => (
              <li key={one.detail}>
                <span>
                  {one.detail}
                  {one.pass === 'never' && <b> Nobody can let this pass.</b>}
                </span>
                {wayTo?.(one)}
              </li>
            ))}
          </ul>
          {letPass}
        </section>
      )}
      {issued.length === 0 && maySign && <SignIt jobId={jobId} ready={missing.length === 0} paperWord={paperWord} />}
    </div>
  )
}

function SignIt({ jobId, ready, paperWord }: { jobId: string; ready: boolean; paperWord: string }) {
  const sign = useSign(jobId)
  // The act's own id: a second press after no answer is the same sheet.
  const [id] = useState(newId)
  return (
    <div className="sign-it">
      {ready && (
        <p>
          Signing gives the sheet its number and seals these figures. A {paperWord} cannot be changed after; a wrong one is replaced by a
          corrected one, and says so.
        </p>
      )}
      {sign.error !== null && (
        <p role="alert" className="wrong">
          It is not signed. {inWords(sign.error)}
        </p>
      )}
      <Button kind={ready ? 'go' : 'quiet'} disabled={!ready} busy={sign.isPending} onClick={() => sign.mutate({ id })}>
        Sign it
      </Button>
    </div>
  )
}
