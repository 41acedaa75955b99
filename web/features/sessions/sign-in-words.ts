import { SignInNotKept } from '#web/features/sessions/queries.ts'
import { inWords, Problem } from '#web/lib/problem.ts'

/** What to tell somebody who was not let in. It never says which of name and password was wrong, nor who is barred. */
export function whyNotIn(error: unknown): string {
  if (error instanceof SignInNotKept)
    return 'Name and password are right, but this browser did not keep the sign-in. It blocks cookies for this address, or what stands between it and the book is set wrong.'
  if (!(error instanceof Problem)) return inWords(error)
  if (error.type === 'wrong-sign-in')
    return 'Name and password do not go together, or this person may not sign in. Look at both, or ask the owner.'
  if (error.type === 'rate-limited') {
    const wait = error.retryAfterSeconds
    return wait === undefined
      ? 'That was too often. Wait a minute, then try again.'
      : `That was too often. Try again in ${waitInWords(wait)}.`
  }
  return inWords(error)
}

function waitInWords(seconds: number): string {
  if (seconds < 90) return `${seconds} seconds`
  return `${Math.ceil(seconds / 60)} minutes`
}
