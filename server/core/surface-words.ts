import { type CrankEnd, SURFACES, type Surface } from '#core/crank-shape.ts'

/** What a sheet's words say of the shaft under a dial, as far as a drawing can use it. */
export type SurfaceSaid = Pick<CrankEnd, 'surface' | 'taper' | 'diameterMm' | 'further' | 'keyway'>

/**
 * Reads the words of an engine's sheet for what lies under a dial. The first of plain, taper, thread or spline is what the
 * dial stands on; "1:5" its taper, "20 mm" its diameter, "thread beyond 60" or "spline at 55" what follows further out, and
 * "keyway at 30-48" where one lies. Words that say none of it are taken for a plain shaft.
 *
 * @example surfaceSaid('taper 1:5 + keyway') // { surface: 'taper', taper: 5 }
 * @example surfaceSaid('plain 20 mm, oil nose, thread beyond 60') // { surface: 'plain', diameterMm: 20, further: [{ fromMm: 60, surface: 'thread' }] }
 *
 * Used for the drawing only; the words themselves print beside the figures. Common practice, no source.
 */
export function surfaceSaid(words: string): SurfaceSaid {
  const said: SurfaceSaid = { surface: firstSurface(words) }
  const taper = Number(/\b1 ?: ?(\d+(?:\.\d+)?)/.exec(words)?.[1])
  if (said.surface === 'taper' && taper > 0) said.taper = taper
  const diameter = Number(/\b(\d+(?:\.\d+)?) ?mm\b/.exec(words)?.[1])
  if (diameter > 0 && diameter <= 300) said.diameterMm = diameter
  const further = [...words.matchAll(/\b(thread|spline)s?\b[^,;0-9]*?\b(?:beyond|at) (\d+(?:\.\d+)?)/g)].flatMap(([, kind, from]) =>
    isSurface(kind) ? [{ fromMm: Number(from), surface: kind }] : [],
  )
  if (further.length > 0) said.further = further
  const keyway = /\bkeyway at (\d+(?:\.\d+)?) ?[-–] ?(\d+(?:\.\d+)?)/.exec(words)
  if (keyway) said.keyway = { fromMm: Number(keyway[1]), toMm: Number(keyway[2]) }
  return said
}

/**
 * The words of a surface once a mark was skipped for the keyway in it: said, unless they say it already.
 *
 * @example withKeywaySkipped('taper 1:5, keyway') // 'taper 1:5, keyway skipped'
 * @example withKeywaySkipped('plain 20 mm') // 'plain 20 mm, keyway skipped'
 *
 * Common practice, no source.
 */
export function withKeywaySkipped(words: string): string {
  if (/\bkeyway skipped\b/i.test(words)) return words
  return /\bkeyway$/i.test(words) ? `${words} skipped` : `${words}, keyway skipped`
}

function firstSurface(words: string): Surface {
  const found = /\b(plain|taper|thread|spline)/.exec(words.toLowerCase())?.[1]
  return isSurface(found) ? found : 'plain'
}

function isSurface(word: string | undefined): word is Surface {
  return SURFACES.some((surface) => surface === word)
}
