import type { Answer } from '#core/answer.ts'

/** What the tests of the wire of the sums share. */

export function value(answered: unknown): unknown {
  const answer = answered as Answer<unknown>
  if (typeof answer.ok !== 'boolean') return answered
  if (!answer.ok) throw new Error(answer.detail)
  return answer.value
}

/** The body with one member, named by a path, set to something else; undefined takes it out. */
export function withMember(body: unknown, path: string, to: unknown): unknown {
  const copy = structuredClone(body) as Record<string, unknown>
  const names = path.split('/')
  const last = names.pop()!
  let at = copy
  for (const name of names) at = at[name] as Record<string, unknown>
  if (to === undefined) delete at[last]
  else at[last] = to
  return copy
}

export interface Schema {
  description?: string
  properties?: Record<string, Schema>
  items?: Schema
  anyOf?: Schema[]
  additionalProperties?: boolean
  required?: string[]
}

/** Every field in a JSON Schema, with its path. */
export function fieldsOf(schema: Schema, path = ''): [string, Schema][] {
  const inside = Object.entries(schema.properties ?? {}).flatMap(([name, field]): [string, Schema][] => [
    [`${path}/${name}`, field],
    ...fieldsOf(field, `${path}/${name}`),
  ])
  const items = schema.items === undefined ? [] : fieldsOf(schema.items, `${path}/*`)
  return [...inside, ...items, ...(schema.anyOf ?? []).flatMap((one) => fieldsOf(one, path))]
}

export function objectsOf(schema: Schema): Schema[] {
  const children = [
    ...Object.values(schema.properties ?? {}),
    ...(schema.items === undefined ? [] : [schema.items]),
    ...(schema.anyOf ?? []),
  ]
  return [...(schema.properties === undefined ? [] : [schema]), ...children.flatMap(objectsOf)]
}

export const UNIT = /\b(mm|radians|degrees|hours|count|MPa|GPa|kN|N·m|°C|no unit|unit|logarithms|Name and version)\b|°C/i
