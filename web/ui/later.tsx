import { type ComponentType, useEffect, useState } from 'react'
import { Unreachable } from '#web/lib/problem.ts'
import { Failed, Loading } from '#web/ui/states.tsx'

/**
 * A part of a page that is fetched when it is first shown, such as a form behind a fold: until then the page is lighter by
 * it. `what` says what it is after “the”. Where it cannot be fetched just now, the page around it stays as it is.
 */
export function later<Props extends object>(what: string, fetchPart: () => Promise<ComponentType<Props>>): ComponentType<Props> {
  let part: ComponentType<Props> | undefined
  return (props) => {
    const [Part, setPart] = useState(() => part)
    const [error, setError] = useState<unknown>(undefined)
    const [attempt, setAttempt] = useState(0)
    // biome-ignore lint/correctness/useExhaustiveDependencies: each attempt fetches anew
    useEffect(() => {
      if (Part !== undefined) return
      setError(undefined)
      fetchPart().then(
        (found) => {
          part = found
          setPart(() => found)
        },
        (cause: unknown) => setError(new Unreachable('a part of the page could not be fetched', { cause })),
      )
    }, [Part, attempt])
    if (Part !== undefined) return <Part {...props} />
    if (error !== undefined) return <Failed what={`The ${what}`} error={error} onAgain={() => setAttempt(attempt + 1)} />
    return <Loading what={`the ${what}`} />
  }
}
