import { type ReactNode, useEffect } from 'react'

export const MAIN_ID = 'main'

/** First thing in the order of keys: past the bar, to the page. */
export function SkipLink() {
  return (
    <a className="skip" href={`#${MAIN_ID}`}>
      To the page
    </a>
  )
}

export interface PageProps {
  /** What the tab says: `318-V at the bench`. */
  title: string
  /** The heading, where it says more than the tab; else the title. */
  heading?: ReactNode
  /** One soft line beneath the heading. */
  lead?: ReactNode
  /** What stands opposite the heading: the promise, a count. */
  aside?: ReactNode
  children: ReactNode
}

export function useTitle(title: string): void {
  useEffect(() => {
    document.title = title === 'Throwbook' ? title : `${title} · Throwbook`
  }, [title])
}

export function Page({ title, heading = title, lead, aside, children }: PageProps) {
  useTitle(title)
  return (
    <main id={MAIN_ID} className="page" tabIndex={-1}>
      <div className="page-head">
        <div>
          <h1 tabIndex={-1}>{heading}</h1>
          {lead !== undefined && <p className="soft">{lead}</p>}
        </div>
        {aside !== undefined && <div className="page-aside">{aside}</div>}
      </div>
      {children}
    </main>
  )
}
