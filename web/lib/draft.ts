import { useCallback, useEffect, useRef, useState } from 'react'

/** Where drafts lie. What comes out is not trusted: the form reads it. */
export interface DraftStore {
  load(key: string): Promise<unknown>
  save(key: string, draft: unknown): Promise<void>
  clear(key: string): Promise<void>
}

function storeIn(storage: () => Storage): DraftStore {
  const full = (key: string) => `throwbook.draft.${key}`
  return {
    async load(key) {
      const text = storage().getItem(full(key))
      return text === null ? undefined : JSON.parse(text)
    },
    async save(key, draft) {
      storage().setItem(full(key), JSON.stringify(draft))
    },
    async clear(key) {
      storage().removeItem(full(key))
    },
  }
}

/**
 * Drafts in the browser: until the tab closes, or on the tablet. Only for forms without names, phones or addresses of
 * people (OWASP ASVS 5.0, 14.3.3: no personal data in browser storage); a booking keeps its draft in the book instead.
 */
export const tabDrafts: DraftStore = storeIn(() => sessionStorage)
export const tabletDrafts: DraftStore = storeIn(() => localStorage)

/** `reading` until the store has answered; `kept` once the last change lies in the store; `not-kept` when the store refused. */
export type DraftState = 'reading' | 'none' | 'typing' | 'kept' | 'not-kept'

export interface Draft<Form> {
  /** What was found when the form opened; undefined when nothing was, or it no longer fits the form. */
  found: Form | undefined
  state: DraftState
  /** Call on every change; it is written after a short rest, and at once when the page is left. */
  keep(form: Form): void
  /** Call when the form has been taken by the book, or thrown away by hand. */
  clear(): Promise<void>
}

const REST_MS = 400

/** Keeps a half-filled form for one person and one form: `key` should say both, such as `reading:${personId}:${jobId}`; `read` says what of the store is such a form, and is the same function every time. */
export function useDraft<Form>(key: string, read: (raw: unknown) => Form | undefined, store: DraftStore): Draft<Form> {
  const [found, setFound] = useState<Form | undefined>(undefined)
  const [state, setState] = useState<DraftState>('reading')
  const waiting = useRef<{ form: Form } | undefined>(undefined)
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined)

  const write = useCallback(() => {
    clearTimeout(timer.current)
    const next = waiting.current
    if (next === undefined) return
    waiting.current = undefined
    store.save(key, next.form).then(
      () => setState('kept'),
      () => setState('not-kept'),
    )
  }, [key, store])

  useEffect(() => {
    let gone = false
    setState('reading')
    setFound(undefined)
    store.load(key).then(
      (raw) => {
        if (gone) return
        const form = raw === undefined ? undefined : read(raw)
        setFound(form)
        setState((now) => (now === 'reading' ? (form === undefined ? 'none' : 'kept') : now))
      },
      () => {
        if (!gone) setState((now) => (now === 'reading' ? 'none' : now))
      },
    )
    window.addEventListener('pagehide', write)
    return () => {
      gone = true
      window.removeEventListener('pagehide', write)
      write()
    }
  }, [key, read, store, write])

  const keep = useCallback(
    (form: Form) => {
      waiting.current = { form }
      setState('typing')
      clearTimeout(timer.current)
      timer.current = setTimeout(write, REST_MS)
    },
    [write],
  )

  const clear = useCallback(async () => {
    clearTimeout(timer.current)
    waiting.current = undefined
    setFound(undefined)
    setState('none')
    await store.clear(key)
  }, [key, store])

  return { found, state, keep, clear }
}
