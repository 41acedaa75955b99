import type { ButtonHTMLAttributes, ReactNode, Ref } from 'react'
import { Link } from 'react-router'

/** `go` is the one thing the hand does next, in copper: one to a screen. Everything else is `quiet`. */
export type ButtonKind = 'go' | 'quiet'

export interface ButtonProps extends Omit<ButtonHTMLAttributes<HTMLButtonElement>, 'className'> {
  kind?: ButtonKind
  /** As wide as its column. */
  wide?: boolean
  /** Being done: presses are swallowed, but the focus stays where it is. */
  busy?: boolean
  ref?: Ref<HTMLButtonElement>
}

function look(kind: ButtonKind, wide: boolean): string {
  return wide ? `${kind} wide` : kind
}

export function Button({ kind = 'quiet', wide = false, busy = false, type = 'button', onClick, children, ...rest }: ButtonProps) {
  return (
    <button
      {...rest}
      type={busy ? 'button' : type}
      className={look(kind, wide)}
      aria-disabled={busy || undefined}
      aria-busy={busy || undefined}
      onClick={busy ? undefined : onClick}
    >
      {children}
    </button>
  )
}

export interface GoLinkProps {
  to: string
  kind?: ButtonKind
  wide?: boolean
  children: ReactNode
}

/** Goes somewhere, and looks like the button it stands for. */
export function GoLink({ to, kind = 'quiet', wide = false, children }: GoLinkProps) {
  return (
    <Link to={to} className={look(kind, wide)}>
      {children}
    </Link>
  )
}

/** Buttons side by side, the one to press first. They wrap, they never push the page sideways. */
export function Buttons({ children }: { children: ReactNode }) {
  return <div className="buttons">{children}</div>
}
