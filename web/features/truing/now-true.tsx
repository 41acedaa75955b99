import type { z } from 'zod'
import type { gate } from '#contract/steps.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { Button, GoLink } from '#web/ui/button.tsx'

type Missing = z.infer<typeof gate>['missing']

export interface NowTrueProps {
  /** What the book still wants before it may be called true; undefined while it is asked. */
  missing: Missing | undefined
  /** Where the width is taken, and where the side clearance is felt. */
  widthTo: string
  clearanceTo: string
  /** Where the owner may let something pass. */
  passTo?: string | undefined
  busy: boolean
  error: unknown
  onTrue(): void
}

/** Both ends are within what is allowed: width and side clearance once more, then it is called true. */
export function NowTrue({ missing, widthTo, clearanceTo, passTo, busy, error, onTrue }: NowTrueProps) {
  const lacking = error instanceof Problem && error.missing.length > 0 ? error.missing : (missing ?? [])
  const wantsWidth = lacking.some((one) => one.code.startsWith('width'))
  const wantsClearance = lacking.some((one) => one.code.startsWith('side-clearance'))
  return (
    <div className="now-true">
      <p className="now-true-next" role="status">
        {nextWords(missing !== undefined || lacking.length > 0, wantsWidth || wantsClearance, lacking.length > 0)}
      </p>
      {lacking.length > 0 && (
        <ul>
          {lacking.map((one) => (
            <li key={one.detail}>{one.detail}</li>
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
            Width at four places
          </GoLink>
        )}
        {wantsClearance && (
          <GoLink kind={wantsWidth ? 'quiet' : 'go'} to={clearanceTo}>
            Side clearance
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

function nextWords(known: boolean, wantsReading: boolean, lacks: boolean): string {
  if (!known) return 'Asking the book what it still wants.'
  if (wantsReading) return 'Next: width at four places and side clearance again, after the last blow.'
  return lacks ? 'It cannot be called true yet.' : 'Width and side clearance are taken since the last move.'
}
