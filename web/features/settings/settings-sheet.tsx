import '#web/features/settings/settings.css'
import { useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import type { UseFormReturn } from 'react-hook-form'
import type { Settings, SettingsAnswer } from '#contract/settings.ts'
import { settingsQuery } from '#web/features/settings/queries.ts'
import {
  readSettings,
  SETTING_GROUPS,
  SETTING_LABELS,
  SETTINGS,
  type SettingName,
  type SettingsForm,
  settingsFormOf,
} from '#web/features/settings/settings-form.ts'
import { isFilled, TextPreview, whatFills } from '#web/features/settings/text-preview.tsx'
import { put } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'
import { useChangeForm } from '#web/lib/use-change-form.ts'
import { Button } from '#web/ui/button.tsx'
import { AreaField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { ChangeProblems } from '#web/ui/form-problems.tsx'
import { NoticeLine } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

function useSave() {
  return useAct(
    (given: { settings: Settings; version: number }, key) =>
      put<SettingsAnswer>('/api/settings', given.settings, { version: given.version, key }),
    [['settings'], ['door'], ['jobs']],
  )
}

/** Every setting of the shop on one page, in plain words; what somebody else changed meanwhile is set beside it. */
export function SettingsSheet({ now }: { now: SettingsAnswer }) {
  const client = useQueryClient()
  const save = useSave()
  const [said, setSaid] = useState('')
  const change = useChangeForm<SettingsForm>({
    version: now.version,
    values: settingsFormOf(now),
    names: Object.keys(SETTINGS),
    readNow: async () => {
      const fresh = await client.fetchQuery({ ...settingsQuery, staleTime: 0 })
      return { version: fresh.version, values: settingsFormOf(fresh) }
    },
  })
  const send = () => {
    if (save.isPending) return
    setSaid('')
    change.begin()
    const read = readSettings(change.form.getValues())
    if (!read.ok) return change.mend(read.faults)
    save.mutate(
      { settings: read.settings, version: change.seen.version },
      {
        onSuccess: (fresh) => {
          change.written(fresh.version, settingsFormOf(fresh))
          setSaid('The settings are written down.')
        },
        onError: change.refused,
      },
    )
  }
  return (
    <Form enter="next" onSend={send} aria-label="Settings">
      <ChangeProblems change={change} what="the settings" title="The settings stand as they were." labels={SETTING_LABELS} named />
      <div className="settings">
        {SETTING_GROUPS.map((group) => (
          <section key={group.title} aria-label={group.title}>
            <h2 className="ruled">{group.title}</h2>
            {group.says !== undefined && <p className="soft">{group.says}</p>}
            {group.names.map((name) => (
              <SettingField key={name} name={name} form={change.form} />
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

function SettingField({ name, form }: { name: SettingName; form: UseFormReturn<SettingsForm> }) {
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
  if (isFilled(name))
    return (
      <>
        <AreaField label={label} hint={whatFills(name, hint)} rows={3} error={error} {...form.register(name)} />
        <TextPreview name={name} form={form} />
      </>
    )
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
