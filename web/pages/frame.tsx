import type { ReactNode } from 'react'
import { useSignOut } from '#web/features/sessions/queries.ts'
import { placesOf } from '#web/lib/places.ts'
import { useMe } from '#web/pages/signed-in.tsx'
import { Bar } from '#web/ui/bar.tsx'
import { MeMenu } from '#web/ui/me-menu.tsx'
import { SkipLink } from '#web/ui/page.tsx'

const ROLE_WORDS = { counter: 'counter', bench: 'bench', owner: 'owner' } as const

export interface FrameProps {
  /** The one thing to do from here: a GoLink. */
  action?: ReactNode
  find?: ReactNode
  /** More for the menu of the person. */
  menu?: ReactNode
  /** A Page. */
  children: ReactNode
}

/** Bar above, page beneath, for the counter and the office. Bench screens put a BenchBar over their page instead. */
export function Frame({ action, find, menu, children }: FrameProps) {
  const me = useMe()
  const out = useSignOut()
  return (
    <>
      <SkipLink />
      <Bar
        places={placesOf(me.role)}
        find={find}
        action={action}
        me={
          <MeMenu who={`${me.name}, ${ROLE_WORDS[me.role]}`} onSignOut={() => out.mutate()}>
            {menu}
          </MeMenu>
        }
      />
      {me.demo && (
        <aside className="demo-line" aria-label="Demo">
          Demo book. Nothing in it is real.
        </aside>
      )}
      {children}
    </>
  )
}
