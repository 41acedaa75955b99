import { useSyncExternalStore } from 'react'

/** One setting of this tablet, kept in its browser. Never for anything about a person. */
export interface Kept<Value> {
  read(): Value
  write(value: Value): void
  subscribe(listener: () => void): () => void
}

function fromStore(key: string): string | null {
  try {
    return localStorage.getItem(key)
  } catch {
    return null
  }
}

function toStore(key: string, text: string): void {
  try {
    localStorage.setItem(key, text)
  } catch {
    // A browser that keeps nothing (private window, storage full) still honours the choice until the page is closed.
  }
}

/** `read` must refuse (undefined) what it does not know, so that an old or foreign entry falls back. */
export function kept<Value>(
  key: string,
  fallback: Value,
  read: (text: string) => Value | undefined,
  write: (value: Value) => string,
): Kept<Value> {
  const listeners = new Set<() => void>()
  let value: Value | undefined
  return {
    read() {
      if (value === undefined) {
        const text = fromStore(key)
        value = (text === null ? undefined : read(text)) ?? fallback
      }
      return value
    },
    write(next) {
      value = next
      toStore(key, write(next))
      for (const listener of listeners) listener()
    },
    subscribe(listener) {
      listeners.add(listener)
      return () => {
        listeners.delete(listener)
      }
    },
  }
}

export function useKept<Value>(setting: Kept<Value>): [Value, (value: Value) => void] {
  return [useSyncExternalStore(setting.subscribe, setting.read), setting.write]
}
