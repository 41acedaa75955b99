import '#web/styles/changes.css'
import { useEffect, useId, useRef } from 'react'
import { Button } from '#web/ui/button.tsx'

export interface Difference {
  name: string
  /** What the field is called on the screen. */
  label: string
  mine: string
  theirs: string
}

export interface DifferencesProps {
  /** What somebody else changed: `this customer`. */
  what: string
  /** Fields that both changed; may be empty when only other fields were. */
  rows: readonly Difference[]
  /** Takes theirs into the form, in place of what was typed. */
  onTheirs(name: string): void
}

/** Somebody else wrote first: what stands now beside what is typed here, and a way to take either. Nothing typed is lost. */
export function Differences({ what, rows, onTheirs }: DifferencesProps) {
  const box = useRef<HTMLDivElement>(null)
  const heading = useId()
  useEffect(() => {
    box.current?.focus()
  }, [])
  return (
    <div className="problem" ref={box} tabIndex={-1} role="alert" aria-labelledby={heading}>
      <h2 id={heading}>Somebody else changed {what} meanwhile.</h2>
      {rows.length === 0 ? (
        <p>Their change stands in the form beside yours. Look it over and write it again.</p>
      ) : (
        <>
          <p>Yours is still in the form. Take theirs where theirs is right, then write it again.</p>
          <table className="plain-table">
            <thead>
              <tr>
                <th scope="col">Field</th>
                <th scope="col">Stands now</th>
                <th scope="col">Yours</th>
                <th scope="col">
                  <span className="spoken">What to do</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => (
                <tr key={row.name}>
                  <th scope="row">{row.label}</th>
                  <td>{row.theirs === '' ? <span className="soft">nothing</span> : row.theirs}</td>
                  <td>{row.mine === '' ? <span className="soft">nothing</span> : row.mine}</td>
                  <td>
                    <Button onClick={() => onTheirs(row.name)} aria-label={`Take theirs for ${row.label}`}>
                      Take theirs
                    </Button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
    </div>
  )
}

export interface FieldChange {
  field: string
  label: string
  before?: string | undefined
  after?: string | undefined
}

/** What was changed, field by field: what stood before, and what stands after. */
export function Changes({ rows, caption }: { rows: readonly FieldChange[]; caption: string }) {
  const hasBefore = rows.some((row) => row.before !== undefined)
  return (
    <table className="changes" data-both={hasBefore || undefined}>
      <caption className="spoken">{caption}</caption>
      <thead className="spoken">
        <tr>
          <th scope="col">Field</th>
          {hasBefore && <th scope="col">Before</th>}
          <th scope="col">After</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.field}>
            <th scope="row">{row.label}</th>
            {hasBefore && (
              <td className="lines before">{row.before === undefined ? <span className="soft">nothing</span> : <s>{row.before}</s>}</td>
            )}
            <td className="lines">{row.after ?? <span className="soft">nothing</span>}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
