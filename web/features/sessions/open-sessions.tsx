import '#web/features/sessions/open-sessions.css'
import { queryOptions, useQuery } from '@tanstack/react-query'
import type { z } from 'zod'
import type { OpenSession, sessionsEnded } from '#contract/sessions.ts'
import { dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { get, post } from '#web/lib/http.ts'
import { inWords } from '#web/lib/problem.ts'
import { useAct } from '#web/lib/use-act.ts'
import { Button } from '#web/ui/button.tsx'
import { NoticeLine, ProblemSummary } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { type Column, Table } from '#web/ui/table.tsx'

/** Whose sessions: one's own, or of the person with this id (for the owner). */
type Of = 'me' | (string & {})

function sessionsQuery(of: Of) {
  return queryOptions({
    queryKey: ['sessions', of],
    queryFn: ({ signal }) => get<OpenSession[]>(`/api/people/${of}/sessions`, { signal }),
  })
}

/** All of them, or the one that is named. */
function useEnd(of: Of) {
  return useAct(
    (named: string | undefined, key) =>
      post<z.infer<typeof sessionsEnded>>(`/api/people/${of}/sessions/${named === undefined ? '' : `${named}/`}end`, {}, { key }),
    [['sessions', of]],
  )
}

/** Where somebody is signed in: on what, since when, last seen, until when; and a way to end it. */
export function OpenSessions({ of, name }: { of: Of; name: string }) {
  const here = useHere()
  const open = useQuery(sessionsQuery(of))
  const end = useEnd(of)
  const now = Date.now()
  const said = (instant: string) => dayAndTime(instant, here.zone, now)
  const others = (open.data ?? []).filter((one) => !one.here)
  return (
    <div className="open-sessions plain-rows">
      {open.isPending && <Loading what="the sessions" />}
      {open.isError && <Failed what="The list" error={open.error} onAgain={() => void open.refetch()} />}
      {end.isError && (
        <ProblemSummary title="It is not ended.">
          <p>{inWords(end.error)}</p>
        </ProblemSummary>
      )}
      {open.data !== undefined && (
        <Table
          caption={`Where ${name} is signed in`}
          columns={columnsOf(said, end.isPending, (named) => end.mutate(named))}
          rows={open.data}
          rowKey={(row) => row.id}
          empty="Signed in nowhere."
        />
      )}
      {(of === 'me' ? others.length > 0 : (open.data ?? []).length > 1) && (
        <Button busy={end.isPending} onClick={() => end.mutate(undefined)}>
          {of === 'me' ? 'Sign out everywhere else' : `Sign ${name} out everywhere`}
        </Button>
      )}
      <NoticeLine>{end.isSuccess ? 'Ended. The next press there asks to sign in.' : ''}</NoticeLine>
    </div>
  )
}

function columnsOf(said: (instant: string) => string, busy: boolean, onEnd: (named: string) => void): Column<OpenSession>[] {
  return [
    {
      id: 'where',
      head: 'Where',
      cell: (row) => (
        <>
          {row.device ?? (row.here ? 'this device' : 'another device')}
          {row.byPin && ', by PIN'}
          {row.here && ', here'}
        </>
      ),
    },
    { id: 'since', head: 'Since', cell: (row) => <Fact word="since">{said(row.startedAt)}</Fact> },
    { id: 'seen', head: 'Last seen', cell: (row) => <Fact word="last seen">{said(row.lastSeenAt)}</Fact> },
    { id: 'ends', head: 'Ends if left alone', cell: (row) => <Fact word="ends if left alone">{said(row.endsAt)}</Fact> },
    {
      id: 'end',
      head: <span className="spoken">What to do</span>,
      cell: (row) =>
        row.here ? null : (
          <Button busy={busy} aria-label={`End the session of ${said(row.startedAt)}`} onClick={() => onEnd(row.id)}>
            End it
          </Button>
        ),
    },
  ]
}

function Fact({ word, children }: { word: string; children: string }) {
  return (
    <>
      <small className="narrow-only">{word} </small>
      {children}
    </>
  )
}
