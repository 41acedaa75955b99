import type { ReactNode } from 'react'
import { NavLink } from 'react-router'
import { PLACES, type PlaceName } from '#web/lib/places.ts'

export interface BarProps {
  /** Which places this person may go to, see placesOf(role). */
  places: readonly PlaceName[]
  /** The find box, see FindBox. */
  find?: ReactNode
  /** Who is here, see MeMenu. */
  me?: ReactNode
  /** The one thing to do from anywhere in this place: a GoLink. */
  action?: ReactNode
}

/** The head of every page at the counter and in the office. */
export function Bar({ places, find, me, action }: BarProps) {
  return (
    <header className="bar">
      <b className="bar-name">Throwbook</b>
      <nav aria-label="Places">
        {PLACES.filter((place) => places.includes(place.name)).map((place) => (
          <NavLink key={place.path} to={place.path}>
            {place.name}
          </NavLink>
        ))}
      </nav>
      {find}
      <div className="me">
        {me}
        {action}
      </div>
    </header>
  )
}

export interface BenchBarProps {
  tag: string
  /** Engine and what is next: `Ruskhammar R449-4X · to true`. */
  what: ReactNode
  /** Who, on what, for how long: `Jonas · truing 0:47`. */
  me?: ReactNode
  /** Stop, or leave. */
  action?: ReactNode
}

/** The head of a bench screen: which crank lies here and whose clock runs. */
export function BenchBar({ tag, what, me, action }: BenchBarProps) {
  return (
    <header className="bar bench-bar">
      <b className="bar-name">{tag}</b>
      <span className="bar-what">{what}</span>
      <div className="me">
        {me !== undefined && <span>{me}</span>}
        {action}
      </div>
    </header>
  )
}
