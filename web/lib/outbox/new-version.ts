type Listener = () => void
const listeners = new Set<Listener>()
let next: ServiceWorker | undefined

/** A newer book that lies ready on this tablet. It is taken when somebody says so, and never over a page in use. */
export const newVersion = {
  isReady: () => next !== undefined,
  subscribe(listener: Listener): () => void {
    listeners.add(listener)
    return () => {
      listeners.delete(listener)
    }
  },
  take(): void {
    navigator.serviceWorker.addEventListener('controllerchange', () => window.location.reload(), { once: true })
    next?.postMessage({ kind: 'take-over' })
  },
}

function ready(worker: ServiceWorker | null): void {
  if (worker === null) return
  next = worker
  for (const listener of listeners) listener()
}

/** Starts the worker that opens the book without the network. Where it cannot be, the book works as any page does. */
export async function startWorker(): Promise<void> {
  if (!window.isSecureContext || !('serviceWorker' in navigator)) return
  const registration = await navigator.serviceWorker.register('/sw.js')
  // The first worker takes over an open page without asking: it changes nothing in it.
  if (registration.waiting !== null && navigator.serviceWorker.controller !== null) ready(registration.waiting)
  registration.addEventListener('updatefound', () => {
    const worker = registration.installing
    worker?.addEventListener('statechange', () => {
      if (worker.state === 'installed' && navigator.serviceWorker.controller !== null) ready(worker)
    })
  })
}
