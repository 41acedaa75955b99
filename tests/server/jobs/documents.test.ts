import { describe, expect, it } from 'vitest'
import { CAUTIONS, HAZARDS, RULES_FIRST } from '#core/cautions.ts'
import { JOB_KINDS } from '#core/steps.ts'
import { benchSections } from '#server/features/jobs/bench-sheet-sections.ts'
import { renderBenchSheet } from '#server/features/jobs/document-bench-sheet.ts'
import { renderLabel } from '#server/features/jobs/document-label.ts'
import { renderReceipt } from '#server/features/jobs/document-receipt.ts'
import { clashesOf, fontsOf, readCodes, readPdf, textBoxes } from '#tests/support/read-pdf.ts'
import { sampleBenchSheet, sampleLabel, sampleReceipt } from '#tests/support/sample-papers.ts'

async function expectClean(bytes: Buffer): Promise<void> {
  const { pages, marked, lang } = await readPdf(bytes)
  expect([marked, lang]).toEqual([true, 'en-GB'])
  expect(fontsOf(bytes).every((font) => font.embedded)).toBe(true)
  for (const [index, page] of pages.entries()) expect(clashesOf(await textBoxes(bytes, index + 1), page)).toEqual([])
}

async function textOf(bytes: Buffer): Promise<string> {
  const { pages } = await readPdf(bytes)
  return pages.map((page) => page.text).join(' ')
}

describe('renderReceipt', () => {
  it('says what came in, in what state, by which rules, with a code to the customer’s page', async () => {
    const data = sampleReceipt()
    const bytes = await renderReceipt(data)
    const text = await textOf(bytes)
    const wanted = [
      'Receipt for a crank',
      '318-V',
      'Łucja Szőke-Groß',
      '23 November 2026, taken in by Hana',
      '7 December 2026 (wanted 4 December 2026)',
      ...data.cameWith,
      ...data.condition,
      'as long as a nail is wide',
      '30.00 EUR, due even where nothing can be done; yes by Łucja Szőke-Groß, at the counter',
      'Nothing is pressed apart before you have said yes to a price.',
      'A crank not fetched within 90 days',
      'by carrier, old parts with it',
    ]
    for (const words of wanted) expect(text).toContain(words)
    expect(await readCodes(bytes)).toEqual([data.pageUrl])
    await expectClean(bytes)
    expect((await renderReceipt(data)).equals(bytes)).toBe(true)
  })

  it('says so where nothing came with it, nothing was seen, nothing promised and no yes given, on Letter', async () => {
    const {
      promisedOn: _promised,
      wantedOn: _wanted,
      conditionNote: _note,
      pageUrl: _url,
      deposit: _deposit,
      ...rest
    } = sampleReceipt({ sheet: 'Letter' })
    const bytes = await renderReceipt({ ...rest, cameWith: [], condition: [], fee: { amount: '30.00 EUR' } })
    const text = await textOf(bytes)
    for (const words of ['Nothing but the crank itself.', 'No damage seen from outside.', 'no day yet', 'no yes yet'])
      expect(text).toContain(words)
    expect(text).not.toContain('Deposit')
    expect(await readCodes(bytes)).toEqual([])
    const { pages } = await readPdf(bytes)
    expect([pages[0]!.width, pages[0]!.height]).toEqual([612, 792])
    await expectClean(bytes)
  })

  it('goes on to a second page with a long list', async () => {
    const bytes = await renderReceipt(
      sampleReceipt({
        cameWith: Array.from({ length: 40 }, (_, index) => `thing ${index + 1} in its bag`),
        conditionNote: 'A dent as long as a nail. '.repeat(38),
      }),
    )
    const { pages } = await readPdf(bytes)
    expect(pages.length).toBeGreaterThan(1)
    expect(await textOf(bytes)).toContain('thing 40 in its bag')
    await expectClean(bytes)
  })
})

describe('renderLabel', () => {
  it.each(['318-V', '1204587-V'])('is 62 × 29 mm with tag %s and a code that a 203 dpi printer can print', async (tag) => {
    const data = sampleLabel({ tag, code: `https://kettle-row.example/t/${tag}` })
    const bytes = await renderLabel(data)
    const { pages } = await readPdf(bytes)
    expect(pages).toHaveLength(1)
    expect(pages[0]!.width).toBeCloseTo((62 / 25.4) * 72, 2)
    expect(pages[0]!.height).toBeCloseTo((29 / 25.4) * 72, 2)
    expect(pages[0]!.text).toContain(tag)
    expect(pages[0]!.text).toContain('in 23 November 2026')
    for (const dpi of [203, 300]) expect(await readCodes(bytes, { dpi })).toEqual([data.code])
    await expectClean(bytes)
  })

  it('keeps a long name of an engine inside', async () => {
    await expectClean(
      await renderLabel(sampleLabel({ crank: 'Straßenkurbelwellenmanufaktur Szőlősgyörök R449-4X-LONGCODEWITHOUTANYBREAK-0001-0002' })),
    )
  })
})

describe('renderBenchSheet', () => {
  it('has a box for every reading with its window, the cautions of each step, and local rules first', async () => {
    const bytes = await renderBenchSheet(sampleBenchSheet())
    const text = await textOf(bytes)
    const wanted = [
      RULES_FIRST,
      CAUTIONS.press,
      CAUTIONS.drop,
      CAUTIONS.hammer,
      CAUTIONS.lathe,
      CAUTIONS.hot,
      CAUTIONS.solvent,
      'Width over webs 63.95 – 64.05',
      'taper 1:5, skip the keyway; full swing up to 0.020',
      'Fit 0.105 – 0.125 · our floor 0.100 · scrap floor 0.077.',
      'play up to 0.05',
      'to press together',
      'second check',
      'Oil hole of the pin in line',
      'To know: right web was loose last time; old parts go back.',
    ]
    for (const words of wanted) expect(text).toContain(words)
    expect(text).not.toContain(CAUTIONS.weld)
    expect((text.match(/12 again/g) ?? []).length).toBeGreaterThanOrEqual(4)
    await expectClean(bytes)
    expect((await readPdf(bytes)).pages).toHaveLength(2)
    expect((await renderBenchSheet(sampleBenchSheet())).equals(bytes)).toBe(true)
  })

  it.each(JOB_KINDS.flatMap((kind) => (['A4', 'Letter'] as const).map((sheet) => [kind, sheet] as const)))(
    '%s on %s lays out cleanly',
    async (kind, sheet) => {
      await expectClean(await renderBenchSheet(sampleBenchSheet({ kind, sheet, cycle: '2T' })))
    },
  )

  it('has the parts of the job it is for, and the weld caution only where there is a weld', () => {
    const titles = (kind: (typeof JOB_KINDS)[number]) => benchSections(sampleBenchSheet({ kind })).map((section) => section.title)
    expect(titles('rebuild')).toEqual(['to measure', 'to part', 'to measure the fit', 'to press together', 'to true', 'second check'])
    expect(titles('true-only')).toEqual(['to measure', 'to true', 'second check'])
    expect(titles('weld-only')).toEqual(['to measure', 'to weld', 'to weld and true', 'second check'])
    expect(titles('check-and-report')).toEqual(['to measure', 'second check'])
    const hazards = (kind: (typeof JOB_KINDS)[number]) =>
      new Set(benchSections(sampleBenchSheet({ kind })).flatMap((section) => section.hazards))
    expect(hazards('weld-only').has('weld')).toBe(true)
    expect(hazards('true-only').has('press')).toBe(false)
  })

  it('asks for width and clearance again after the last blow, as the gate does', () => {
    const truing = benchSections(sampleBenchSheet()).find((section) => section.title === 'to true')
    expect(truing?.rows[0]?.boxes).toEqual(['width, 12', 'width, 3', 'width, 6', 'width, 9', 'clear. left', 'clear. right'])
  })

  it('has a caution for every work that can hurt, each short', () => {
    for (const hazard of HAZARDS) expect(CAUTIONS[hazard].length).toBeLessThan(160)
  })
})
