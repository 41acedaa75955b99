import type { FieldErrors, FieldValues } from 'react-hook-form'
import type { ChangeForm } from '#web/lib/use-change-form.ts'
import { Differences } from '#web/ui/differences.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

export interface FormProblemsProps<Values extends FieldValues> {
  errors: FieldErrors<Values>
  /** What did not happen: `It is not written down yet.` */
  title: string
  /** Fields in their order on the screen, with what they are called. */
  labels: Readonly<Record<string, string>>
  attempt: number
  /** Says each field's name before its fault, on a page with many. */
  named?: boolean
}

/** What is to be mended before the form can be sent; nothing while there is nothing. */
export function FormProblems<Values extends FieldValues>({ errors, title, labels, attempt, named = false }: FormProblemsProps<Values>) {
  const faults = Object.entries(labels).flatMap(([name, label]) => {
    const message = (errors[name] as { message?: string } | undefined)?.message
    return message === undefined ? [] : [{ name, text: named ? `${label}: ${message}` : message }]
  })
  const atTheHead = errors.root?.message
  if (faults.length === 0 && atTheHead === undefined) return null
  return (
    <ProblemSummary title={title} faults={faults} attempt={attempt}>
      {atTheHead !== undefined && <p>{atTheHead}</p>}
    </ProblemSummary>
  )
}

export interface ChangeProblemsProps<Values extends Record<string, string>>
  extends Pick<FormProblemsProps<Values>, 'title' | 'labels' | 'named'> {
  change: ChangeForm<Values>
  /** What somebody else may have changed meanwhile: `this customer`. */
  what: string
}

/** What stands in the way of a change: what somebody else wrote meanwhile, and what is to be mended. */
export function ChangeProblems<Values extends Record<string, string>>({
  change,
  what,
  title,
  labels,
  named = false,
}: ChangeProblemsProps<Values>) {
  const { clashes, form, attempt, takeTheirs } = change
  return (
    <>
      {clashes !== undefined && (
        <Differences what={what} rows={clashes.map((one) => ({ ...one, label: labels[one.name] ?? one.name }))} onTheirs={takeTheirs} />
      )}
      <FormProblems errors={form.formState.errors} title={title} labels={labels} attempt={attempt} named={named} />
    </>
  )
}
