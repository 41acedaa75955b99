import { useState } from 'react'
import { type DefaultValues, type Path, type PathValue, type UseFormReturn, useForm } from 'react-hook-form'
import { Problem } from '#web/lib/problem.ts'
import { putOnForm } from '#web/lib/problem-to-form.ts'
import { type EditClash, settleEdits } from '#web/lib/settle-edits.ts'

type Typed = Record<string, string>

export interface ChangeForm<Values extends Typed> {
  form: UseFormReturn<Values>
  /** What stood when the form was opened, or when it was last set beside what somebody else wrote. */
  seen: { version: number; values: Values }
  /** Fields that both changed; undefined until somebody else wrote first. */
  clashes: readonly EditClash<Extract<keyof Values, string>>[] | undefined
  /** Counts the tries, so that a summary takes the focus anew. */
  attempt: number
  /** A new try: what was refused before is forgotten. */
  begin(): void
  /** Puts what is to be mended beside its fields. */
  mend(faults: Readonly<Partial<Record<string, string>>>): void
  /** The book refused it. Where somebody else wrote first, theirs is fetched and set beside what is typed; nothing is lost. */
  refused(error: unknown): void
  /** It is written, and the form stays open over what stands now. */
  written(version: number, values: Values): void
  takeTheirs(name: string): void
}

export interface Changing<Values extends Typed> {
  version: number
  values: Values
  /** Names of the fields on the screen. */
  names: readonly string[]
  /** What stands in the book now, asked for when somebody else wrote first. */
  readNow(): Promise<{ version: number; values: Values }>
}

/** A form that changes something which somebody else may be changing too: typed over the version that was seen. */
export function useChangeForm<Values extends Typed>({ version, values, names, readNow }: Changing<Values>): ChangeForm<Values> {
  const [seen, setSeen] = useState(() => ({ version, values }))
  const [clashes, setClashes] = useState<ChangeForm<Values>['clashes']>(undefined)
  const [attempt, setAttempt] = useState(0)
  const form = useForm<Values>({ defaultValues: seen.values as DefaultValues<Values> })
  const put = (name: string, value: string) => form.setValue(name as Path<Values>, value as PathValue<Values, Path<Values>>)

  const setBeside = async () => {
    const now = await readNow()
    const settled = settleEdits(seen.values, form.getValues(), now.values)
    for (const [name, value] of Object.entries(settled.values)) put(name, value)
    setSeen(now)
    setClashes(settled.clashes)
  }

  return {
    form,
    seen,
    clashes,
    attempt,
    begin: () => {
      setAttempt((before) => before + 1)
      form.clearErrors()
    },
    mend: (faults) => {
      for (const [name, message] of Object.entries(faults))
        if (message !== undefined) form.setError(name as Path<Values>, { type: 'typed', message })
    },
    refused: (error) => {
      if (error instanceof Problem && error.type === 'stale-version')
        void setBeside().catch((again: unknown) => putOnForm(again, [], form.setError))
      else putOnForm(error, names, form.setError)
    },
    written: (nowVersion, nowValues) => {
      setSeen({ version: nowVersion, values: nowValues })
      setClashes(undefined)
    },
    takeTheirs: (name) => {
      const clash = clashes?.find((one) => one.name === name)
      if (clash !== undefined) put(name, clash.theirs)
      setClashes(clashes?.filter((one) => one.name !== name))
    },
  }
}
