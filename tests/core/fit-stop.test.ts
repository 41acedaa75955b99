import { expect, it } from 'vitest'
import { decideFitStop, FIT_STOP_CHOICES, FIT_STOP_WORDS } from '#core/fit-stop.ts'

// The ways out: common practice, no source.
it.each(FIT_STOP_CHOICES)('%s may be decided where a fit is under a floor, and is said in words', (choice) => {
  for (const verdict of ['stop', 'below-shop-floor'] as const)
    expect(decideFitStop({ side: 'right', verdict, choice })).toEqual({
      ok: true,
      says: `The right web, too loose for its pin: ${FIT_STOP_WORDS[choice]}.`,
    })
})

it('nothing is decided on a good fit, or on one that nobody knows', () => {
  expect(decideFitStop({ side: 'left', verdict: 'go', choice: 'weld' }).ok).toBe(false)
  expect(decideFitStop({ side: 'left', verdict: null, choice: 'weld' })).toMatchObject({
    ok: false,
    detail: expect.stringContaining('measure'),
  })
})
