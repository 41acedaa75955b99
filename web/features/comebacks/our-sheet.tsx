import '#web/features/comebacks/comebacks.css'
import '#web/styles/lists.css'
import type { Comeback, SheetThen } from '#contract/comebacks.ts'
import { day } from '#web/lib/format.ts'
import { Over } from '#web/ui/notice.tsx'
import { type Column, Table } from '#web/ui/table.tsx'

const STANDS = { stands: '', replaced: ', replaced since', void: ', void since' } as const

/** What our sheet said when the crank left, and beside it what it reads now that it is here. */
export function OurSheet({ report, today }: { report: Comeback; today: string }) {
  const { sheet } = report
  return (
    <section aria-label="Our sheet then">
      <h2>Our sheet then</h2>
      {sheet === undefined ? (
        <p className="soft">No sheet was made for {report.job.tag}.</p>
      ) : (
        <>
          <p>
            <a href={`/api/certificates/${sheet.id}/paper.pdf`} target="_blank" rel="noopener">
              Certificate {sheet.number}
            </a>
            {STANDS[sheet.stands]}, {day(sheet.issuedOn, today)}. In mm.
          </p>
          <div className="our-sheet">
            <Table
              caption="What our sheet said, and what it reads now"
              columns={columnsOf(sheet.lines.some((line) => line.now !== undefined))}
              rows={sheet.lines}
              rowKey={(line) => line.what}
              empty="The sheet has no figures."
            />
          </div>
        </>
      )}
      <dl className="facts">
        <Fact name="Kit" says={report.kit && `${report.kit.maker} ${report.kit.part}, lot ${report.kit.lot}, ${report.kit.whose}`} />
        <Fact name="Fit" says={sheet?.fit && `left ${sheet.fit.left} mm, right ${sheet.fit.right} mm`} />
        <Fact name="Built by" says={report.builders.length > 0 ? report.builders.join(', ') : undefined} />
        <Fact name="Read again by" says={sheet?.checkedBy} />
        <Fact name="Signed by" says={sheet?.signedBy} />
        <Fact name="Oil" says={report.oil} />
        <Fact name="Use" says={report.usedFor} />
        <Fact name="Fitted by" says={report.whoFits} />
        {sheet !== undefined && sheet.passes.length > 0 && (
          <>
            <dt>Let pass</dt>
            <dd>
              {sheet.passes.map((pass) => (
                <p key={`${pass.what} ${pass.reason}`}>
                  {pass.what} Because: {pass.reason}
                </p>
              ))}
            </dd>
          </>
        )}
      </dl>
    </section>
  )
}

function Fact({ name, says }: { name: string; says: string | undefined }) {
  if (says === undefined) return null
  return (
    <>
      <dt>{name}</dt>
      <dd>{says}</dd>
    </>
  )
}

type Line = SheetThen['lines'][number]

function columnsOf(withNow: boolean): Column<Line>[] {
  const now: Column<Line> = {
    id: 'now',
    head: 'Reads now',
    narrow: 'under',
    cell: (line) =>
      line.now === undefined ? (
        <span className="soft">not read again</span>
      ) : (
        <>
          <span className="narrow-only">now </span>
          <b className="fig">{line.now}</b>
          {line.repeats === true && <small> as it left</small>}
          {line.repeats === false && (
            <small>
              {' '}
              <Over>▲ not as it left</Over>
            </small>
          )}
        </>
      ),
  }
  return [
    { id: 'what', head: 'What', narrow: 'main', cell: (line) => line.what },
    {
      id: 'said',
      head: 'Our sheet',
      narrow: 'right',
      cell: (line) => (
        <>
          <b className="fig">{line.said}</b> {/\d/.test(line.giveOrTake) && <small>± {line.giveOrTake}</small>}
        </>
      ),
    },
    {
      id: 'allowed',
      head: 'Allowed',
      narrow: 'under',
      cell: (line) => (
        <>
          <span className="narrow-only">allowed </span>
          {line.allowed} {line.past ? <Over>▲ {line.verdict}</Over> : <small>{line.verdict}</small>}
        </>
      ),
    },
    ...(withNow ? [now] : []),
  ]
}
