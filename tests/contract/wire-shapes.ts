import { describe, expect, it } from 'vitest'
import { z } from 'zod'
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

interface Schema {
  description?: string
  properties?: Record<string, Schema>
  items?: Schema
  anyOf?: Schema[]
  additionalProperties?: boolean
  required?: string[]
}

/** Every field in a JSON Schema, with its path. */
function fieldsOf(schema: Schema, path = ''): [string, Schema][] {
  const inside = Object.entries(schema.properties ?? {}).flatMap(([name, field]): [string, Schema][] => [
    [`${path}/${name}`, field],
    ...fieldsOf(field, `${path}/${name}`),
  ])
  const items = schema.items === undefined ? [] : fieldsOf(schema.items, `${path}/*`)
  return [...inside, ...items, ...(schema.anyOf ?? []).flatMap((one) => fieldsOf(one, path))]
}

function objectsOf(schema: Schema): Schema[] {
  const children = [
    ...Object.values(schema.properties ?? {}),
    ...(schema.items === undefined ? [] : [schema.items]),
    ...(schema.anyOf ?? []),
  ]
  return [...(schema.properties === undefined ? [] : [schema]), ...children.flatMap(objectsOf)]
}

const UNIT = /\b(mm|radians|degrees|hours|count|MPa|GPa|kN|N·m|°C|no unit|unit|logarithms|Name and version)\b|°C/i

export interface SumOnTheWire {
  takes: z.ZodType
  answers: z.ZodType
  body: object
  sum: (body: never) => unknown
}

/** What holds for the wire of any sum: full bodies are taken, every field names its unit, and nothing unlisted passes. */
export function testTheWire(sums: Record<string, SumOnTheWire>): void {
  describe.each(Object.entries(sums))('the wire of %s', (_name, { takes, answers, body, sum }) => {
    const shapes = { in: z.toJSONSchema(takes) as Schema, out: z.toJSONSchema(answers) as Schema }

    it('takes a full body, and the answer has the shape it says', () => {
      const answer = value(sum(takes.parse(body) as never))
      expect(answers.parse(answer)).toEqual(answer)
    })

    it.each(['in', 'out'] as const)('names the unit of every field that goes %s', (way) => {
      const fields = fieldsOf(shapes[way])
      expect(fields.length).toBeGreaterThan(1)
      for (const [path, field] of fields)
        expect(`${path}: ${field.description ?? (field.anyOf ?? []).map((one) => one.description).join(' ')}`).toMatch(UNIT)
    })

    it('takes and gives nothing that is not listed', () => {
      for (const object of [...objectsOf(shapes.in), ...objectsOf(shapes.out)]) expect(object.additionalProperties).toBe(false)
      expect(faultsIn(takes, { ...body, colour: 'blue' })).toEqual([''])
    })

    it('refuses what is no object', () => {
      for (const wrong of [null, [], 'body', 5]) expect(takes.safeParse(wrong).success).toBe(false)
    })
  })
}

/** Where a body is at fault, as paths. */
export function faultsIn(takes: z.ZodType, body: unknown): string[] {
  const read = takes.safeParse(body)
  return read.success ? [] : read.error.issues.map((issue) => issue.path.join('/'))
}
