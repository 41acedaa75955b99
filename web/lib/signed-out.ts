type Listener = () => void
const listeners = new Set<Listener>()

/** Says that the session has ended, so that the sign-in can open over the page and nothing typed is lost. */
export function announceSignedOut(): void {
  for (const listener of listeners) listener()
}

export function onSignedOut(listener: Listener): () => void {
  listeners.add(listener)
  return () => {
    listeners.delete(listener)
  }
}
