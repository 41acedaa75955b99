import { infiniteQueryOptions, keepPreviousData, type QueryClient, queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import type { Bench } from '#contract/bench.ts'
import type { JOB_LISTS, jobPage } from '#contract/book.ts'
import type { crankHit } from '#contract/cranks.ts'
import type { draft, draftAnswer } from '#contract/drafts.ts'
import type { Engine } from '#contract/engines.ts'
import type { eventPage, jobEvent, jobNote, told } from '#contract/events.ts'
import type { found } from '#contract/find.ts'
import type { Booking, Job, JobChange, jobCustomer, placeNew, publicLink } from '#contract/jobs.ts'
import type { photo } from '#contract/photos.ts'
import type { Gate, jobEnd, StepMove, stepBack } from '#contract/steps.ts'
import type { waitEnd, waitNew } from '#contract/waits.ts'
import { doneWord } from '#core/steps.ts'
import { layBench } from '#web/features/jobs/waiting.ts'
import type { DraftStore } from '#web/lib/draft.ts'
import { get, patch, post, put, remove } from '#web/lib/http.ts'
import { outbox } from '#web/lib/outbox/outbox.ts'
import { postKept } from '#web/lib/outbox/post-kept.ts'
import { BY_YOU } from '#web/lib/outbox/shown.ts'
import { type Press, useKeptAct } from '#web/lib/outbox/use-kept-act.ts'
import { useAct } from '#web/lib/use-act.ts'

export type JobList = (typeof JOB_LISTS)[number]

/** Everything that is asked of one job; an act on it makes all of that old, and the lists with it. */
export const jobKeys = {
  lists: ['jobs', 'list'],
  one: (id: string) => ['jobs', 'one', id],
} as const

const LIST_LENGTH = 50

export function jobListQuery(list: JobList) {
  return infiniteQueryOptions({
    queryKey: [...jobKeys.lists, list],
    queryFn: ({ pageParam, signal }) =>
      get<z.infer<typeof jobPage>>('/api/jobs', { signal, query: { list, after: pageParam, limit: LIST_LENGTH } }),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
    refetchInterval: 60_000,
  })
}

export function jobQuery(id: string) {
  return queryOptions({ queryKey: [...jobKeys.one(id), 'job'], queryFn: ({ signal }) => get<Job>(`/api/jobs/${id}`, { signal }) })
}

export function gateQuery(id: string) {
  return queryOptions({ queryKey: [...jobKeys.one(id), 'gate'], queryFn: ({ signal }) => get<Gate>(`/api/jobs/${id}/gate`, { signal }) })
}

export function measuredQuery(id: string) {
  return queryOptions({
    queryKey: [...jobKeys.one(id), 'measured'],
    queryFn: async ({ signal }) => layBench(id, await get<Bench>(`/api/jobs/${id}/measurements`, { signal })),
  })
}

/** The model sheet of the crank, for its drawing. */
export function sheetQuery(engineId: string) {
  return queryOptions({
    queryKey: ['engines', 'one', engineId],
    queryFn: ({ signal }) => get<Engine>(`/api/engines/${engineId}`, { signal }),
  })
}

const EVENTS = 12

export function eventsQuery(id: string) {
  return infiniteQueryOptions({
    queryKey: [...jobKeys.one(id), 'events'],
    queryFn: ({ pageParam, signal }) =>
      get<z.infer<typeof eventPage>>(`/api/jobs/${id}/events`, { signal, query: { after: pageParam, limit: EVENTS } }),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
  })
}

export function photosQuery(id: string) {
  return queryOptions({
    queryKey: [...jobKeys.one(id), 'photos'],
    queryFn: ({ signal }) => get<z.infer<typeof photo>[]>(`/api/jobs/${id}/photos`, { signal }),
  })
}

export function findQuery(typed: string) {
  return queryOptions({
    queryKey: ['find', typed],
    queryFn: ({ signal }) => get<z.infer<typeof found>>('/api/find', { signal, query: { q: typed } }),
    enabled: typed !== '',
    placeholderData: keepPreviousData,
  })
}

/** Cranks that have been here, by engine number or by customer. */
export function cranksQuery(asked: { number?: string; customerId?: string }) {
  return queryOptions({
    queryKey: ['cranks', asked],
    queryFn: ({ signal }) => get<z.infer<typeof crankHit>[]>('/api/cranks', { signal, query: asked }),
    enabled: (asked.number ?? '') !== '' || (asked.customerId ?? '') !== '',
  })
}

/** The half-filled booking of this person, kept in the book: it holds names, so it never lies in the browser. */
export const bookingDrafts: DraftStore = {
  async load(form) {
    return (await get<z.infer<typeof draftAnswer>>(`/api/drafts/${form}`)).draft?.data
  },
  async save(form, data) {
    await put<z.infer<typeof draft>>(`/api/drafts/${form}`, { data }, { version: undefined })
  },
  async clear(form) {
    await remove(`/api/drafts/${form}`, { version: undefined })
  },
}

/** What this person left half booked; asked afresh each time, since another device may have gone on with it. */
export const keptBookingQuery = queryOptions({
  queryKey: ['drafts', 'booking'],
  queryFn: async () => ({ draft: await bookingDrafts.load('booking') }),
  gcTime: 0,
  staleTime: Number.POSITIVE_INFINITY,
  refetchOnMount: 'always',
})

export function useBookIn() {
  return useAct((given: Booking, key) => post<Job>('/api/jobs', given, { key }), [jobKeys.lists, ['customers'], ['cranks']])
}

function useJobAct<Given>(id: string, path: string) {
  return useAct((given: Given, key) => post<Job>(`/api/jobs/${id}/${path}`, given, { key }), [jobKeys.one(id), jobKeys.lists])
}

/** The job becomes another customer's. */
export function useMoveJob(id: string) {
  return useAct(
    (given: { move: z.infer<typeof jobCustomer>; version: number }, key) =>
      post<Job>(`/api/jobs/${id}/customer`, given.move, { version: given.version, key }),
    [jobKeys.one(id), jobKeys.lists, ['customers'], ['cranks'], ['find']],
    { anewWhenStale: true },
  )
}

/** Goes through the outbox with the job as it stands in its place: it moves on when the book says so. Nothing of the job lies on the tablet. */
function keptOfJob(id: string, path: string, what: string, body: unknown, { key, at }: Press, client: QueryClient) {
  const standing = client.getQueryData<Job>(jobQuery(id).queryKey)
  const address = `/api/jobs/${id}/${path}`
  if (standing === undefined) return post<Job>(address, body, { key }).then((answer) => ({ answer, isInBook: true }))
  return postKept({ path: address, body, key, lane: id, jobId: id, what, occurredAt: at, instead: standing, shown: null })
}

/** A step at the bench. A pass of the owner names who measured, and going home is the counter's: both go to the book alone. */
export function useStep(id: string) {
  return useKeptAct(
    (given: StepMove, press, client) =>
      given.to === 'gone' || given.passes !== undefined
        ? post<Job>(`/api/jobs/${id}/steps`, given, { key: press.key }).then((answer) => ({ answer, isInBook: true }))
        : keptOfJob(id, 'steps', `called ${doneWord(given.to)}`, { occurredAt: press.at, ...given }, press, client),
    [jobKeys.one(id), jobKeys.lists],
  )
}

/** Where it lies and who has it, by id. */
export function usePlace(id: string) {
  return useKeptAct(
    (given: z.infer<typeof placeNew>, press, client) =>
      keptOfJob(id, 'place', 'where it lies', { occurredAt: press.at, ...given }, press, client),
    [jobKeys.one(id), jobKeys.lists],
  )
}

export const useStepBack = (id: string) => useJobAct<z.infer<typeof stepBack>>(id, 'steps/back')
export const useEnd = (id: string) => useJobAct<z.infer<typeof jobEnd>>(id, 'end')
export const useWait = (id: string) => useJobAct<z.infer<typeof waitNew>>(id, 'waits')
export const useWaitEnd = (id: string) => useJobAct<z.infer<typeof waitEnd>>(id, 'waits/end')
export const useTold = (id: string) => useJobAct<z.infer<typeof told>>(id, 'told')

/** A note of the bench goes through the outbox; one of the counter may name the customer, and that does not lie in a browser. */
export function useNote(id: string) {
  return useKeptAct(
    (given: z.infer<typeof jobNote>, { key, at }) => {
      const path = `/api/jobs/${id}/notes`
      if (outbox()?.who()?.role !== 'bench')
        return post<z.infer<typeof jobEvent>>(path, given, { key }).then((answer) => ({ answer, isInBook: true }))
      return postKept({
        path,
        body: { occurredAt: at, ...given },
        key,
        lane: id,
        jobId: id,
        what: 'note',
        occurredAt: at,
        instead: { seq: 0, kind: 'note', says: given.says, by: BY_YOU, occurredAt: at, recordedAt: at },
        shown: null,
      })
    },
    [jobKeys.one(id)],
  )
}

export function useJobChange(id: string) {
  return useAct(
    (given: { change: JobChange; version: number }, key) => patch<Job>(`/api/jobs/${id}`, given.change, { version: given.version, key }),
    [jobKeys.one(id), jobKeys.lists],
  )
}

export function useCustomerLink(id: string) {
  return useAct((_given: null, key) => post<z.infer<typeof publicLink>>(`/api/jobs/${id}/link`, undefined, { key }), [jobKeys.one(id)])
}

/** A photo of the bench goes through the outbox; one of the counter may show an address, and that does not lie in a browser. */
export async function sendPhoto(id: string, file: Blob, caption: string, key: string): Promise<void> {
  const path = `/api/jobs/${id}/photos`
  const body = { ...(caption === '' ? {} : { caption }), photo: file }
  if (outbox()?.who()?.role !== 'bench') {
    await post<z.infer<typeof photo>>(path, body, { key })
    return
  }
  const occurredAt = new Date().toISOString()
  // In a lane of its own, so that no reading waits behind a picture.
  await postKept({ path, body, key, lane: `${id} photos`, jobId: id, what: 'photo', occurredAt, instead: undefined, shown: null })
}

export function useStrikePhoto(id: string) {
  return useAct(
    (given: { photoId: string; reason: string }, key) =>
      post<void>(`/api/photos/${given.photoId}/strike`, { reason: given.reason }, { key }),
    [jobKeys.one(id)],
  )
}
