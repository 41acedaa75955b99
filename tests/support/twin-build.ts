import type { EngineBuild } from '#contract/crank-build.ts'

/** How an invented parallel twin with a pressed middle is put together. */
export const TWIN_BUILD: EngineBuild = {
  throws: 2,
  rodsOnAPin: 1,
  phaseDeg: [0, 180],
  phaseLimitDeg: 0.5,
  centreLimitMm: 0.04,
  centre: 'pressed',
  trapped: [
    { what: 'centre bearing', between: 'the two inner webs' },
    { what: 'labyrinth', between: 'the two inner webs' },
  ],
}
