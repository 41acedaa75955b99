import type { Person } from '#contract/people.ts'
import { AUDIT_ACTION_WORDS, AUDIT_THING_WORDS, AUDIT_THINGS, type AuditThing } from '#core/audit-words.ts'
import { type AuditSearch, EVERYTHING } from '#web/features/audit/search.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { Button } from '#web/ui/button.tsx'
import { DateField, SelectField } from '#web/ui/field.tsx'

export interface AuditFiltersProps {
  asked: AuditSearch
  people: readonly Person[]
  onChange(part: Partial<AuditSearch>): void
}

const ACTIONS = Object.entries(AUDIT_ACTION_WORDS)
  .map(([value, label]) => ({ value, label }))
  .sort((one, other) => one.label.localeCompare(other.label, 'en'))
const THINGS = (Object.keys(AUDIT_THINGS) as AuditThing[]).map((value) => ({ value, label: AUDIT_THING_WORDS[value] }))

/** Which part of the audit is looked at; each change is a step that the back button takes back. */
export function AuditFilters({ asked, people, onChange }: AuditFiltersProps) {
  const { zone } = useHere()
  const today = dateIn(zone, Date.now())
  const said = (date: string) => (date === '' ? {} : { readBack: day(date, today) })
  // An action from an old link that no list names is still shown as what is chosen.
  const actions =
    asked.action === '' || ACTIONS.some((one) => one.value === asked.action)
      ? ACTIONS
      : [...ACTIONS, { value: asked.action, label: asked.action }]
  return (
    <fieldset className="audit-filters">
      <legend className="spoken">Which part of it</legend>
      <SelectField
        label="Who"
        nothing="everybody"
        choices={people.map((one) => ({ value: one.id, label: one.name }))}
        value={asked.person}
        onChange={(event) => onChange({ person: event.target.value })}
      />
      <SelectField
        label="What kind of thing"
        nothing="everything"
        choices={THINGS}
        value={asked.thing}
        onChange={(event) => onChange({ thing: event.target.value as AuditSearch['thing'], id: '' })}
      />
      <SelectField
        label="What was done"
        nothing="anything"
        choices={actions}
        value={asked.action}
        onChange={(event) => onChange({ action: event.target.value })}
      />
      <DateField label="From" value={asked.from} {...said(asked.from)} onChange={(event) => onChange({ from: event.target.value })} />
      <DateField label="To" value={asked.to} {...said(asked.to)} onChange={(event) => onChange({ to: event.target.value })} />
      {Object.entries(asked).some(([name, value]) => value !== EVERYTHING[name as keyof AuditSearch]) && (
        <Button onClick={() => onChange(EVERYTHING)}>Show everything</Button>
      )}
    </fieldset>
  )
}
