import { type ReactNode, useEffect, useId, useRef } from 'react'

/** The usual caution, short, at the step where somebody could be hurt. Local rules go before it. */
export function Caution({ children }: { children: ReactNode }) {
  return (
    <p className="caution" role="note">
      {children}
    </p>
  )
}

/** Something worth knowing before going on: what this customer wants, what the book found by number. */
export function Known({ children }: { children: ReactNode }) {
  return <div className="known">{children}</div>
}

export interface FaultOfField {
  /** The name of the field in its form. */
  name: string
  text: string
}

export interface ProblemSummaryProps {
  /** What did not happen: `It is not tagged yet.` */
  title: string
  faults?: readonly FaultOfField[]
  /** What belongs to no field. */
  children?: ReactNode
  /** Change it with every try, so that the summary takes the focus again. */
  attempt?: number
}

function goTo(name: string): void {
  const field = Array.from(document.getElementsByName(name)).find((element) => element instanceof HTMLElement)
  field?.focus()
}

/** What is to be mended, at the head of the form; it takes the focus, and each line goes to its field. */
export function ProblemSummary({ title, faults = [], children, attempt = 0 }: ProblemSummaryProps) {
  const box = useRef<HTMLDivElement>(null)
  const heading = useId()
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new try is the reason to take the focus, though nothing in here reads it
  useEffect(() => {
    box.current?.focus()
  }, [attempt])
  return (
    <div className="problem" ref={box} tabIndex={-1} role="alert" aria-labelledby={heading}>
      <h2 id={heading}>{title}</h2>
      {children}
      {faults.length > 0 && (
        <ul>
          {faults.map((fault) => (
            <li key={fault.name}>
              <button type="button" className="plain" onClick={() => goTo(fault.name)}>
                {fault.text}
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  )
}

/**
 * A line that tells what became of things: `saved`, `saved on this tablet, 3 waiting`. Keep it on the page from the start and
 * change its words: a line that comes with its words is not read out everywhere.
 */
export function NoticeLine({ children }: { children: ReactNode }) {
  return (
    <p className="notice-line" role="status">
      {children}
    </p>
  )
}

/** Past a limit, in a sentence; always with the word and the ▲. */
export function Over({ children }: { children: ReactNode }) {
  return <span className="over">{children}</span>
}
