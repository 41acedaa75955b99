import { useQuery, useQueryClient } from '@tanstack/react-query'
import { useEffect, useId, useRef, useState } from 'react'
import type { Me } from '#contract/sessions.ts'
import { meQuery } from '#web/features/sessions/queries.ts'
import { SignInForm } from '#web/features/sessions/sign-in-form.tsx'
import { onSignedOut } from '#web/lib/signed-out.ts'

/**
 * Opens over the page when the session has ended, so that what was typed beneath it stays. If somebody else signs in, the
 * page starts afresh instead: it was not theirs.
 */
export function SignInAgain() {
  const client = useQueryClient()
  const [before, setBefore] = useState<Me | undefined>(undefined)
  // Once it is known that nobody is in, the pages lead to the sign-in page; two of them would stand over one another.
  const isNobody = useQuery({ ...meQuery, enabled: false }).data === null
  const box = useRef<HTMLDialogElement>(null)
  const heading = useId()

  useEffect(
    () =>
      onSignedOut(() => {
        // Someone who was never in is sent to the sign-in page by the pages themselves.
        const was = client.getQueryData(meQuery.queryKey)
        if (was) setBefore(was)
      }),
    [client],
  )

  useEffect(() => {
    if (before !== undefined && box.current?.open === false) box.current.showModal()
  }, [before])

  useEffect(() => {
    if (isNobody) setBefore(undefined)
  }, [isNobody])

  if (before === undefined || isNobody) return null

  const onIn = (who: Me) => {
    box.current?.close()
    setBefore(undefined)
    if (who.id === before.id) {
      void client.invalidateQueries()
      return
    }
    client.clear()
    window.location.assign('/')
  }

  return (
    <dialog ref={box} className="sign-in-again" aria-labelledby={heading} onCancel={(event) => event.preventDefault()}>
      <h2 id={heading}>Signed out while you were here</h2>
      <p>Sign in again; what you typed is still there.</p>
      <SignInForm name={before.signIn} onIn={onIn} />
    </dialog>
  )
}
