import { useMutation, useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import { useForm } from 'react-hook-form'
import type { z } from 'zod'
import { type Me, setUp } from '#contract/sessions.ts'
import { doorQuery, meQuery } from '#web/features/sessions/queries.ts'
import { post } from '#web/lib/http.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { Button } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

type SetUp = z.infer<typeof setUp>
const LABELS = {
  code: 'One-time code',
  shop: 'Name of the shop',
  name: 'Your name, as colleagues say it',
  signIn: 'Your name at sign-in',
  password: 'Your password',
} as const
const NAMES = ['code', 'shop', 'name', 'signIn', 'password'] as const

function useSetUp() {
  const client = useQueryClient()
  return useMutation({
    mutationFn: (given: SetUp) => post<Me>('/api/set-up', given, { quietWhenSignedOut: true }),
    onSuccess: (who) => {
      client.setQueryData(meQuery.queryKey, who)
      void client.invalidateQueries({ queryKey: doorQuery.queryKey })
    },
  })
}

/** The first visit to a new book: whoever holds the code that the server printed becomes its owner. */
export function SetUpForm({ onIn }: { onIn(who: Me): void }) {
  const asking = useSetUp()
  const [attempt, setAttempt] = useState(0)
  const form = useForm<SetUp>({ defaultValues: { code: '', shop: '', name: '', signIn: '', password: '' } })
  const { errors } = form.formState
  const send = () => {
    if (asking.isPending) return
    setAttempt(attempt + 1)
    form.clearErrors()
    const typed = form.getValues()
    const given = { ...typed, code: typed.code.trim(), shop: typed.shop.trim(), name: typed.name.trim(), signIn: typed.signIn.trim() }
    const read = setUp.safeParse(given)
    if (!read.success) {
      for (const issue of read.error.issues) {
        const name = NAMES.find((one) => one === issue.path[0])
        if (name !== undefined && form.getFieldState(name).error === undefined)
          form.setError(name, { type: 'typed', message: issue.message })
      }
      return
    }
    asking.mutate(read.data, { onSuccess: onIn, onError: (error) => putOnForm(error, NAMES, form.setError) })
  }
  const faults = NAMES.flatMap((name) =>
    errors[name]?.message === undefined ? [] : [{ name, text: `${LABELS[name]}: ${errors[name].message}` }],
  )
  return (
    <Form enter="next" onSend={send} aria-label="The first visit">
      {(faults.length > 0 || errors.root !== undefined) && (
        <ProblemSummary title="The book has no owner yet." faults={faults} attempt={attempt}>
          {errors.root !== undefined && <p>{errors.root.message}</p>}
        </ProblemSummary>
      )}
      <TextField
        label={LABELS.code}
        hint="printed where the server was started"
        autoComplete="one-time-code"
        autoCapitalize="characters"
        spellCheck={false}
        maxLength={40}
        error={errors.code?.message}
        {...form.register('code')}
      />
      <TextField label={LABELS.shop} autoComplete="organization" maxLength={200} error={errors.shop?.message} {...form.register('shop')} />
      <TextField label={LABELS.name} autoComplete="name" maxLength={200} error={errors.name?.message} {...form.register('name')} />
      <TextField
        label={LABELS.signIn}
        hint="small letters, figures, dot, dash"
        autoComplete="username"
        autoCapitalize="none"
        spellCheck={false}
        maxLength={40}
        error={errors.signIn?.message}
        {...form.register('signIn')}
      />
      <TextField
        label={LABELS.password}
        hint="ten characters at least; a few words make a good one"
        type="password"
        autoComplete="new-password"
        error={errors.password?.message}
        {...form.register('password')}
      />
      <Button type="submit" kind="go" wide busy={asking.isPending}>
        Open the book
      </Button>
    </Form>
  )
}
