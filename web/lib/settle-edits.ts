/** A field that both have changed since it was opened, and differently. */
export interface EditClash<Name extends string> {
  name: Name
  mine: string
  theirs: string
}

export interface SettledEdits<Values> {
  /** What the form should show: mine where I changed it, theirs where only they did. */
  values: Values
  clashes: EditClash<Extract<keyof Values, string>>[]
}

/**
 * Two people edited the same thing. `base` is what stood when the form was opened, `mine` what is typed, `theirs` what
 * stands now; all as text. Nothing typed is thrown away: where both changed a field, mine stays and the clash is told.
 *
 * @example settleEdits({ a: '1', b: '1' }, { a: '2', b: '1' }, { a: '1', b: '3' }).values // { a: '2', b: '3' }
 */
export function settleEdits<Values extends Record<string, string>>(base: Values, mine: Values, theirs: Values): SettledEdits<Values> {
  const values: Record<string, string> = { ...mine }
  const clashes: EditClash<Extract<keyof Values, string>>[] = []
  for (const name of Object.keys(mine) as Extract<keyof Values, string>[]) {
    const [before, typed, now] = [base[name] ?? '', mine[name] ?? '', theirs[name] ?? '']
    if (typed === before) values[name] = now
    else if (now !== before && now !== typed) clashes.push({ name, mine: typed, theirs: now })
  }
  return { values: values as Values, clashes }
}
