import { type RefObject, useEffect } from 'react'
import { type Kept, kept, useKept } from '#web/lib/kept.ts'

/** A key without Ctrl can be pressed by chance or by a voice; WCAG 2.1.4 asks that it can be turned off. */
export const slashFinds: Kept<boolean> = kept<boolean>(
  'throwbook.slash-finds',
  true,
  (text) => (text === 'yes' ? true : text === 'no' ? false : undefined),
  (value) => (value ? 'yes' : 'no'),
)

/** Whether keys typed now go into something that takes text. */
export function takesText(target: EventTarget | null): boolean {
  if (!(target instanceof HTMLElement)) return false
  if (target.isContentEditable || target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement) return true
  return (
    target instanceof HTMLInputElement &&
    !['button', 'checkbox', 'radio', 'submit', 'reset', 'file', 'range', 'color'].includes(target.type)
  )
}

/** "/" (unless turned off or typing) and Ctrl+K (always) put the cursor into the find box. */
export function useFindKeys(box: RefObject<HTMLInputElement | null>): void {
  const [slash] = useKept(slashFinds)
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.defaultPrevented || event.altKey) return
      const held = event.ctrlKey || event.metaKey
      const called = held ? event.key.toLowerCase() === 'k' : slash && event.key === '/' && !takesText(event.target)
      if (!called || document.querySelector('dialog[open]')) return
      event.preventDefault()
      box.current?.focus()
      box.current?.select()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [box, slash])
}
