import { useSyncExternalStore } from 'react'
import { sendPhoto } from '#web/features/jobs/queries.ts'
import { newKey } from '#web/lib/id.ts'
import { inWords } from '#web/lib/problem.ts'

/** A photo taken and not yet in the book. It lies in memory only; the page says so before it is left. */
export interface QueuedPhoto {
  /** Its own Idempotency-Key, so that trying again puts it in once. */
  key: string
  file: Blob
  /** For showing it here before it is sent. */
  url: string
  caption: string
  state: 'waiting' | 'sending' | 'refused'
  why?: string
}

/** Where photos wait while the crank has no tag. */
export const BOOKING_PHOTOS = 'booking'

const queues = new Map<string, readonly QueuedPhoto[]>()
const listeners = new Set<() => void>()
const NONE: readonly QueuedPhoto[] = []

function put(place: string, photos: readonly QueuedPhoto[]): void {
  if (photos.length === 0) queues.delete(place)
  else queues.set(place, photos)
  for (const tell of listeners) tell()
}

function queueAt(place: string): readonly QueuedPhoto[] {
  return queues.get(place) ?? NONE
}

function subscribe(tell: () => void): () => void {
  listeners.add(tell)
  window.addEventListener('beforeunload', warn)
  return () => {
    listeners.delete(tell)
  }
}

// Photos that are not in the book yet are gone when the page is; the browser asks before that.
function warn(event: BeforeUnloadEvent): void {
  if (queues.size > 0) event.preventDefault()
}

/** Photos that wait at a place: a job's id, or `booking` while the crank has no tag. */
export function usePhotoQueue(place: string): readonly QueuedPhoto[] {
  return useSyncExternalStore(subscribe, () => queueAt(place))
}

export function addPhotos(place: string, files: Iterable<Blob>): void {
  const added = Array.from(
    files,
    (file): QueuedPhoto => ({ key: newKey(), file, url: URL.createObjectURL(file), caption: '', state: 'waiting' }),
  )
  put(place, [...queueAt(place), ...added])
}

export function takeOutPhoto(place: string, key: string): void {
  for (const photo of queueAt(place)) if (photo.key === key) URL.revokeObjectURL(photo.url)
  put(
    place,
    queueAt(place).filter((photo) => photo.key !== key),
  )
}

export function changePhoto(place: string, key: string, change: Partial<Pick<QueuedPhoto, 'caption' | 'state' | 'why'>>): void {
  put(
    place,
    queueAt(place).map((photo) => (photo.key === key ? { ...photo, ...change } : photo)),
  )
}

/** Hands photos on from one place to another: from the booking to its job, once it has one. */
export function handOnPhotos(from: string, to: string): void {
  const photos = queueAt(from)
  put(from, [])
  put(to, [...queueAt(to), ...photos])
}

export function forgetPhotos(place: string): void {
  for (const photo of queueAt(place)) URL.revokeObjectURL(photo.url)
  put(place, [])
}

/** Sends what waits for a job, one after another and in order; what is refused stays, with why. `onKept` is told after each. */
export async function sendPhotos(jobId: string, onKept: () => void): Promise<void> {
  for (;;) {
    if (queueAt(jobId).some((photo) => photo.state === 'sending')) return
    const next = queueAt(jobId).find((photo) => photo.state === 'waiting')
    if (next === undefined) return
    changePhoto(jobId, next.key, { state: 'sending' })
    try {
      await sendPhoto(jobId, next.file, next.caption.trim(), next.key)
      takeOutPhoto(jobId, next.key)
      onKept()
    } catch (error) {
      changePhoto(jobId, next.key, { state: 'refused', why: inWords(error) })
    }
  }
}
