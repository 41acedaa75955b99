import { useId, useRef } from 'react'
import { addPhotos, changePhoto, takeOutPhoto, usePhotoQueue } from '#web/features/jobs/photo-queue.ts'
import { counted } from '#web/lib/format.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'

/** The views that settle “you hit it” later, always the same: the parcel before and after opening, the crank from all sides. */
const VIEWS = [
  'parcel as it came, shut',
  'parcel opened, crank not lifted',
  'whole crank, left',
  'whole crank, right',
  'big end through the web gap',
  'left end',
  'right end',
  'damage, with a scale',
] as const

export interface PhotoAddProps {
  /** `booking`, or the id of the job. */
  place: string
  /** Sends what waits; absent while there is no job to send it to. */
  onSend?: () => void
}

/** Takes photos with the camera or from files, and shows those that are not in the book yet, each with what it shows. */
export function PhotoAdd({ place, onSend }: PhotoAddProps) {
  const queue = usePhotoQueue(place)
  const waiting = queue.filter((photo) => photo.state === 'waiting').length
  const camera = useRef<HTMLInputElement>(null)
  const files = useRef<HTMLInputElement>(null)
  const views = useId()
  const take = (input: HTMLInputElement) => {
    addPhotos(place, input.files ?? [])
    input.value = ''
  }
  return (
    <div className="photo-add">
      <Buttons>
        <Button onClick={() => camera.current?.click()}>Take a photo</Button>
        <Button onClick={() => files.current?.click()}>Choose photos</Button>
      </Buttons>
      <input
        ref={camera}
        type="file"
        accept="image/*"
        capture="environment"
        aria-label="Photo from the camera"
        hidden
        onChange={(event) => take(event.target)}
      />
      <input
        ref={files}
        type="file"
        accept="image/*"
        multiple
        aria-label="Photos from files"
        hidden
        onChange={(event) => take(event.target)}
      />
      <datalist id={views}>
        {VIEWS.map((view) => (
          <option key={view} value={view} />
        ))}
      </datalist>
      {queue.length > 0 && (
        <ul className="photo-queue">
          {queue.map((photo, index) => (
            <li key={photo.key}>
              <img src={photo.url} alt={photo.caption === '' ? `Photo ${index + 1}, not sent yet` : photo.caption} />
              <div>
                <TextField
                  label={`Photo ${index + 1} shows`}
                  list={views}
                  maxLength={200}
                  value={photo.caption}
                  disabled={photo.state === 'sending'}
                  error={photo.state === 'refused' ? photo.why : undefined}
                  onChange={(event) => changePhoto(place, photo.key, { caption: event.target.value })}
                />
                {photo.state === 'sending' ? (
                  <span className="soft">on its way</span>
                ) : (
                  <Buttons>
                    {photo.state === 'refused' && onSend !== undefined && (
                      <Button
                        onClick={() => {
                          changePhoto(place, photo.key, { state: 'waiting' })
                          onSend()
                        }}
                      >
                        Send it again
                      </Button>
                    )}
                    <button
                      type="button"
                      className="plain"
                      aria-label={`Leave photo ${index + 1} out`}
                      onClick={() => takeOutPhoto(place, photo.key)}
                    >
                      Leave it out
                    </button>
                  </Buttons>
                )}
              </div>
            </li>
          ))}
        </ul>
      )}
      {onSend !== undefined && waiting > 0 && <Button onClick={onSend}>Put {counted(waiting, 'photo')} into the book</Button>}
    </div>
  )
}
