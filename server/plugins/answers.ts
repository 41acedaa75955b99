/**
 * Answers as JSON, by the schema of their route: a field that is not listed never leaves the house. The shape of a schema
 * is taken apart once, and an answer is then only picked over; whether each value is what the schema says is looked at
 * where answers are checked, in the tests.
 */
import type { FastifySerializerCompiler } from 'fastify'
import { serializerCompiler } from 'fastify-type-provider-zod'
import type { z } from 'zod'
import * as core from 'zod/v4/core'

type Schema = core.$ZodType
/** Leaves of a value what is listed; undefined: everything is, since it is no object nor holds one. */
type Pick = ((value: unknown) => unknown) | undefined

/** With every value checked against the schema, and refused (500) where it is not what was promised. */
export const checkedAnswers = serializerCompiler as FastifySerializerCompiler<z.ZodType>

export const pickedAnswers: FastifySerializerCompiler<z.ZodType | { properties: z.ZodType }> = ({ schema }) => {
  const pick = pickOf('properties' in schema ? schema.properties : schema)
  return (answer: unknown) => JSON.stringify(pick === undefined ? answer : pick(answer))
}

const known = new WeakMap<Schema, { pick: Pick }>()

function pickOf(schema: Schema): Pick {
  const before = known.get(schema)
  if (before !== undefined) return before.pick
  // A schema that comes again within itself is still being taken apart then.
  const entry: { pick: Pick } = { pick: (value) => (entry.pick === undefined ? value : entry.pick(value)) }
  known.set(schema, entry)
  entry.pick = picks(schema as core.$ZodTypes)
  return entry.pick
}

function picks(schema: core.$ZodTypes): Pick {
  const { def } = schema._zod
  switch (def.type) {
    case 'object':
      return def.catchall !== undefined && def.catchall._zod.def.type !== 'never' ? undefined : fieldsOf(def.shape)
    case 'array':
      return eachOf(pickOf(def.element))
    case 'optional':
    case 'nullable':
    case 'readonly':
      return pickOf(def.innerType)
    case 'record':
      return valuesOf(pickOf(def.valueType))
    case 'string':
    case 'number':
    case 'boolean':
    case 'null':
    case 'literal':
    case 'enum':
    case 'unknown':
    case 'any':
    case 'file':
      return undefined
    case 'union':
      return def.options.every((option) => pickOf(option) === undefined) ? undefined : encoded(schema)
    default:
      return encoded(schema)
  }
}

/** What may be one of several shapes is told apart by the schema itself. */
function encoded(schema: Schema): Pick {
  return (value) => core.encode(schema, value)
}

function fieldsOf(shape: core.$ZodShape): Pick {
  const fields = Object.entries(shape).map(([name, field]) => ({ name, pick: pickOf(field) }))
  return (value) => {
    if (value === null || typeof value !== 'object') return value
    const from = value as Record<string, unknown>
    const picked: Record<string, unknown> = {}
    for (const { name, pick } of fields) {
      const field = from[name]
      if (field !== undefined) picked[name] = pick === undefined ? field : pick(field)
    }
    return picked
  }
}

function eachOf(pick: Pick): Pick {
  return pick === undefined ? undefined : (value) => (Array.isArray(value) ? value.map((each) => pick(each)) : value)
}

function valuesOf(pick: Pick): Pick {
  if (pick === undefined) return undefined
  return (value) =>
    value === null || typeof value !== 'object'
      ? value
      : Object.fromEntries(Object.entries(value).map(([name, each]) => [name, pick(each)]))
}
