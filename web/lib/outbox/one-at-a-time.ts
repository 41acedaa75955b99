/**
 * Runs work one at a time for each name: over all tabs where the browser has locks (https, localhost), else within this
 * tab. Two tabs without locks may send the same record at once; its key lets the book take it once.
 */
export function oneAtATime(): (name: string, work: () => Promise<void>) => Promise<void> {
  const { locks } = navigator as { locks?: LockManager | null }
  if (locks) return (name, work) => locks.request(`throwbook-outbox ${name}`, work)
  const last = new Map<string, Promise<void>>()
  return (name, work) => {
    const next = (last.get(name) ?? Promise.resolve()).then(work, work)
    last.set(name, next)
    return next
  }
}
