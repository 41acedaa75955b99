import { useQuery } from '@tanstack/react-query'
import { type ReactNode, useState } from 'react'
import { useNavigate } from 'react-router'
import { clockWords } from '#web/features/hours/clock-words.ts'
import { clockQuery } from '#web/features/hours/queries.ts'
import { ChangeHands } from '#web/features/sessions/change-hands.tsx'
import { doorQuery, useSignOut } from '#web/features/sessions/queries.ts'
import { BeforeLeaving } from '#web/features/waiting/before-leaving.tsx'
import { outbox } from '#web/lib/outbox/outbox.ts'
import { homeOf } from '#web/lib/places.ts'
import { useNow } from '#web/lib/use-clock.ts'
import { useMe } from '#web/pages/signed-in.tsx'
import { Button } from '#web/ui/button.tsx'
import { MeMenu } from '#web/ui/me-menu.tsx'

export interface BenchHandsProps {
  /** The crank on the screen; its own tag is then left out of the words. */
  jobId?: string
  /** More for the menu: ways to other screens. */
  children?: ReactNode
}

/** Who is at the bench, on what, for how long; opens the light of the screen, and change of hands on an enrolled tablet. */
export function BenchHands({ jobId, children }: BenchHandsProps) {
  const me = useMe()
  const door = useQuery(doorQuery)
  const clock = useQuery(clockQuery)
  const out = useSignOut()
  const now = useNow(5_000)
  const navigate = useNavigate()
  const [changing, setChanging] = useState(false)
  const [leaving, setLeaving] = useState(false)
  const leave = () => {
    // What lies here and not in the book is said before anybody goes.
    if (
      outbox()
        ?.records()
        .some((record) => record.personId === me.id)
    )
      setLeaving(true)
    else out.mutate()
  }
  const hands = (door.data?.hands ?? []).filter((hand) => hand.id !== me.id)
  return (
    <>
      <MeMenu who={clockWords(me.name, clock.data?.running ?? null, jobId, now)} onSignOut={leave}>
        {me.enrolled && hands.length > 0 && (
          <Button wide onClick={() => setChanging(true)}>
            Change hands
          </Button>
        )}
        {children}
      </MeMenu>
      {leaving && <BeforeLeaving personId={me.id} onShut={() => setLeaving(false)} onLeave={() => out.mutate()} />}
      {changing && (
        <ChangeHands
          hands={hands}
          onShut={() => setChanging(false)}
          onIn={(who) => {
            setChanging(false)
            if (who.role === 'counter') void navigate(homeOf(who.role))
          }}
        />
      )}
    </>
  )
}
