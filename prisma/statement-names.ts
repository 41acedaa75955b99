/** Names of statements, so that each connection has the database prepare a text once and then only sends what goes in. */

/** Texts beyond these are sent unnamed: a text that grows with its values would fill every connection. */
const MOST = 1_000
const names = new Map<string, string>()

/** Its name, always the same; none ('') past the most. */
export function statementNameOf(text: string): string {
  const known = names.get(text)
  if (known !== undefined) return known
  if (names.size >= MOST) return ''
  const name = `s${names.size + 1}`
  names.set(text, name)
  return name
}
