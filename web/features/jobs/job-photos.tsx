import '#web/features/jobs/photos.css'
import { useQuery, useQueryClient } from '@tanstack/react-query'
import { useEffect, useId, useRef, useState } from 'react'
import type { z } from 'zod'
import type { photo } from '#contract/photos.ts'
import { doneWord, STEPS } from '#core/steps.ts'
import { PhotoAdd } from '#web/features/jobs/photo-add.tsx'
import { sendPhotos, usePhotoQueue } from '#web/features/jobs/photo-queue.ts'
import { jobKeys, photosQuery, useStrikePhoto } from '#web/features/jobs/queries.ts'
import { counted, dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Reason } from '#web/ui/reason.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

type Photo = z.infer<typeof photo>

/** Photos of this crank, small; one press opens it large. New ones are taken here and go into the book one after another. */
export function JobPhotos({ jobId }: { jobId: string }) {
  const client = useQueryClient()
  const photos = useQuery(photosQuery(jobId))
  const queue = usePhotoQueue(jobId)
  const [openAt, setOpenAt] = useState<string | undefined>(undefined)
  const send = () => void sendPhotos(jobId, () => void client.invalidateQueries({ queryKey: jobKeys.one(jobId) }))
  const rows = photos.data ?? []
  const open = rows.find((one) => one.id === openAt)
  return (
    <section aria-label="Photos">
      <h2>Photos{rows.length > 0 && `: ${rows.length}`}</h2>
      {photos.isPending && <Loading what="the photos" />}
      {photos.isError && <Failed what="The photos" error={photos.error} onAgain={() => void photos.refetch()} />}
      {photos.isSuccess && rows.length === 0 && queue.length === 0 && (
        <p className="soft">No photos yet. Six views, always the same, settle a quarrel later.</p>
      )}
      {rows.length > 0 && (
        <ul className="photo-sheet">
          {rows.map((one) => (
            <li key={one.id}>
              <button type="button" className="photo-open" onClick={() => setOpenAt(one.id)} aria-label={`Open large: ${saysOf(one)}`}>
                <img src={`/api/photos/${one.id}?size=thumb`} alt={saysOf(one)} loading="lazy" />
              </button>
              <small>{saysOf(one)}</small>
            </li>
          ))}
        </ul>
      )}
      <p className="soft" role="status">
        {queue.some((one) => one.state === 'sending') ? `${counted(queue.length, 'photo')} on the way into the book.` : ''}
      </p>
      <PhotoAdd place={jobId} onSend={send} />
      {open !== undefined && <LargePhoto photo={open} rows={rows} jobId={jobId} onGo={setOpenAt} onShut={() => setOpenAt(undefined)} />}
    </section>
  )
}

function saysOf(one: Photo): string {
  const step = STEPS.find((each) => each === one.step)
  return one.caption ?? (step === undefined ? 'photo' : `taken once ${doneWord(step)}`)
}

interface LargeProps {
  photo: Photo
  rows: readonly Photo[]
  jobId: string
  onGo(id: string): void
  onShut(): void
}

function LargePhoto({ photo: one, rows, jobId, onGo, onShut }: LargeProps) {
  const { zone } = useHere()
  const strike = useStrikePhoto(jobId)
  const box = useRef<HTMLDialogElement>(null)
  const heading = useId()
  const at = rows.indexOf(one)
  useEffect(() => {
    if (box.current?.open === false) box.current.showModal()
  }, [])
  const go = (step: number) => {
    const next = rows[at + step]
    if (next !== undefined) onGo(next.id)
  }
  return (
    <dialog
      ref={box}
      className="photo-large"
      aria-labelledby={heading}
      onClose={onShut}
      onClick={(event) => event.target === box.current && box.current.close()}
      onKeyDown={(event) => {
        if (event.target instanceof HTMLTextAreaElement) return
        if (event.key === 'ArrowRight') go(1)
        if (event.key === 'ArrowLeft') go(-1)
      }}
    >
      <img src={`/api/photos/${one.id}`} alt={saysOf(one)} width={one.width} height={one.height} />
      <h2 id={heading}>{saysOf(one)}</h2>
      <p className="soft">
        {dayAndTime(one.at, zone, Date.now())} · {one.by} · {at + 1} of {rows.length}
      </p>
      {strike.isError && (
        <ProblemSummary title="It is not struck out.">
          <p>{inWords(strike.error)}</p>
        </ProblemSummary>
      )}
      <Buttons>
        {at > 0 && <Button onClick={() => go(-1)}>Before</Button>}
        {at < rows.length - 1 && <Button onClick={() => go(1)}>Next</Button>}
        <Button onClick={() => box.current?.close()}>Shut</Button>
        <Reason
          open="Strike it out"
          label="Why is it struck out?"
          confirm="Strike it out"
          most={400}
          busy={strike.isPending}
          onConfirm={(reason) => strike.mutate({ photoId: one.id, reason }, { onSuccess: onShut })}
        >
          <p>It is shown no more; the line in the history and the file stay.</p>
        </Reason>
      </Buttons>
    </dialog>
  )
}
