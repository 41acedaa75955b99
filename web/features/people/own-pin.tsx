import { useState } from 'react'
import { useForm } from 'react-hook-form'
import { pin as pinShape } from '#contract/people.ts'
import { useOwnPin } from '#web/features/people/queries.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { Button } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { NoticeLine, ProblemSummary } from '#web/ui/notice.tsx'

interface PinForm {
  pin: string
  again: string
  password: string
}

const NOTHING: PinForm = { pin: '', again: '', password: '' }

/** The PIN with which this person takes over an enrolled bench tablet; the password is asked again. */
export function OwnPin({ hasPin }: { hasPin: boolean }) {
  const setting = useOwnPin()
  const [said, setSaid] = useState('')
  const form = useForm<PinForm>({ defaultValues: NOTHING })
  const { errors } = form.formState
  const send = () => {
    if (setting.isPending) return
    form.clearErrors()
    setSaid('')
    const { pin, again, password } = form.getValues()
    const isFine = pinShape.safeParse(pin).success
    if (!isFine) form.setError('pin', { message: 'Four to six figures.' })
    if (isFine && again !== pin) form.setError('again', { message: 'The two are not the same.' })
    if (password === '') form.setError('password', { message: 'Your password here.' })
    if (!isFine || again !== pin || password === '') return
    setting.mutate(
      { pin, password },
      {
        onSuccess: () => {
          form.reset(NOTHING)
          setSaid('Your PIN is set. It works on enrolled bench tablets only.')
        },
        onError: (error) => putOnForm(error, ['pin', 'password'], form.setError),
      },
    )
  }
  return (
    <div className="door">
      <p>
        {hasPin ? 'You have a PIN. A new one takes its place.' : 'With a PIN you take over a bench tablet without typing your password.'}
      </p>
      <Form enter="next" onSend={send} aria-label="Your PIN">
        {errors.root !== undefined && (
          <ProblemSummary title="The PIN is not set.">
            <p>{errors.root.message}</p>
          </ProblemSummary>
        )}
        <TextField
          label="New PIN, four to six figures"
          type="password"
          inputMode="numeric"
          autoComplete="off"
          maxLength={6}
          error={errors.pin?.message}
          {...form.register('pin')}
        />
        <TextField
          label="The same PIN again"
          type="password"
          inputMode="numeric"
          autoComplete="off"
          maxLength={6}
          error={errors.again?.message}
          {...form.register('again')}
        />
        <TextField
          label="Your password"
          type="password"
          autoComplete="current-password"
          error={errors.password?.message}
          {...form.register('password')}
        />
        <Button type="submit" kind="go" wide busy={setting.isPending}>
          Set the PIN
        </Button>
      </Form>
      <NoticeLine>{said}</NoticeLine>
    </div>
  )
}
