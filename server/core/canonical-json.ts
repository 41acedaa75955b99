const LONE_SURROGATE = /\p{Surrogate}/u
const DEEPEST = 200

/**
 * One text for one piece of JSON data, so that the same data always give the same seal: no white space, members sorted
 * by the UTF-16 code units of their names, numbers and strings in the form of ECMAScript.
 *
 * @example canonicalJson({ b: [1.50, 1e21], a: 'Ł' }) // '{"a":"Ł","b":[1.5,1e+21]}'
 *
 * Takes null, booleans, finite numbers, well-formed strings, arrays and plain objects, nested up to 200 deep.
 * Refuses everything else with a RangeError: NaN and Infinity, lone surrogates (in names too), undefined, holes in
 * arrays, bigint, functions, symbols, and objects of a class (a Date has to be written as text before it is sealed).
 * Source: RFC 8785 (Rundgren, Jordan, Erdtman 2020), section 3.2.
 */
export function canonicalJson(data: unknown): string {
  return write(data, 0)
}

function write(value: unknown, depth: number): string {
  if (depth > DEEPEST) throw new RangeError(`canonicalJson needs data nested no deeper than ${DEEPEST}`)
  if (value === null || typeof value === 'boolean') return String(value)
  if (typeof value === 'number') return writeNumber(value)
  if (typeof value === 'string') return writeText(value)
  if (Array.isArray(value)) return `[${Array.from(value, (item) => write(item, depth + 1)).join(',')}]`
  if (isPlainObject(value)) return writeObject(value, depth)
  throw new RangeError(`canonicalJson needs JSON data, not ${typeof value === 'object' ? 'an object of a class' : typeof value}`)
}

function writeNumber(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError('canonicalJson needs finite numbers')
  return String(value === 0 ? 0 : value)
}

function writeText(value: string): string {
  if (LONE_SURROGATE.test(value)) throw new RangeError('canonicalJson needs text without lone surrogates')
  return JSON.stringify(value)
}

function writeObject(value: Record<string, unknown>, depth: number): string {
  if (Object.getOwnPropertySymbols(value).length > 0) throw new RangeError('canonicalJson needs names that are text')
  // The default order of sort() is by UTF-16 code units, which is the order that section 3.2.3 asks for.
  const names = Object.keys(value).sort()
  return `{${names.map((name) => `${writeText(name)}:${write(value[name], depth + 1)}`).join(',')}}`
}

function isPlainObject(value: unknown): value is Record<string, unknown> {
  if (typeof value !== 'object' || value === null) return false
  const prototype: unknown = Object.getPrototypeOf(value)
  return prototype === null || prototype === Object.prototype
}
