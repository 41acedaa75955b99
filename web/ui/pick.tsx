import { type ReactNode, useId } from 'react'

export interface PickOption<Value extends string> {
  value: Value
  label: ReactNode
}

interface PickLook<Value extends string> {
  /** The question, above the choices. */
  label: ReactNode
  options: readonly PickOption<Value>[]
  hint?: ReactNode
  error?: string | undefined
  /** The name of the group, where a form reads it. */
  name?: string
}

export interface PickProps<Value extends string> extends PickLook<Value> {
  value: NoInfer<Value> | undefined
  onChange(value: NoInfer<Value>): void
}

/** One of a few: radio buttons in the dress of chips. Arrow keys move, as in any group of radio buttons. */
export function Pick<Value extends string>({ value, onChange, ...look }: PickProps<Value>) {
  const id = useId()
  const group = look.name ?? id
  return (
    <Frame {...look} id={id} role="radiogroup">
      {look.options.map((option) => (
        <label key={option.value}>
          <input type="radio" name={group} value={option.value} checked={option.value === value} onChange={() => onChange(option.value)} />
          <span>{option.label}</span>
        </label>
      ))}
    </Frame>
  )
}

export interface PickManyProps<Value extends string> extends PickLook<Value> {
  value: readonly NoInfer<Value>[]
  /** In the order of the options, so that equal choices are equal lists. */
  onChange(value: NoInfer<Value>[]): void
}

/** Any of a few: check boxes in the dress of chips. */
export function PickMany<Value extends string>({ value, onChange, ...look }: PickManyProps<Value>) {
  const id = useId()
  const put = (one: Value, on: boolean) =>
    onChange(look.options.map((option) => option.value).filter((each) => (each === one ? on : value.includes(each))))
  return (
    <Frame {...look} id={id} role="group">
      {look.options.map((option) => (
        <label key={option.value}>
          <input
            type="checkbox"
            name={look.name ?? id}
            value={option.value}
            checked={value.includes(option.value)}
            onChange={(event) => put(option.value, event.target.checked)}
          />
          <span>{option.label}</span>
        </label>
      ))}
    </Frame>
  )
}

interface FrameProps extends Omit<PickLook<string>, 'options' | 'name'> {
  id: string
  role: 'radiogroup' | 'group'
  children: ReactNode
}

function Frame({ id, role, label, hint, error, children }: FrameProps) {
  const said = [hint !== undefined && `${id}-hint`, error !== undefined && `${id}-error`].filter((one) => one !== false)
  return (
    <fieldset
      className="pick"
      role={role}
      aria-invalid={role === 'radiogroup' && error !== undefined ? true : undefined}
      aria-describedby={said.length > 0 ? said.join(' ') : undefined}
    >
      <legend>{label}</legend>
      {hint !== undefined && (
        <p className="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <div className="chips">{children}</div>
      {error !== undefined && (
        <p className="wrong" id={`${id}-error`}>
          {error}
        </p>
      )}
    </fieldset>
  )
}
