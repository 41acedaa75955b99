import { type ClockState, clockHere, type Work } from '#web/features/hours/clock-words.ts'
import { useClockStart, useClockStop } from '#web/features/hours/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'

export interface ClockButtonsProps {
  clock: ClockState
  jobId: string
  /** What this screen is for. */
  work: Work
  /** Told what went wrong, or undefined once it went right. */
  onSaid(words: string | undefined): void
}

/** Stop, or start; a start on another crank or work stops what ran there, as one person has one clock. */
export function ClockButtons({ clock, jobId, work, onSaid }: ClockButtonsProps) {
  const start = useClockStart()
  const stop = useClockStop()
  const busy = start.isPending || stop.isPending
  const how = { onSuccess: () => onSaid(undefined), onError: (error: Error) => onSaid(inWords(error)) }
  const where = clockHere(clock.running, jobId, work)
  const begin = () => start.mutate({ jobId, work }, how)
  return (
    <>
      {where === 'none' && (
        <Button busy={busy} onClick={begin}>
          Start {work}
        </Button>
      )}
      {where === 'other-work' && (
        <Button busy={busy} onClick={begin}>
          Now {work}
        </Button>
      )}
      {where === 'other-crank' && (
        <Button busy={busy} onClick={begin}>
          Start here
        </Button>
      )}
      {where !== 'none' && (
        <Button busy={busy} onClick={() => stop.mutate(null, how)}>
          Stop
        </Button>
      )}
    </>
  )
}
