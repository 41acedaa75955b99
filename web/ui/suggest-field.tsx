import '#web/styles/suggest.css'
import { type KeyboardEvent, type ReactNode, useId, useState } from 'react'
import { Field, type Labelled } from '#web/ui/field.tsx'

export interface Suggestion {
  id: string
  /** What is said of it: a name and what tells it apart. */
  says: ReactNode
}

export interface SuggestFieldProps extends Pick<Labelled, 'label'> {
  hint?: ReactNode
  error?: string | undefined
  name?: string
  autoComplete?: string
  value: string
  onChange(typed: string): void
  suggestions: readonly Suggestion[]
  onPick(id: string): void
  onBlur?(): void
}

/**
 * A text field that offers what the book already knows while one types (combobox, WAI-ARIA Authoring Practices). Arrow
 * keys go through the offers, Enter takes the one that is marked, Escape shuts them; Enter with none marked does what Enter
 * does in the form. What is typed stays typed unless an offer is taken.
 */
export function SuggestField(props: SuggestFieldProps) {
  const { label, hint, error, name, autoComplete = 'off', value, onChange, suggestions, onPick, onBlur } = props
  const list = useId()
  const [open, setOpen] = useState(false)
  const [marked, setMarked] = useState(-1)
  const at = marked < suggestions.length ? marked : -1
  const shown = open && suggestions.length > 0

  const take = (place: number) => {
    const one = suggestions[place]
    if (one === undefined) return
    onPick(one.id)
    setOpen(false)
    setMarked(-1)
  }

  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>) => {
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      if (suggestions.length === 0) return
      event.preventDefault()
      setOpen(true)
      const step = event.key === 'ArrowDown' ? 1 : -1
      setMarked(at < 0 ? (step > 0 ? 0 : suggestions.length - 1) : (at + step + suggestions.length) % suggestions.length)
    } else if (event.key === 'Escape' && shown) {
      event.preventDefault()
      event.stopPropagation()
      setOpen(false)
      setMarked(-1)
    } else if (event.key === 'Enter' && shown && at >= 0 && !event.ctrlKey && !event.metaKey) {
      event.preventDefault()
      take(at)
    }
  }

  return (
    <div className="suggest">
      <Field label={label} {...(hint === undefined ? {} : { hint })} error={error}>
        {(wiring) => (
          <input
            {...wiring}
            type="text"
            role="combobox"
            name={name}
            aria-expanded={shown}
            aria-controls={list}
            aria-autocomplete="list"
            aria-activedescendant={shown && at >= 0 ? `${list}-${at}` : undefined}
            autoComplete={autoComplete}
            spellCheck={false}
            value={value}
            onChange={(event) => {
              onChange(event.target.value)
              setOpen(true)
              setMarked(-1)
            }}
            onFocus={() => setOpen(true)}
            onBlur={() => {
              setOpen(false)
              setMarked(-1)
              onBlur?.()
            }}
            onKeyDown={onKeyDown}
          />
        )}
      </Field>
      <div role="listbox" id={list} className="suggest-list" aria-label="Known to the book" hidden={!shown}>
        {suggestions.map((one, place) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: the keys are handled in the field, where the focus is
          // biome-ignore lint/a11y/useFocusableInteractive: as above
          <div
            key={one.id}
            id={`${list}-${place}`}
            role="option"
            aria-selected={place === at}
            onMouseDown={(event) => event.preventDefault()}
            onClick={() => take(place)}
          >
            {one.says}
          </div>
        ))}
      </div>
    </div>
  )
}
