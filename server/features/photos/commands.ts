import type { z } from 'zod'
import type { photoStrike } from '#contract/photos.ts'
import { LIMITS } from '#contract/primitives.ts'
import { textOrNull } from '#server/features/customers/store.ts'
import { addEvent, momentOf } from '#server/features/events/store.ts'
import { lockJob } from '#server/features/jobs/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { notFound, Problem } from '#server/plugins/errors.ts'
import * as store from './store.ts'

/** A picture that lies among the files already, and what the sender says about it. */
export interface KeptPhoto {
  id: string | undefined
  occurredAt: string | undefined
  caption: string | undefined
  sha256: string
  bytes: number
  width: number
  height: number
}

/** Writes a kept picture into the book. The same picture of the same job a second time is answered with the first. */
export async function addPhoto(act: Act, jobId: string, kept: KeptPhoto): Promise<store.Photo> {
  const job = await lockJob(act.tx, jobId)
  if (!job) throw notFound('This job')
  const same = await store.samePhoto(act.tx, jobId, kept.sha256)
  if (same) return same
  if ((await store.countPhotos(act.tx, jobId)) >= LIMITS.photosPerJob)
    throw new Problem('conflict-state', `${job.tag} has ${LIMITS.photosPerJob} photos. Strike one out before adding another.`)
  const { occurredAt, ...picture } = kept
  const caption = textOrNull(kept.caption)
  const made = await store.addPhotoRow(act, { ...picture, jobId, step: job.state, caption, at: momentOf(act, occurredAt) })
  await addEvent(act, jobId, { kind: 'photo', says: caption === null ? 'A photo was taken.' : `Photo: ${caption}`, occurredAt })
  act.note('add photo', 'photo', made.id, { after: { jobId, caption, sha256: kept.sha256 } })
  return made
}

/** A photo struck out is shown no more; its file and the line in the history stay. */
export async function strikePhoto(act: Act, id: string, { reason, occurredAt }: z.infer<typeof photoStrike>): Promise<null> {
  const found = await store.findPhoto(act.tx, id)
  if (!found || !(await store.strikePhotoRow(act, id))) throw notFound('This photo')
  const which = found.caption === null ? 'A photo' : `The photo “${found.caption}”`
  await addEvent(act, found.jobId, { kind: 'photo-struck', says: `${which} was struck out: ${reason}`, occurredAt })
  act.note('strike photo', 'photo', id, { before: found, reason })
  return null
}
