import { useState } from 'react'
import type { Me } from '#contract/sessions.ts'
import { useSignIn } from '#web/features/sessions/queries.ts'
import { whyNotIn } from '#web/features/sessions/sign-in-words.ts'
import { Button } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

export interface SignInFormProps {
  /** The sign-in name that is already known, when somebody signs in again. */
  name?: string
  onIn(who: Me): void
}

type Faults = Partial<Record<'name' | 'password', string>>

/** Only whether both are there: this form lies over every page, the bench's too, and the book looks at the rest. */
function faultsIn({ name, password }: { name: string; password: string }): Faults {
  return {
    ...(name === '' ? { name: 'Your name here.' } : {}),
    ...(password === '' ? { password: 'Your password here.' } : {}),
  }
}

/** Name and password. Pasting and password managers are welcome (WCAG 3.3.8). */
export function SignInForm({ name: known = '', onIn }: SignInFormProps) {
  const [given, setGiven] = useState({ name: known, password: '' })
  const [faults, setFaults] = useState<Faults>({})
  const [attempt, setAttempt] = useState(0)
  const asking = useSignIn()

  const send = () => {
    if (asking.isPending) return
    const found = faultsIn(given)
    setFaults(found)
    setAttempt(attempt + 1)
    if (Object.keys(found).length > 0) {
      asking.reset()
      return
    }
    asking.mutate(given, { onSuccess: onIn })
  }

  const listed = (['name', 'password'] as const).flatMap((field) =>
    faults[field] === undefined ? [] : [{ name: field, text: faults[field] }],
  )
  return (
    <Form enter="sends" onSend={send}>
      {(listed.length > 0 || asking.isError) && (
        <ProblemSummary title="You are not signed in." faults={listed} attempt={attempt}>
          {asking.isError && <p>{whyNotIn(asking.error)}</p>}
        </ProblemSummary>
      )}
      <TextField
        label="Name"
        name="name"
        autoComplete="username"
        autoCapitalize="none"
        spellCheck={false}
        value={given.name}
        error={faults.name}
        onChange={(event) => setGiven({ ...given, name: event.target.value })}
      />
      <TextField
        label="Password"
        name="password"
        type="password"
        autoComplete="current-password"
        value={given.password}
        error={faults.password}
        onChange={(event) => setGiven({ ...given, password: event.target.value })}
      />
      <Button kind="go" type="submit" wide busy={asking.isPending}>
        Sign in
      </Button>
    </Form>
  )
}
