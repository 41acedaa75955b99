import { useQueryClient } from '@tanstack/react-query'
import { useEffect } from 'react'
import type { Bench } from '#contract/bench.ts'
import type { Me } from '#contract/sessions.ts'
import type { Check, Truing } from '#contract/truing.ts'
import { type ClockState, layClock } from '#web/features/hours/waiting.ts'
import { layBench } from '#web/features/jobs/waiting.ts'
import { layCheck, layTruing } from '#web/features/truing/waiting.ts'
import { outbox } from '#web/lib/outbox/outbox.ts'

const GATHER_MS = 100

/** Gives the outbox its person, lays what waits over what the screens show, and has that fetched anew once the book has it. */
export function OutboxAtWork({ me }: { me: Me }) {
  const client = useQueryClient()
  const { id, role } = me

  useEffect(() => {
    const box = outbox()
    if (box === undefined) return
    const old = new Set<string>()
    let timer: ReturnType<typeof setTimeout> | undefined

    const lay = () => {
      const jobs = new Set(box.records().flatMap((record) => (record.jobId === undefined ? [] : [record.jobId])))
      for (const jobId of jobs) {
        // By their keys alone: what the truing bench fetches with brings its sums along, and the other pages need none.
        const ofJob = (part: string) => ['jobs', 'one', jobId, part]
        client.setQueryData<Truing>(ofJob('truing'), (now) => now && layTruing(jobId, now))
        client.setQueryData<Bench>(ofJob('measured'), (now) => now && layBench(jobId, now))
        client.setQueryData<Check>(ofJob('check'), (now) => now && layCheck(jobId, now))
      }
      client.setQueryData<ClockState>(['hours', 'clock'], (now) => now && layClock(now))
    }
    const fetchAnew = () => {
      timer = undefined
      for (const jobId of old) void client.invalidateQueries({ queryKey: ['jobs', 'one', jobId] })
      old.clear()
      void client.invalidateQueries({ queryKey: ['jobs', 'list'] })
      void client.invalidateQueries({ queryKey: ['hours'] })
    }
    const stops = [
      box.subscribe(lay),
      box.onTaken((record) => {
        // Where a form waits for the answer it fetches anew by itself.
        if (box.isWatched(record.key)) return
        if (record.jobId !== undefined) old.add(record.jobId)
        timer ??= setTimeout(fetchAnew, GATHER_MS)
      }),
    ]
    box.setWho({ id, role })
    lay()
    return () => {
      for (const stop of stops) stop()
      clearTimeout(timer)
    }
  }, [client, id, role])

  return null
}
