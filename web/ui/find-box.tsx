import { type ReactNode, useRef } from 'react'
import { useFindKeys } from '#web/lib/find-keys.ts'

export interface FindBoxProps {
  value: string
  onChange(text: string): void
  /** Enter. */
  onFind(text: string): void
  /** What can be found by: `tag, engine number`. */
  by?: string
  /** What was found while typing, shown beneath the box. */
  children?: ReactNode
}

/** One box for tag, name, phone and engine number, one key away: "/" or Ctrl+K. Escape empties it. */
export function FindBox({ value, onChange, onFind, by = 'tag, name, phone, engine number', children }: FindBoxProps) {
  const box = useRef<HTMLInputElement>(null)
  useFindKeys(box)
  return (
    <div className="find">
      {/* biome-ignore lint/a11y/useSemanticElements: tablets with an older browser do not know <search> */}
      <form
        role="search"
        onSubmit={(event) => {
          event.preventDefault()
          if (value.trim() !== '') onFind(value.trim())
        }}
      >
        <input
          ref={box}
          type="search"
          aria-label={`Find: ${by}`}
          placeholder={`Find: ${by}`}
          aria-keyshortcuts="/ Control+K"
          autoComplete="off"
          autoCapitalize="none"
          spellCheck={false}
          enterKeyHint="search"
          value={value}
          onChange={(event) => onChange(event.target.value)}
          onKeyDown={(event) => {
            if (event.key !== 'Escape') return
            event.preventDefault()
            if (value === '') box.current?.blur()
            else onChange('')
          }}
        />
      </form>
      {children !== undefined && <div className="found">{children}</div>}
    </div>
  )
}
