import type { z } from 'zod'
import type { gate } from '#contract/jobs.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { Button, GoLink } from '#web/ui/button.tsx'

type Missing = z.infer<typeof gate>['missing']

export interface NowTrueProps {
  /** What the book still wants before it may be called true; undefined while it is asked. */
  missing: Missing | undefined
  /** Where width and side clearance are taken. */
  widthTo: string
  /** Where the owner may let something pass. */
  passTo?: string | undefined
  busy: boolean
  error: unknown
  onTrue(): void
}

/** Both ends are within what is allowed: width and side clearance once more, then it is called true. */
export function NowTrue({ missing, widthTo, passTo, busy, error, onTrue }: NowTrueProps) {
  const lacking = error instanceof Problem && error.missing.length > 0 ? error.missing : (missing ?? [])
  const wantsWidth = lacking.some((one) => one.code.startsWith('width') || one.code.startsWith('side-clearance'))
  return (
    <div className="now-true">
      <p className="now-true-next">
        {wantsWidth
          ? 'Next: width at four places and side clearance again, after the last blow.'
          : lacking.length > 0
            ? 'It cannot be called true yet.'
            : 'Width and side clearance are taken since the last move.'}
      </p>
      {lacking.length > 0 && (
        <ul>
          {lacking.map((one) => (
            <li key={one.code}>{one.detail}</li>
          ))}
        </ul>
      )}
      {error !== null && error !== undefined && !(error instanceof Problem && error.missing.length > 0) && (
        <p role="alert" className="wrong">
          {inWords(error)}
        </p>
      )}
      <div className="move-acts">
        {wantsWidth && (
          <GoLink kind="go" to={widthTo}>
            Width and side clearance
          </GoLink>
        )}
        <Button kind={lacking.length === 0 && missing !== undefined ? 'go' : 'quiet'} busy={busy || missing === undefined} onClick={onTrue}>
          It is true
        </Button>
      </div>
      {lacking.length > 0 && passTo !== undefined && (
        <p>
          <GoLink to={passTo}>Let something pass</GoLink>
        </p>
      )}
    </div>
  )
}
