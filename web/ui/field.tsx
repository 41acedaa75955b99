import { type InputHTMLAttributes, type ReactNode, type Ref, type SelectHTMLAttributes, type TextareaHTMLAttributes, useId } from 'react'

export interface Labelled {
  label: ReactNode
  /** One soft line that helps before typing: where to read it, an example. */
  hint?: ReactNode
  /** What is wrong and how to mend it; shown beside the field and read out with it. */
  error?: string | undefined
  /** Unit behind the field: `mm`, `h`. It belongs to the label for those who hear it. */
  unit?: string
  /** What was taken from what was typed, read back: `Sat 5 Dec`. */
  readBack?: ReactNode
}

export interface Wiring {
  id: string
  'aria-invalid': true | undefined
  'aria-describedby': string | undefined
}

export interface FieldProps extends Labelled {
  /** An id of the page's own, where something else points at the field. */
  id?: string | undefined
  children: (wiring: Wiring) => ReactNode
}

/** Label above, field, unit behind, what was understood, what is wrong. Everything that takes text stands in one of these. */
export function Field({ label, hint, error, unit, readBack, id, children }: FieldProps) {
  const own = useId()
  const field = id ?? own
  const said = [hint !== undefined && `${own}-hint`, readBack !== undefined && `${own}-back`, error !== undefined && `${own}-error`].filter(
    (one) => one !== false,
  )
  return (
    <div className="field">
      <label htmlFor={field}>
        {label}
        {unit !== undefined && <span className="spoken">, {unit}</span>}
      </label>
      {hint !== undefined && (
        <p className="hint" id={`${own}-hint`}>
          {hint}
        </p>
      )}
      <div className="field-in">
        {children({
          id: field,
          'aria-invalid': error === undefined ? undefined : true,
          'aria-describedby': said.length > 0 ? said.join(' ') : undefined,
        })}
        {unit !== undefined && (
          <span className="unit" aria-hidden="true">
            {unit}
          </span>
        )}
      </div>
      {readBack !== undefined && (
        <p className="hint" id={`${own}-back`}>
          {readBack}
        </p>
      )}
      {error !== undefined && (
        <p className="wrong" id={`${own}-error`}>
          {error}
        </p>
      )}
    </div>
  )
}

type Own<Attributes> = Omit<Attributes, 'className' | 'children'>

export interface TextFieldProps extends Labelled, Own<InputHTMLAttributes<HTMLInputElement>> {
  type?: 'text' | 'tel' | 'email' | 'password' | 'url'
  ref?: Ref<HTMLInputElement>
}

/** One line. Give `autoComplete` where the browser may know it (1.3.5): name, tel, email. `{...register('name')}` fits. */
export function TextField({ label, hint, error, unit, readBack, type = 'text', id, ...rest }: TextFieldProps) {
  return (
    <Field {...labelled({ label, hint, error, unit, readBack })} id={id}>
      {(wiring) => <input {...rest} {...wiring} type={type} />}
    </Field>
  )
}

export interface AreaFieldProps extends Labelled, Own<TextareaHTMLAttributes<HTMLTextAreaElement>> {
  ref?: Ref<HTMLTextAreaElement>
}

export function AreaField({ label, hint, error, unit, readBack, rows = 3, id, ...rest }: AreaFieldProps) {
  return (
    <Field {...labelled({ label, hint, error, unit, readBack })} id={id}>
      {(wiring) => <textarea {...rest} {...wiring} rows={rows} />}
    </Field>
  )
}

export interface Choice {
  value: string
  label: string
}

export interface SelectFieldProps extends Labelled, Own<SelectHTMLAttributes<HTMLSelectElement>> {
  choices: readonly Choice[]
  /** What stands there while nothing is chosen; its value is the empty text. */
  nothing?: string
  ref?: Ref<HTMLSelectElement>
}

/** For long lists of known names; up to seven choices are better as a Pick. */
export function SelectField({ label, hint, error, unit, readBack, choices, nothing, id, ...rest }: SelectFieldProps) {
  return (
    <Field {...labelled({ label, hint, error, unit, readBack })} id={id}>
      {(wiring) => (
        <select {...rest} {...wiring}>
          {nothing !== undefined && <option value="">{nothing}</option>}
          {choices.map((choice) => (
            <option key={choice.value} value={choice.value}>
              {choice.label}
            </option>
          ))}
        </select>
      )}
    </Field>
  )
}

export interface DateFieldProps extends Labelled, Own<InputHTMLAttributes<HTMLInputElement>> {
  ref?: Ref<HTMLInputElement>
}

/** A calendar date, YYYY-MM-DD in and out. Give `readBack` the weekday (format.ts day), since the browser shows its own order of digits. */
export function DateField({ label, hint, error, unit, readBack, id, ...rest }: DateFieldProps) {
  return (
    <Field {...labelled({ label, hint, error, unit, readBack })} id={id}>
      {(wiring) => <input {...rest} {...wiring} type="date" />}
    </Field>
  )
}

// Under exactOptionalPropertyTypes a prop that was not given must stay not given.
function labelled(given: { [Name in keyof Labelled]: Labelled[Name] | undefined }): Labelled {
  return Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)) as unknown as Labelled
}
