import { expect, test } from 'vitest'
import type { Bench } from '#contract/bench.ts'
import { asReceived, runoutSet, set, sheet } from '#tests/web/jobs/sample-job.ts'
import { findings } from '#web/features/jobs/findings.ts'
import { drawMeasured, geometryOf } from '#web/features/jobs/measured-drawing.ts'
import { measuredLines } from '#web/features/jobs/measured-lines.ts'

const EMPTY: Bench = { measurements: [], pressings: [], welds: [] }
const line = (bench: Bench, id: string) => measuredLines(bench, sheet).find((one) => one.id === id)

test('each place says its figure, how it was read and what is allowed there', () => {
  expect(line(asReceived(), 'runout-left')).toEqual({
    id: 'runout-left',
    what: 'Full swing, left',
    figure: '0.19 at 81°',
    how: 'as received',
    allowed: '0.02',
    past: 'over',
  })
  // By hand: (63.99 + 64.01 + 64.06 + 64.01) / 4 = 64.0175; 64.06 − 63.99 = 0.07; 64.06 is over 64.05.
  expect(line(asReceived(), 'width')).toEqual({
    id: 'width',
    what: 'Width over webs',
    figure: '64.02',
    how: 'as received, 0.07 wider opposite the pin',
    allowed: '63.95 to 64.05',
    past: 'over opposite the pin (64.06)',
  })
  expect(line(asReceived(), 'clearance')).toMatchObject({ figure: '0.61', past: 'over', allowed: '0.25 to 0.50' })
  expect(line(asReceived(), 'play')).toMatchObject({ figure: '0.06', past: 'over', allowed: '0.05' })
})

test('a figure on the limit is within it, and one under a window is said to be under', () => {
  const at = (value: number): Bench => ({ ...EMPTY, measurements: [set('clearance', 'built', [['left', value]])] })
  expect(line(at(0.5), 'clearance')).not.toHaveProperty('past')
  expect(line(at(0.2), 'clearance')).toMatchObject({ past: 'under' })
})

test('what is not there says why: not measured, not read, hidden, struck out', () => {
  expect(line(EMPTY, 'play')).toMatchObject({ how: 'not measured yet' })
  const notRead = { ...set('play', 'received', []), notReadBecause: 'the rod is broken' }
  expect(line({ ...EMPTY, measurements: [notRead] }, 'play')).toMatchObject({ how: 'not read, because the rod is broken' })
  const hidden = { ...set('play', 'built', []), hidden: true as const }
  expect(line({ ...EMPTY, measurements: [hidden] }, 'play')).toMatchObject({ how: 'hidden until the second reading is in' })
  const struck = {
    ...set('play', 'received', [['up-down', 0.5]]),
    struck: { by: 'Jonas', at: '2026-11-20T17:00:00Z', because: 'wrong crank' },
  }
  expect(line({ ...EMPTY, measurements: [struck] }, 'play')).toMatchObject({ how: 'not measured yet' })
})

test('a press reading is set beside what the fit foretold', () => {
  const pressing = {
    id: '0198f3a0-0000-7000-8000-000000000900',
    direction: 'apart' as const,
    side: 'right' as const,
    peakTonnes: 5,
    foretold: { lowTonnes: 5.9, highTonnes: 9.8 },
    by: 'Jonas',
    occurredAt: '2026-11-24T09:05:00Z',
  }
  expect(line({ ...EMPTY, pressings: [pressing] }, 'tonnes-right')).toEqual({
    id: 'tonnes-right',
    what: 'Peak of the press, right web',
    figure: '5.0 t',
    how: 'pressed apart',
    allowed: '5.9 to 9.8 t foretold',
    past: 'low',
  })
})

test('the findings say whether dial and micrometer agree, the swing, and what is past a limit', () => {
  // Worked from the readings: swing 44·0.0938/45 + 44·0.1037/50 = 0.183 about the pin (two straight shafts, as truing-faults.ts).
  const said = findings(asReceived(), sheet)
  expect(said).toContain('Swing 0.18 about the pin.')
  expect(said).toContain('Side clearance of the rod 0.61: over, allowed 0.25 to 0.50.')
  expect(said).toContain('Big-end play 0.06: over, allowed 0.05.')
  expect(said).toMatch(/^Dial and micrometer say the same: webs 0\.0\d wider opposite the pin\./)
})

test('a micrometer that contradicts the dials is told, and a true crank is said to be within', () => {
  const still = runoutSet({ tirMm: 0.01, highAtDeg: 0 }, { tirMm: 0.01, highAtDeg: 180 })
  const wedged = set('width', 'received', [
    ['0', 64],
    ['180', 64.2],
  ])
  expect(findings({ ...EMPTY, measurements: [wedged, still] }, sheet)).toContain(
    'the micrometer 0.20 wider opposite the pin: one of the two wants reading again.',
  )
  expect(findings({ ...EMPTY, measurements: [still] }, sheet)).toContain('Both ends run within what is allowed.')
})

test('the drawing carries the same figures, and what is past a limit in its own ink with the word', () => {
  const geometry = geometryOf(sheet, asReceived())
  if (geometry === undefined) throw new Error('the sheet of the sample has every figure')
  const lines = measuredLines(asReceived(), sheet)
  const drawing = drawMeasured(geometry, asReceived(), lines, { width: 1180, letter: 15 })
  const texts = (drawing?.marks ?? []).flatMap((mark) => (mark.kind === 'text' ? [mark] : []))
  const left = texts.find((mark) => mark.text.startsWith('full swing 0.19 at 81°'))
  expect(left).toMatchObject({ ink: 'over', strong: true })
  expect(left?.text).toContain('▲ over')
  expect(texts.map((mark) => mark.text)).toContain('allowed 0.25 to 0.50')
})

test('without the figures that it needs there is no drawing, and figures that make no crank give none either', () => {
  expect(geometryOf({ ...sheet, figures: sheet.figures.filter((one) => one.name !== 'engagementMm') }, EMPTY)).toBeUndefined()
  const geometry = geometryOf(sheet, EMPTY)
  if (geometry === undefined) throw new Error('the sheet of the sample has every figure')
  const impossible = { ...geometry, throws: geometry.throws.map((one) => ({ ...one, engagementMm: 40 })) }
  expect(drawMeasured(impossible, EMPTY, [], { width: 800, letter: 15 })).toBeUndefined()
})
