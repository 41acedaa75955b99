import { useState } from 'react'
import { useForm } from 'react-hook-form'
import { password as passwordShape } from '#contract/people.ts'
import { guessable } from '#core/guessable.ts'
import { useOwnPassword } from '#web/features/people/queries.ts'
import { useHere } from '#web/lib/here.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { Button } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { FormProblems } from '#web/ui/form-problems.tsx'
import { NoticeLine } from '#web/ui/notice.tsx'

interface PasswordForm extends Record<string, string> {
  password: string
  newPassword: string
  again: string
}

const NOTHING: PasswordForm = { password: '', newPassword: '', again: '' }
const LABELS: Readonly<Record<string, string>> = {
  password: 'Your password now',
  newPassword: 'New password',
  again: 'The new password again',
}

/** A new password of one's own; every other session of this person ends. */
export function OwnPassword({ name, signIn }: { name: string; signIn: string }) {
  const { shopName } = useHere()
  const setting = useOwnPassword()
  const [said, setSaid] = useState('')
  const [attempt, setAttempt] = useState(0)
  const form = useForm<PasswordForm>({ defaultValues: NOTHING })
  const { errors } = form.formState
  const send = () => {
    if (setting.isPending) return
    setAttempt(attempt + 1)
    form.clearErrors()
    setSaid('')
    const { password, newPassword, again } = form.getValues()
    const shape = passwordShape.safeParse(newPassword)
    const wrong = shape.success ? guessable(newPassword, { shop: shopName, name, signIn }) : (shape.error.issues[0]?.message ?? null)
    if (password === '') form.setError('password', { message: 'Your password now.' })
    if (wrong !== null) form.setError('newPassword', { message: wrong })
    else if (again !== newPassword) form.setError('again', { message: 'The two are not the same.' })
    if (password === '' || wrong !== null || again !== newPassword) return
    setting.mutate(
      { password, newPassword },
      {
        onSuccess: () => {
          form.reset(NOTHING)
          setSaid('Your password is changed. Everywhere else you are signed out.')
        },
        onError: (error) => putOnForm(error, ['password', 'newPassword'], form.setError),
      },
    )
  }
  const field = (name: string, autoComplete: string, hint?: string) => (
    <TextField
      label={LABELS[name] ?? name}
      type="password"
      autoComplete={autoComplete}
      {...(hint === undefined ? {} : { hint })}
      error={errors[name]?.message}
      {...form.register(name)}
    />
  )
  return (
    <div className="door">
      <Form enter="next" onSend={send} aria-label="Your password">
        <FormProblems errors={errors} title="The password is not changed." labels={LABELS} attempt={attempt} />
        {field('password', 'current-password')}
        {field('newPassword', 'new-password', 'ten characters at least; a few words make a good one')}
        {field('again', 'new-password')}
        <Button type="submit" kind="go" wide busy={setting.isPending}>
          Change the password
        </Button>
      </Form>
      <NoticeLine>{said}</NoticeLine>
    </div>
  )
}
