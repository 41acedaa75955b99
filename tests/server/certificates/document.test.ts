import { createHash } from 'node:crypto'
import { afterEach, describe, expect, it } from 'vitest'
import type { CertificateData, CertificateStanding } from '#core/certificate.ts'
import { certificateTable } from '#core/certificate-figures.ts'
import { certificateFacts, certificateNotes, certificatePeople } from '#core/certificate-lines.ts'
import { passLine, plainLine, statementOfRule, worthInWords } from '#core/certificate-words.ts'
import { renderCertificate } from '#server/features/certificates/document.ts'
import { fingerprintOf, sealOf } from '#server/features/certificates/seal.ts'
import type { SheetName } from '#server/plugins/paper.ts'
import { clashesOf, fontsOf, readCodes, readPdf, textBoxes } from '#tests/support/read-pdf.ts'
import { sampleCertificate, sampleWithWorth } from '#tests/support/sample-certificate.ts'

const sample = sampleCertificate()
const zone = process.env.TZ

function render(data: CertificateData = sample, sheet: SheetName = 'A4', standing?: CertificateStanding): Promise<Buffer> {
  return renderCertificate(data, sealOf(data), sheet, standing)
}

/** Text as a reader compares it: one kind of space, none of it at all where lines were broken. */
function plain(text: string): string {
  return text.replace(/\s+/g, '')
}

async function textOf(bytes: Buffer): Promise<string> {
  const { pages } = await readPdf(bytes)
  return pages.map((page) => page.text).join(' ')
}

const hard = sampleCertificate({
  shop: {
    name: 'Łukasiewicz & Szőke Straßenkurbelwellen- und Motoreninstandsetzung',
    address: 'Große Łódzka-Straße 114b\n90-001 Szőlősgyörök',
  },
  crank: {
    ...sample.crank,
    maker: 'Straßenkurbelwellenmanufaktur Szőlősgyörök-Łęczyca',
    code: 'R449-4X-LONGCODEWITHOUTANYPLACETOBREAKIT-0001',
  },
  left: { ...sample.left, final: { mm: 0.0164, stepMm: 0.001 }, verdict: 'in-the-doubt-band' },
  right: {
    ...sample.right,
    final: { mm: 0.0241, stepMm: 0.001 },
    makerLimit: { mm: 0.03, place: 'at the same place', samePlace: true },
    verdict: 'over-ours-inside-makers',
  },
  sideClearance: { final: { notRead: 'the feeler was away on loan' }, verdict: 'not-read' },
  replaces: { number: '0409', reason: 'engine number misread' },
})
const manyPasses = sampleCertificate({
  passes: Array.from({ length: 14 }, (_, index) => ({
    ...sample.passes[0]!,
    what: `matter ${index + 1} of fourteen at its gate`,
    reason: 'no other web was to be had in any shop that we rang, and the day could not be moved',
  })),
})
const longTexts = sampleCertificate({
  fitting: 'Warm it through. '.repeat(60),
  promise: 'Ring first. '.repeat(70),
  also: ['seen and found good '.repeat(40)],
})
const { shape: _shape, again: _again, fit: _fit, pressing: _pressing, pressings: _pressings, ...bare } = sample
const report: CertificateData = {
  ...bare,
  heading: 'report',
  kit: null,
  passes: [],
  also: [],
  left: { final: sample.left.final, verdict: 'no-limit' },
}

describe('renderCertificate', () => {
  afterEach(() => {
    if (zone === undefined) delete process.env.TZ
    else process.env.TZ = zone
  })

  it.each([
    ['A4', 595.28, 841.89],
    ['Letter', 612, 792],
  ] as const)('fits an ordinary sheet on one page of %s', async (sheet, width, height) => {
    const { pages } = await readPdf(await render(sample, sheet))
    expect(pages).toHaveLength(1)
    expect(pages[0]!.width).toBeCloseTo(width, 1)
    expect(pages[0]!.height).toBeCloseTo(height, 1)
  })

  it.each(['A4', 'Letter'] as const)('fits a sheet that says what it is worth on one page of %s', async (sheet) => {
    const data = sampleWithWorth()
    const bytes = await render(data, sheet)
    const { pages } = await readPdf(bytes)
    expect(pages).toHaveLength(1)
    const text = plain(await textOf(bytes))
    for (const words of [...worthInWords(data), statementOfRule(data)]) expect(text).toContain(plain(words))
    expect(clashesOf(await textBoxes(bytes), pages[0]!)).toEqual([])
  })

  // Drawn before sheets had a budget: a sheet that is out is drawn again to the same bytes and keeps its seal.
  it.each([
    ['A4', '0bc0e5dd5931e1be12ae46edbc0e2c58970177bf0a7a2060e1c0fdbc28dd3b93'],
    ['Letter', 'ce87fbf12ae66acb9fc5d42f5406f2a1905c3ad18d097664fdf759f7f235479a'],
  ] as const)('draws a sheet of form 1 on %s as it was drawn then', async (sheet, sha256) => {
    expect(sealOf(sample).value).toBe('6511b0c04e12a6cfc2cc70b23dcc19bfd35f57312aa991f146e4bd5f9333463f')
    expect(
      createHash('sha256')
        .update(await render(sample, sheet))
        .digest('hex'),
    ).toBe(sha256)
  })

  it('says everything that the data say', async () => {
    const text = plain(await textOf(await render()))
    const wanted = [
      'Certificate of runout',
      'Kettle Row Crank Works · Mill Lane 4',
      'measured 2, issued 3 December 2026 · page 1 of 1',
      plainLine(sample),
      ...certificateFacts(sample).map((fact) => fact.says),
      ...sample.passes.map(passLine),
      statementOfRule(sample),
      ...certificateNotes(sample),
      ...certificatePeople(sample),
      sample.fitting,
      sample.runningIn!,
      sample.promise,
      `number ${sample.number} and check code ${sample.checkCode}`,
      fingerprintOf(sealOf(sample)),
      ...certificateTable(sample).flatMap((line) => [
        line.what,
        ...line.notes,
        line.asReceived,
        line.nowMm,
        line.giveOrTake,
        line.allowed,
        line.verdict,
      ]),
    ]
    for (const words of wanted) expect(text).toContain(plain(words))
  })

  it('carries a code that leads to its page', async () => {
    for (const sheet of ['A4', 'Letter'] as const) expect(await readCodes(await render(sample, sheet))).toEqual([sample.pageUrl])
  })

  it('gives the same bytes for the same data, in another zone too, and others for other data', async () => {
    const first = await render()
    expect((await render()).equals(first)).toBe(true)
    process.env.TZ = 'Pacific/Kiritimati'
    expect(new Date(0).getTimezoneOffset()).toBe(640)
    expect((await render()).equals(first)).toBe(true)
    process.env.TZ = 'America/Los_Angeles'
    expect((await render()).equals(first)).toBe(true)
    expect((await render(sampleCertificate({ number: '0413' }))).equals(first)).toBe(false)
  })

  it('holds its fonts inside, and no built-in one', async () => {
    const bytes = await render(hard)
    const fonts = fontsOf(bytes)
    expect(fonts.map((font) => font.name.replace(/^.*\+/, '')).sort()).toEqual([
      'B612-Bold',
      'B612-Regular',
      'BarlowSemiCondensed-Medium',
      'BarlowSemiCondensed-SemiBold',
    ])
    expect(fonts.every((font) => font.embedded)).toBe(true)
    expect(bytes.includes('Helvetica')).toBe(false)
  })

  it('is tagged, in English, with title and day, and says PDF/A-2b of itself', async () => {
    const bytes = await render()
    const { tags, lang, marked, info } = await readPdf(bytes)
    expect([marked, lang]).toEqual([true, 'en-GB'])
    expect(info).toMatchObject({ Title: 'Certificate of runout 0412', Author: 'Kettle Row Crank Works', CreationDate: 'D:20261203120000Z' })
    const roles = tags.map((tag) => tag.role)
    expect(roles.slice(0, 3)).toEqual(['Root', 'Document', 'H1'])
    expect(roles.filter((role) => role === 'H1')).toHaveLength(1)
    expect(roles.filter((role) => role === 'H2')).toHaveLength(2)
    expect(roles.filter((role) => role === 'Table')).toHaveLength(1)
    expect(roles.filter((role) => role === 'TR')).toHaveLength(6)
    expect(roles.filter((role) => role === 'TD')).toHaveLength(5 * 7)
    const figures = tags.filter((tag) => tag.role === 'Figure').map((tag) => tag.alt)
    expect(figures[0]).toContain('held on bare seats in V-blocks')
    expect(figures[1]).toContain(sample.pageUrl)
    const source = bytes.toString('latin1')
    expect(source).toContain('<pdfaid:part>2</pdfaid:part>')
    expect(source).toContain('<pdfaid:conformance>B</pdfaid:conformance>')
  })

  it('keeps its inner XML whole for a shop with an ampersand in its name', async () => {
    const bytes = await render(sampleCertificate({ shop: { name: 'Szőke & <Sons>', address: '' } }))
    expect((await readPdf(bytes)).info).toMatchObject({ Author: 'Szőke & <Sons>' })
    expect(bytes.toString('utf8')).toContain('<rdf:li>Szőke &amp; &lt;Sons&gt;</rdf:li>')
  })

  it('writes Ł ő ß as they are, and wraps what is long', async () => {
    const text = plain(await textOf(await render(hard)))
    for (const words of [
      'Łukasiewicz & Szőke Straßenkurbelwellen- und Motoreninstandsetzung',
      'Große Łódzka-Straße 114b, 90-001 Szőlősgyörök',
      'Szőlősgyörök-Łęczyca',
      'LONGCODEWITHOUTANYPLACETOBREAKIT',
    ]) {
      expect(text).toContain(plain(words))
    }
    expect(text).not.toContain('?')
  })

  it('says the doubt band, over ours inside the maker’s, a dash with its reason, and what it replaces', async () => {
    const text = plain(await textOf(await render(hard)))
    for (const words of [
      'in the doubt band',
      'over ours, inside the maker’s',
      'not read, because the feeler was away on loan',
      'Replaces No. 0409: engine number misread',
      '“In the doubt band” means',
    ]) {
      expect(text).toContain(plain(words))
    }
  })

  it('says on a later print that it is void or replaced', async () => {
    const text = await textOf(
      await render(sample, 'A4', {
        void: { onDay: '2026-12-06', reason: 'wrong crank on the stand' },
        replacedBy: { number: '0415', onDay: '2026-12-06' },
      }),
    )
    expect(text).toContain('Void since 6 December 2026: wrong crank on the stand')
    expect(text).toContain('Replaced by No. 0415 on 6 December 2026. Do not go by this sheet.')
  })

  it('heads a report as one and draws nothing where the sheet of the engine is silent', async () => {
    const { pages, tags } = await readPdf(await render(report))
    expect(pages[0]!.text).toContain('Report of runout')
    expect(tags.filter((tag) => tag.role === 'Figure')).toHaveLength(1)
  })

  it('goes on to a second page when passes are many: each once, figures first, foot on the first page', async () => {
    const { pages } = await readPdf(await render(manyPasses))
    expect(pages).toHaveLength(2)
    expect(pages[0]!.text).toContain('page 1 of 2')
    expect(pages[1]!.text).toContain('page 2 of 2')
    expect(pages[1]!.text).toMatch(/^Certificate of runout No\. ?0412 · crank 318-V/)
    expect(pages[0]!.text).toContain('Big-end play')
    expect(pages[0]!.text).toContain(sample.checkCode)
    const all = pages.map((page) => page.text).join(' ')
    for (let index = 1; index <= 14; index++) expect(all.split(`matter ${index} of fourteen`)).toHaveLength(2)
  })

  it.each([
    ['an ordinary one', sample],
    ['long names and words', hard],
    ['many passes', manyPasses],
    ['long texts of the owner', longTexts],
    ['a bare report', report],
  ] as const)('lets no text lie on another nor leave the page: %s', async (_name, data) => {
    for (const sheet of ['A4', 'Letter'] as const) {
      const bytes = await render(data, sheet)
      const { pages } = await readPdf(bytes)
      for (const [index, page] of pages.entries()) expect(clashesOf(await textBoxes(bytes, index + 1), page)).toEqual([])
    }
  })

  it('is judged by a measure that sees text on text and text off the page', async () => {
    const boxes = await textBoxes(await render())
    expect(boxes.length).toBeGreaterThan(80)
    const [first] = boxes
    const moved = { ...first!, text: 'moved', top: first!.top + 2, bottom: first!.bottom + 2 }
    expect(clashesOf([first!, moved], { width: 595, height: 842 })).toEqual([`${first!.text} on moved`])
    expect(clashesOf([moved], { width: 595, height: moved.bottom })).toEqual(['moved leaves the page'])
  })

  it('puts a question mark for signs that its faces cannot write, and stays whole', async () => {
    const bytes = await render(sampleCertificate({ also: ['подшипник', '😀', 'e\u0301tat', 'a\u202eb', '\u0627\u0644'] }))
    const text = await textOf(bytes)
    expect(text).toContain('?????????; ?; état')
    expect(fontsOf(bytes).every((font) => font.embedded)).toBe(true)
  })

  it('refuses a day that does not exist', async () => {
    await expect(render(sampleCertificate({ measuredOn: '2026-02-30' }))).rejects.toThrow(RangeError)
  })
})
