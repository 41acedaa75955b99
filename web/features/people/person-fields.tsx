import type { UseFormReturn } from 'react-hook-form'
import { Link } from 'react-router'
import { ROLES } from '#contract/people.ts'
import { PERSON_LABELS, type PersonForm, ROLE_WORDS } from '#web/features/people/person-form.ts'
import { TextField } from '#web/ui/field.tsx'
import { Pick } from '#web/ui/pick.tsx'

export interface PersonFieldsProps {
  form: UseFormReturn<PersonForm>
  /** Somebody new has a sign-in name to choose; later it stands. */
  isNew: boolean
  /** One's own password is changed with the old one, elsewhere. */
  isMe?: boolean
}

export function PersonFields({ form, isNew, isMe = false }: PersonFieldsProps) {
  const { errors } = form.formState
  const [role, maySign] = form.watch(['role', 'maySign'])
  const label = (name: string) => PERSON_LABELS[name] ?? name
  return (
    <>
      <div className="fields">
        <TextField label={label('name')} maxLength={200} error={errors.name?.message} {...form.register('name')} />
        {isNew && (
          <TextField
            label={label('signIn')}
            hint="small letters, figures, dot, dash"
            autoComplete="off"
            autoCapitalize="none"
            spellCheck={false}
            maxLength={40}
            error={errors.signIn?.message}
            {...form.register('signIn')}
          />
        )}
      </div>
      <Pick
        label={label('role')}
        options={ROLES.map((value) => ({ value, label: ROLE_WORDS[value] }))}
        value={ROLES.find((one) => one === role)}
        error={errors.role?.message}
        onChange={(value) => form.setValue('role', value, { shouldDirty: true })}
      />
      <Pick
        label={label('maySign')}
        options={[
          { value: 'no', label: 'not yet' },
          { value: 'yes', label: 'may sign' },
        ]}
        value={maySign === 'yes' ? 'yes' : 'no'}
        onChange={(value) => form.setValue('maySign', value, { shouldDirty: true })}
      />
      <div className="fields">
        <TextField
          label={label('cranksBefore')}
          hint="the learning line counts on from here"
          inputMode="numeric"
          error={errors.cranksBefore?.message}
          {...form.register('cranksBefore')}
        />
        {isMe ? (
          <p>
            Your own password you change with the old one: <Link to="/my-sign-in">your password and sessions</Link>.
          </p>
        ) : (
          <TextField
            label={isNew ? label('password') : 'New password'}
            hint={
              isNew ? 'ten characters at least; a few words make a good one' : 'empty: it stays as it is; a new one ends their sessions'
            }
            type="password"
            autoComplete="new-password"
            error={errors.password?.message}
            {...form.register('password')}
          />
        )}
      </div>
    </>
  )
}
