/** When somebody last touched this page. What it asks by itself after that is no sign of a person, and says so. */

const UNATTENDED_AFTER_MS = 60_000

let last = Date.now()

if (typeof document !== 'undefined')
  for (const kind of ['pointerdown', 'keydown'] as const)
    document.addEventListener(
      kind,
      () => {
        last = Date.now()
      },
      { capture: true, passive: true },
    )

/** Nobody touched the page for a minute: a request now must not put off the end of an idle session. */
export function unattended(now = Date.now()): boolean {
  return now - last > UNATTENDED_AFTER_MS
}
