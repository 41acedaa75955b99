import { type InputHTMLAttributes, type ReactNode, type Ref, useState } from 'react'
import { fromMm, type LengthUnit, readLength } from '#core/units.ts'
import { figure } from '#web/lib/format.ts'
import { type ReadQuantity, readQuantity } from '#web/lib/quantity.ts'
import { Field } from '#web/ui/field.tsx'

type Own = Omit<InputHTMLAttributes<HTMLInputElement>, 'className' | 'children' | 'type' | 'value' | 'onChange' | 'inputMode'>

interface Typed extends Own {
  label: ReactNode
  hint?: ReactNode
  /** From the form or the book; it goes before what this field finds itself. */
  error?: string | undefined
  /** The text as typed; it is kept as it is. */
  value: string
  onChange(typed: string): void
  ref?: Ref<HTMLInputElement>
}

export const UNIT_WORDS = { mm: 'mm', thou: 'thou', tenth: 'tenths' } as const satisfies Record<LengthUnit, string>

/** The length as read, in mm and in thou, the typed unit first: `0.02 mm = 0.8 thou`. */
export function lengthReadBack(mm: number, unit: LengthUnit): string {
  const inMm = `${shortest(mm, 4)} mm`
  const inThou = `${shortest(fromMm(mm, 'thou'), 2)} thou`
  if (unit === 'mm') return `${inMm} = ${inThou}`
  return unit === 'thou' ? `${inThou} = ${inMm}` : `${shortest(fromMm(mm, 'tenth'), 1)} tenths = ${inMm}`
}

function shortest(value: number, decimals: number): string {
  const written = figure(value, decimals)
  return written.includes('.') ? written.replace(/\.?0+$/, '') : written
}

export interface MeasureFieldProps extends Typed {
  /** Unit of a bare figure; another may be typed behind it. */
  unit: LengthUnit
}

/**
 * A length. A text field with the decimal keys (never a number field: those round, scroll and refuse the comma). It shows
 * what it understood; what it cannot read it says once the field is left. Read the value with core's readLength.
 */
export function MeasureField({ label, hint, error, value, onChange, unit, onBlur, id, ...rest }: MeasureFieldProps) {
  const [left, setLeft] = useState(false)
  const read = readLength(value, unit)
  const unread = !read.ok && read.reason !== 'nothing-typed' && left ? read.detail : undefined
  const fault = error ?? unread
  return (
    <Field
      id={id}
      label={label}
      unit={UNIT_WORDS[unit]}
      {...(hint === undefined ? {} : { hint })}
      error={fault}
      readBack={read.ok ? lengthReadBack(read.value.mm, read.value.unit) : '\u00a0'}
    >
      {(wiring) => (
        <input
          autoComplete="off"
          spellCheck={false}
          {...rest}
          {...wiring}
          className="figures"
          type="text"
          inputMode="decimal"
          value={value}
          onChange={(event) => onChange(event.target.value)}
          onBlur={(event) => {
            setLeft(true)
            onBlur?.(event)
          }}
        />
      )}
    </Field>
  )
}

export interface QuantityFieldProps extends Typed {
  /** `h`, `t`, `°C`, a currency; shown behind the field. */
  unit: string
  /** How to read it; readQuantity with this unit unless said. Money takes readMoney. */
  read?: (typed: string) => ReadQuantity
  /** Says back what was read, where that helps. */
  sayBack?: (value: number) => ReactNode
}

/** A decimal that is no length: hours, tonnes, degrees, money. Same keys and same manners as a length. */
export function QuantityField({ label, hint, error, value, onChange, unit, read, sayBack, onBlur, id, ...rest }: QuantityFieldProps) {
  const [left, setLeft] = useState(false)
  const got = read ? read(value) : readQuantity(value, unit)
  const unread = !got.ok && !got.nothingTyped && left ? got.detail : undefined
  return (
    <Field
      id={id}
      label={label}
      unit={unit}
      {...(hint === undefined ? {} : { hint })}
      error={error ?? unread}
      {...(sayBack === undefined ? {} : { readBack: got.ok ? sayBack(got.value) : '\u00a0' })}
    >
      {(wiring) => (
        <input
          autoComplete="off"
          spellCheck={false}
          {...rest}
          {...wiring}
          className="figures"
          type="text"
          inputMode="decimal"
          value={value}
          onChange={(event) => onChange(event.target.value)}
          onBlur={(event) => {
            setLeft(true)
            onBlur?.(event)
          }}
        />
      )}
    </Field>
  )
}
