import '#web/features/proofs/proofs.css'
import { useQuery } from '@tanstack/react-query'
import type { Proof, Proofs } from '#contract/proofs.ts'
import { proofsQuery, useProveNow } from '#web/features/proofs/queries.ts'
import { lasted, size, warning } from '#web/features/proofs/words.ts'
import { counted, dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { useNow } from '#web/lib/use-clock.ts'
import { Button } from '#web/ui/button.tsx'
import { Known, NoticeLine, Over, ProblemSummary } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { type Column, Table } from '#web/ui/table.tsx'

/** Whether the backups hold, when that was last tried out, the way to try it now, and how one is put back. */
export function ProofsScreen() {
  const all = useQuery(proofsQuery)
  if (all.isPending) return <Loading what="the backups" />
  if (all.isError) return <Failed what="The list of backups" error={all.error} onAgain={() => void all.refetch()} />
  return (
    <div className="proofs">
      <Standing all={all.data} />
      <ProveNow all={all.data} />
      <section aria-labelledby="so-far">
        <h2 id="so-far" className="ruled">
          So far
        </h2>
        <SoFar rows={all.data.rows} />
      </section>
      <section aria-labelledby="put-back">
        <h2 id="put-back" className="ruled">
          Putting one back
        </h2>
        <PuttingBack />
      </section>
    </div>
  )
}

function Standing({ all }: { all: Proofs }) {
  const { zone } = useHere()
  const now = useNow(60_000)
  const wrong = warning(all, zone, now)
  const held = all.lastHeld
  return (
    <>
      {wrong !== undefined && (
        <p className="proofs-wrong">
          <Over>{wrong}</Over>
        </p>
      )}
      {held !== null && (
        <Known>
          <p>
            Last held <b>{dayAndTime(held.startedAt, zone, now)}</b>
            {held.bytes !== undefined && <>, {size(held.bytes)}</>}
            {held.rows !== undefined && <>, {counted(held.rows, 'row')}</>}
            {held.auditSeq !== undefined && <>, audit chain up to row {held.auditSeq}</>}.
          </p>
        </Known>
      )}
    </>
  )
}

function ProveNow({ all }: { all: Proofs }) {
  const { zone } = useHere()
  const now = useNow(60_000)
  const ask = useProveNow()
  const under = all.underWay
  return (
    <>
      {ask.isError && (
        <ProblemSummary title="No drill was begun.">
          <p>{inWords(ask.error)}</p>
        </ProblemSummary>
      )}
      <div className="proofs-now">
        <Button kind="go" busy={ask.isPending || under !== null} onClick={() => ask.mutate(undefined)}>
          Prove it now
        </Button>
        <NoticeLine>
          {under === null
            ? `A drill writes a backup, puts it into a scratch database and compares every row and file. It runs each night after ${all.nightAt}; a night that the server slept through is made up for.`
            : `A drill is under way, asked for or begun ${dayAndTime(under.startedAt, zone, now)}.`}
        </NoticeLine>
      </div>
    </>
  )
}

const KINDS: Readonly<Record<Proof['kind'], string>> = { drill: 'put back for trial', backup: 'written' }

function SoFar({ rows }: { rows: readonly Proof[] }) {
  const { zone } = useHere()
  const now = useNow(60_000)
  const columns: Column<Proof>[] = [
    { id: 'when', head: 'When', cell: (row) => dayAndTime(row.startedAt, zone, now), whole: true, narrow: 'main' },
    { id: 'what', head: 'What', cell: (row) => KINDS[row.kind], whole: true, narrow: 'under' },
    { id: 'held', head: 'How it went', cell: (row) => <Outcome row={row} />, whole: true, narrow: 'right' },
    { id: 'says', head: 'What was found', cell: (row) => <Found row={row} />, narrow: 'under' },
    {
      id: 'size',
      head: 'Size',
      cell: (row) => (row.bytes === undefined ? '' : size(row.bytes)),
      figures: true,
      whole: true,
      narrow: 'left-out',
    },
    { id: 'took', head: 'Took', cell: (row) => lasted(row) ?? '', figures: true, whole: true, narrow: 'left-out' },
  ]
  return (
    <Table
      caption="Backups and drills, the last first"
      columns={columns}
      rows={rows}
      rowKey={(row) => row.id}
      empty="No backup was written yet. The first comes by itself tonight, or now by the button above."
    />
  )
}

function Outcome({ row }: { row: Proof }) {
  if (row.held === undefined) return <>not ended</>
  if (row.kind === 'backup') return row.held ? <>whole</> : <Over>not whole</Over>
  return row.held ? <>held</> : <Over>did not hold</Over>
}

function Found({ row }: { row: Proof }) {
  return (
    <>
      {row.says}
      {row.file !== undefined && <small className="proofs-file">{row.file}</small>}
    </>
  )
}

function PuttingBack() {
  return (
    <>
      <p>
        A backup is one file with everything that the book holds. It lies in the folder <code>backups</code> of the data folder, on the same
        disk as the book: copy it to another place now and then. <code>npm run backup -- --to FILE</code> writes one wherever you say, also
        while the book is open.
      </p>
      <ol>
        <li>Stop the server, and keep the old data folder as it is, or what is left of it.</li>
        <li>
          Name a new, empty data folder in <code>DATA_DIR</code>, or an empty database in <code>DATABASE_URL</code>. A backup never goes
          into a book that holds something.
        </li>
        <li>
          <code>npm run restore -- FILE</code>. It looks at every byte first, puts the rows and files in, compares all of it with what the
          backup says, and only then says that it is done. If anything is wrong it says what, and nothing is kept.
        </li>
        <li>
          <code>npm start</code>. People sign in as before.
        </li>
      </ol>
    </>
  )
}
