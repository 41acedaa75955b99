interface InstallPrompt extends Event {
  prompt(): Promise<unknown>
}

type Listener = () => void
const listeners = new Set<Listener>()
let waiting: (() => Promise<unknown>) | undefined

/** The browser's own offer to put the book on the home screen, kept for the button that asks for it. */
export const installAsk = {
  read: () => waiting,
  subscribe(listener: Listener): () => void {
    listeners.add(listener)
    return () => {
      listeners.delete(listener)
    }
  },
}

export function catchInstallOffer(): void {
  window.addEventListener('beforeinstallprompt', (event) => {
    event.preventDefault()
    waiting = () => (event as InstallPrompt).prompt()
    for (const listener of listeners) listener()
  })
}

/** Browsers open a page without the network only where it came by https, or from this very machine. */
export function mayOpenOffline(): boolean {
  return window.isSecureContext && 'serviceWorker' in navigator
}

/** Asks the browser not to clear what lies on the tablet; whether it promised. Undefined where it cannot be asked. */
export async function askToStay(): Promise<boolean | undefined> {
  const { storage } = navigator as { storage?: StorageManager }
  if (storage?.persist === undefined) return undefined
  return (await storage.persisted()) || (await storage.persist())
}
