import type { FormHTMLAttributes, KeyboardEvent, ReactNode, Ref } from 'react'

export interface FormProps extends Omit<FormHTMLAttributes<HTMLFormElement>, 'className' | 'onSubmit'> {
  /** Enter: `next` goes to the next field and only Ctrl+Enter sends, for long forms; `sends` for one or two fields. */
  enter: 'next' | 'sends'
  onSend(): void
  children: ReactNode
  ref?: Ref<HTMLFormElement>
}

function goesOn(target: EventTarget): target is HTMLInputElement | HTMLSelectElement {
  return target instanceof HTMLSelectElement || (target instanceof HTMLInputElement && !['submit', 'button', 'file'].includes(target.type))
}

function nextField(form: HTMLFormElement, from: Element): HTMLElement | undefined {
  const stops = Array.from(form.elements).filter((element): element is HTMLElement => {
    if (!(element instanceof HTMLElement) || element.matches(':disabled, fieldset, output, [type="hidden"]') || element.tabIndex < 0)
      return false
    // Of a group of radio buttons only the chosen one (or the first) is a stop.
    if (!(element instanceof HTMLInputElement) || element.type !== 'radio') return true
    if (from instanceof HTMLInputElement && from.type === 'radio' && from.name === element.name) return element === from
    const group = Array.from(form.querySelectorAll<HTMLInputElement>('input[type="radio"]')).filter((one) => one.name === element.name)
    return element === (group.find((one) => one.checked) ?? group[0])
  })
  return stops[stops.indexOf(from as HTMLElement) + 1]
}

/** A form that is never sent half filled by a stray Enter, and never checked by the browser's own bubbles. */
export function Form({ enter, onSend, children, ...rest }: FormProps) {
  const onKeyDown = (event: KeyboardEvent<HTMLFormElement>) => {
    if (event.key !== 'Enter' || event.defaultPrevented || event.nativeEvent.isComposing) return
    if (event.ctrlKey || event.metaKey) {
      event.preventDefault()
      event.currentTarget.requestSubmit()
      return
    }
    if (enter === 'sends' || event.shiftKey || !goesOn(event.target)) return
    event.preventDefault()
    nextField(event.currentTarget, event.target)?.focus()
  }
  return (
    <form
      noValidate
      {...rest}
      onKeyDown={onKeyDown}
      onSubmit={(event) => {
        event.preventDefault()
        onSend()
      }}
    >
      {children}
    </form>
  )
}
