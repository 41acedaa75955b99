import { useCallback, useMemo } from 'react'
import { useSearchParams } from 'react-router'
import type { z } from 'zod'

type Shape = Record<string, z.ZodType>

function written(value: unknown): string[] {
  if (value === undefined || value === null || value === '') return []
  if (Array.isArray(value)) return value.flatMap(written)
  return [String(value)]
}

/**
 * What the address says, by the schema. Each name stands alone: one that the schema refuses (a link from last year, a
 * mistyped address) falls back to its default and the rest still holds. A field that is an array takes every repeat.
 */
export function readSearch<Fields extends Shape>(schema: z.ZodObject<Fields>, search: URLSearchParams): z.infer<z.ZodObject<Fields>> {
  const read: Record<string, unknown> = {}
  for (const [name, field] of Object.entries(schema.shape)) {
    const given = search.getAll(name)
    const one = given.length === 0 ? undefined : given[0]
    const tries = given.length > 1 ? [given, one] : [one, given.length === 0 ? undefined : given, undefined]
    const result = tries.map((attempt) => field.safeParse(attempt)).find((attempt) => attempt.success)
    if (result === undefined) throw new RangeError(`readSearch needs a default for ${name}`)
    if (result.data !== undefined) read[name] = result.data
  }
  return read as z.infer<z.ZodObject<Fields>>
}

/** The address for a state; a name that holds its default is left out, so that equal views have equal links. */
export function writeSearch<Fields extends Shape>(schema: z.ZodObject<Fields>, state: Record<string, unknown>): URLSearchParams {
  const search = new URLSearchParams()
  for (const [name, field] of Object.entries(schema.shape)) {
    const usual = field.safeParse(undefined)
    const value = written(state[name])
    if (usual.success && value.join('\n') === written(usual.data).join('\n')) continue
    for (const one of value) search.append(name, one)
  }
  return search
}

/**
 * The part of a page's state that belongs in its address (tab, filter, sort), so that every view can be linked and the
 * back button steps through them. Every field must have a default or be optional; numbers want z.coerce.
 */
export function useSearchState<Fields extends Shape>(
  schema: z.ZodObject<Fields>,
): [z.infer<z.ZodObject<Fields>>, (change: Partial<z.infer<z.ZodObject<Fields>>>, how?: { replace?: boolean }) => void] {
  const [search, setSearch] = useSearchParams()
  const state = useMemo(() => readSearch(schema, search), [schema, search])
  const change = useCallback(
    (part: Partial<z.infer<z.ZodObject<Fields>>>, how: { replace?: boolean } = {}) => {
      setSearch((now) => writeSearch(schema, { ...readSearch(schema, now), ...part }), { replace: how.replace ?? false })
    },
    [schema, setSearch],
  )
  return [state, change]
}
