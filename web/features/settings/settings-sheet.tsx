import '#web/features/settings/settings.css'
import { useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import { useForm } from 'react-hook-form'
import { type Settings, type SettingsAnswer, settingsAnswer } from '#contract/settings.ts'
import { settingsQuery } from '#web/features/settings/queries.ts'
import {
  readSettings,
  SETTING_GROUPS,
  SETTINGS,
  type SettingName,
  type SettingsForm,
  settingsFormOf,
} from '#web/features/settings/settings-form.ts'
import { put } from '#web/lib/http.ts'
import { Problem } from '#web/lib/problem.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { type EditClash, settleEdits } from '#web/lib/settle-edits.ts'
import { useAct } from '#web/lib/use-act.ts'
import { Button } from '#web/ui/button.tsx'
import { Differences } from '#web/ui/differences.tsx'
import { AreaField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { NoticeLine, ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

const NAMES = Object.keys(SETTINGS) as SettingName[]

function useSave() {
  return useAct(
    (given: { settings: Settings; version: number }, key) =>
      put('/api/settings', given.settings, settingsAnswer, { version: given.version, key }),
    [['settings'], ['door'], ['jobs']],
  )
}

/** Every setting of the shop on one page, in plain words; what somebody else changed meanwhile is set beside it. */
export function SettingsSheet({ now }: { now: SettingsAnswer }) {
  const client = useQueryClient()
  const save = useSave()
  const [seen, setSeen] = useState(() => ({ version: now.version, values: settingsFormOf(now) }))
  const [clashes, setClashes] = useState<EditClash<SettingName>[] | undefined>(undefined)
  const [attempt, setAttempt] = useState(0)
  const [said, setSaid] = useState('')
  const form = useForm<SettingsForm>({ defaultValues: seen.values })
  const { errors } = form.formState

  const setBeside = async () => {
    const fresh = await client.fetchQuery({ ...settingsQuery, staleTime: 0 })
    const theirs = settingsFormOf(fresh)
    const settled = settleEdits<SettingsForm>(seen.values, form.getValues(), theirs)
    for (const name of NAMES) form.setValue(name, settled.values[name])
    setSeen({ version: fresh.version, values: theirs })
    setClashes(settled.clashes)
  }

  const send = () => {
    if (save.isPending) return
    setAttempt(attempt + 1)
    setSaid('')
    form.clearErrors()
    const read = readSettings(form.getValues())
    if (!read.ok) {
      for (const [name, message] of Object.entries(read.faults)) form.setError(name as SettingName, { type: 'typed', message })
      return
    }
    save.mutate(
      { settings: read.settings, version: seen.version },
      {
        onSuccess: (fresh) => {
          setSeen({ version: fresh.version, values: settingsFormOf(fresh) })
          setClashes(undefined)
          setSaid('The settings are written down.')
        },
        onError: (error) => {
          if (error instanceof Problem && error.type === 'stale-version')
            void setBeside().catch((again: unknown) => putOnForm(again, [], form.setError))
          else putOnForm(error, NAMES, form.setError)
        },
      },
    )
  }

  const faults = NAMES.flatMap((name) =>
    errors[name]?.message === undefined ? [] : [{ name, text: `${SETTINGS[name].label}: ${errors[name].message}` }],
  )
  return (
    <Form enter="next" onSend={send} aria-label="Settings">
      {clashes !== undefined && (
        <Differences
          what="the settings"
          rows={clashes.map((one) => ({ ...one, label: SETTINGS[one.name].label }))}
          onTheirs={(name) => {
            const clash = clashes.find((one) => one.name === name)
            if (clash !== undefined) form.setValue(clash.name, clash.theirs)
            setClashes(clashes.filter((one) => one.name !== name))
          }}
        />
      )}
      {(faults.length > 0 || errors.root !== undefined) && (
        <ProblemSummary title="The settings stand as they were." faults={faults} attempt={attempt}>
          {errors.root !== undefined && <p>{errors.root.message}</p>}
        </ProblemSummary>
      )}
      <div className="settings">
        {SETTING_GROUPS.map((group) => (
          <section key={group.title} aria-label={group.title}>
            <h2 className="ruled">{group.title}</h2>
            {group.names.map((name) => (
              <SettingField key={name} name={name} form={form} />
            ))}
          </section>
        ))}
      </div>
      <div className="settings-go">
        <Button type="submit" kind="go" busy={save.isPending}>
          Write the settings down
        </Button>
        <NoticeLine>{said}</NoticeLine>
      </div>
    </Form>
  )
}

function SettingField({ name, form }: { name: SettingName; form: ReturnType<typeof useForm<SettingsForm>> }) {
  const { label, hint, as = 'line', choices = [], unit } = SETTINGS[name]
  const error = form.formState.errors[name]?.message
  const said = hint === undefined ? {} : { hint }
  if (as === 'choice') {
    return (
      <Pick
        label={label}
        {...said}
        name={name}
        options={choices}
        value={form.watch(name)}
        error={error}
        onChange={(value) => form.setValue(name, value, { shouldDirty: true })}
      />
    )
  }
  if (as === 'text')
    return <AreaField label={label} {...said} rows={name.startsWith('fitting') ? 7 : 3} error={error} {...form.register(name)} />
  return (
    <TextField
      label={label}
      {...said}
      {...(unit === undefined ? {} : { unit })}
      error={error}
      autoComplete="off"
      {...form.register(name)}
    />
  )
}
