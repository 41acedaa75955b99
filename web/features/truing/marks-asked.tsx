import type { MarksRun } from '#core/bench/marks-run.ts'
import { useTurnRound } from '#web/features/truing/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Known } from '#web/ui/notice.tsx'

const RUN_WORDS: Readonly<Record<MarksRun, string>> = { clockwise: 'clockwise', 'other-way': 'anticlockwise' }

/** A blow went the wrong way about as far as it was meant to go the right way: the marks may have been counted the other way round. */
export function MarksQuestion({ onSay }: { onSay(run: MarksRun): void }) {
  return (
    <Known>
      <p>Which way do your marks 12, 3, 6, 9 run, seen from the drive end?</p>
      <Buttons>
        <Button onClick={() => onSay('clockwise')}>Clockwise</Button>
        <Button onClick={() => onSay('other-way')}>Anticlockwise</Button>
      </Buttons>
    </Known>
  )
}

export interface CountedWrongProps {
  jobId: string
  setId: string
  /** How it was counted; the marks run the other way. */
  counted: MarksRun
  /** Who read it, where that is somebody else: only they turn it round. */
  readBy?: string | undefined
  onReadAgain(): void
  /** The marks run as they were counted after all. */
  onTakeBack(): void
}

/** The last set was counted against the way its marks run: what it says to strike would be the wrong side. Nothing is turned unasked. */
export function CountedWrong({ jobId, setId, counted, readBy, onReadAgain, onTakeBack }: CountedWrongProps) {
  const turning = useTurnRound(jobId)
  return (
    <Known>
      <p>
        <b>This set was counted {RUN_WORDS[counted]}, and your marks run the other way.</b> The picture shows the wrong side: strike nothing
        by it.
      </p>
      {readBy === undefined ? (
        <p>Turned round, it is struck out with that reason and stands again with 3 and 9 changed over.</p>
      ) : (
        <p>{readBy} read it and can turn it round; else read again.</p>
      )}
      <Buttons>
        {readBy === undefined && (
          <Button kind="go" busy={turning.isPending} onClick={() => turning.mutate({ setId })}>
            Turn this set round
          </Button>
        )}
        <Button kind={readBy === undefined ? 'quiet' : 'go'} onClick={onReadAgain}>
          Read again
        </Button>
        <Button onClick={onTakeBack}>They run {RUN_WORDS[counted]} after all</Button>
      </Buttons>
      {turning.error !== null && (
        <p role="alert" className="wrong">
          It stands as it was. {inWords(turning.error)}
        </p>
      )}
    </Known>
  )
}
