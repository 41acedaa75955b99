/**
 * Shapes of what this page did not make a moment ago: what lies in the tablet's storage, what another tab says, a problem
 * document. Answers of the book are held to the contract by the server, and zod is too heavy for a bench page.
 */
export type Shape<Value> = (raw: unknown) => raw is Value

export function text(raw: unknown): raw is string {
  return typeof raw === 'string'
}

export function figure(raw: unknown): raw is number {
  return Number.isFinite(raw)
}

export function within(least: number, most: number): Shape<number> {
  return (raw): raw is number => figure(raw) && raw >= least && raw <= most
}

export function flag(raw: unknown): raw is boolean {
  return typeof raw === 'boolean'
}

export function anything(_raw: unknown): _raw is unknown {
  return true
}

export function oneOf<const Value>(...values: readonly Value[]): Shape<Value> {
  return (raw): raw is Value => values.includes(raw as Value)
}

export function either<One, Other>(one: Shape<One>, other: Shape<Other>): Shape<One | Other> {
  return (raw): raw is One | Other => one(raw) || other(raw)
}

export function optional<Value>(shape: Shape<Value>): Shape<Value | undefined> {
  return (raw): raw is Value | undefined => raw === undefined || shape(raw)
}

export function listOf<Value>(one: Shape<Value>): Shape<Value[]> {
  return (raw): raw is Value[] => Array.isArray(raw) && raw.every(one)
}

/** An object with these fields; it may have more, which is how something newer looks. */
export function fields<Value extends object>(shapes: { [Name in keyof Value]-?: Shape<Value[Name]> }): Shape<Value> {
  const each = Object.entries<Shape<unknown>>(shapes)
  return (raw): raw is Value =>
    typeof raw === 'object' && raw !== null && !Array.isArray(raw) && each.every(([name, shape]) => shape(raw[name as keyof typeof raw]))
}

/** What has the shape, or undefined. */
export function read<Value>(shape: Shape<Value>, raw: unknown): Value | undefined {
  return shape(raw) ? raw : undefined
}
