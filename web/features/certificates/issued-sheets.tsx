import type { CertificateOfJob } from '#contract/certificates.ts'
import { type Paper, paperAddress, useCorrect, useVoid } from '#web/features/certificates/queries.ts'
import { dayAndTime } from '#web/lib/format.ts'
import { inWords } from '#web/lib/problem.ts'
import { Reason } from '#web/ui/reason.tsx'

export interface IssuedSheetsProps {
  jobId: string
  issued: CertificateOfJob['issued']
  zone: string
  now: number
  /** The shop's own paper first. */
  paper: Paper
  mayCorrect: boolean
}

type Sheet = CertificateOfJob['issued'][number]

/** Every sheet of the job, the newest first: number, check code, the paper, and what became of it. */
export function IssuedSheets({ jobId, issued, zone, now, paper, mayCorrect }: IssuedSheetsProps) {
  const papers: readonly Paper[] = paper === 'A4' ? ['A4', 'Letter'] : ['Letter', 'A4']
  return (
    <section aria-labelledby="issued">
      <h2 id="issued">{issued.length === 1 ? 'The sheet' : 'The sheets, newest first'}</h2>
      <ol className="sheets">
        {issued.map((sheet) => (
          <li key={sheet.id} data-standing={standingOf(sheet)}>
            <p className="sheet-number">
              No. <span className="fig">{sheet.number}</span> · check code <span className="fig">{sheet.checkCode}</span>
            </p>
            <p>
              Signed by {sheet.issuedBy}, {dayAndTime(sheet.issuedAt, zone, now)}. {becameOf(sheet, zone, now)}
            </p>
            <p className="sheet-papers">
              {papers.map((size) => (
                <a key={size} className="quiet" href={paperAddress(sheet.id, size)} target="_blank" rel="noreferrer">
                  {`Open No. ${sheet.number}, ${size}`}
                </a>
              ))}
            </p>
            <details>
              <summary>Seal</summary>
              <p className="seal">
                {sheet.seal.alg}, over the figures of the sheet: <span className="fig">{sheet.seal.value}</span>
              </p>
            </details>
            {mayCorrect && standingOf(sheet) === 'stands' && <Correcting jobId={jobId} sheet={sheet} />}
          </li>
        ))}
      </ol>
    </section>
  )
}

function standingOf(sheet: Sheet): 'stands' | 'replaced' | 'void' {
  if (sheet.void !== undefined) return 'void'
  return sheet.replacedBy === undefined ? 'stands' : 'replaced'
}

function becameOf(sheet: Sheet, zone: string, now: number): string {
  const replaces = sheet.replaces === undefined ? '' : `Replaces No. ${sheet.replaces}: ${sheet.reason ?? ''} `
  if (sheet.void !== undefined)
    return `${replaces}Void since ${dayAndTime(sheet.void.at, zone, now)}, by ${sheet.void.by}: ${sheet.void.reason}`
  if (sheet.replacedBy !== undefined) return `${replaces}Replaced by No. ${sheet.replacedBy}.`
  return `${replaces}It stands.`
}

/** The owner's two ways with a sheet that is wrong. */
function Correcting({ jobId, sheet }: { jobId: string; sheet: Sheet }) {
  const correct = useCorrect(jobId)
  const voided = useVoid(jobId)
  return (
    <div className="correcting">
      <Reason
        open={`Correct No. ${sheet.number}`}
        label="Why is it replaced?"
        confirm="Make the corrected sheet"
        most={400}
        busy={correct.isPending}
        error={correct.error === null ? undefined : inWords(correct.error)}
        onConfirm={(reason) => correct.mutate({ sheetId: sheet.id, correction: { reason } })}
      >
        <p>
          A new sheet with its own number is made from the readings as they stand now. It says that it replaces No. {sheet.number} and why;
          the old one stays in the book and says that it is replaced.
        </p>
      </Reason>
      <Reason
        open={`Make No. ${sheet.number} void`}
        label="Why is it void?"
        confirm="Make it void"
        most={400}
        busy={voided.isPending}
        error={voided.error === null ? undefined : inWords(voided.error)}
        onConfirm={(reason) => voided.mutate({ sheetId: sheet.id, voided: { reason } })}
      >
        <p>The number stays taken, and whoever looks the sheet up reads that it is void and why. This cannot be taken back.</p>
      </Reason>
    </div>
  )
}
