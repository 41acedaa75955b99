import { beforeAll, describe, expect, test } from 'vitest'
import type { Bench } from '#contract/bench.ts'
import type { Job } from '#contract/jobs.ts'
import type { CertificateData } from '#core/certificate.ts'
import { startApp, type TestApp } from '#tests/support/app.ts'
import { codesOf, type Hands, handsOf, secondReading, step, truedRebuild } from '#tests/support/bench-factories.ts'
import { clashesOf, readPdf, textBoxes } from '#tests/support/read-pdf.ts'
import { agreedTwin, partTwin, pressTwin, readThrow, signedTwin, THROWS, tick, trueTwin } from '#tests/support/twin-factories.ts'

// The engine is invented; what a twin is asked for is common practice of the trade, no source.

let it: TestApp
let h: Hands

beforeAll(async () => {
  it = await startApp()
  h = await handsOf(it)
})

const gate = async (job: Job) =>
  (await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body as { missing: { code: string; joint?: string; detail: string }[] }
const bench = async (job: Job) => (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body as Bench

describe('a twin from booking to its sheet', () => {
  test('each throw is asked for by name at every gate, and the sheet lists both', async () => {
    const job = await agreedTwin(h)
    const apart = (await gate(job)).missing
    expect(apart.filter((one) => one.joint === 'centre-1').map((one) => one.code)).toContain('peak-tonnage-left')
    expect(apart.find((one) => one.joint === 'throw-2')?.detail).toMatch(/^Throw 2: the peak of the gauge/)

    await partTwin(h, job)
    const together = await gate(job)
    for (const joint of THROWS) expect(together.missing).toContainEqual(expect.objectContaining({ code: 'fit-left', joint }))
    expect(together.missing).toContainEqual(expect.objectContaining({ code: 'trapped-parts', pass: 'owner' }))

    await pressTwin(h, job)
    expect((await gate(job)).missing.map(({ code, joint }) => `${joint ?? 'whole'} ${code}`)).toEqual([
      'whole runout-left',
      'whole runout-right',
      'throw-2 phase',
      'centre-1 centre-runout',
    ])

    await trueTwin(h, job)
    await secondReading(h, job)
    it.clock.pass(1)
    const sheet = await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)
    const data = await sealedOf(sheet.body.id as string)
    expect(data.form).toBe('throwbook-certificate-3')
    expect(data.build).toEqual({ phaseDeg: [0, 180], centre: 'pressed', trapped: ['centre bearing', 'labyrinth'] })
    expect(data.width).toBeUndefined()
    expect(
      data.throws?.map(({ name, width, sideClearance, fit, pressing }) => ({ name, width, sideClearance, fit, pressing })),
    ).toMatchObject(
      ['Throw 1', 'Throw 2'].map((name) => ({
        name,
        width: { final: { placesMm: [64, 64.01, 64, 63.99] }, verdict: 'within' },
        sideClearance: { final: { mm: 0.36 }, asReceived: { mm: 0.36 }, verdict: 'within' },
        fit: { left: { mm: expect.closeTo(0.11, 9) } },
        pressing: { leftTonnes: 5.5, rightTonnes: 5.5, lubricant: 'oil' },
      })),
    )
    expect(data.throws?.[0]?.alone?.left).toMatchObject({ mm: expect.any(Number) })
    expect(data.centres).toMatchObject([{ name: 'Centre 1–2', pressing: { leftTonnes: 4 } }])
    expect(data.middle).toMatchObject([{ name: 'Centre 1–2', final: { mm: 0.021 }, allowed: { maxMm: 0.04 }, verdict: 'within' }])
    expect(data.phase).toMatchObject([{ name: 'Throw 2', asReceivedDeg: 179.2, final: { deg: 180.2 }, limitDeg: 0.5, verdict: 'within' }])
    expect(data.worth?.statement).toContain('“Within”')
  })

  async function sealedOf(id: string): Promise<CertificateData> {
    const { rows } = await it.db.pool.query<{ data: string }>('SELECT data FROM certificate WHERE id = $1', [id])
    return JSON.parse(rows[0]!.data) as CertificateData
  }

  test('its paper names both throws, the angle and the middle, and nothing clashes on either page', async () => {
    const job = await signedTwin(h)
    const { body } = await h.second.get(`/api/jobs/${job.id}/certificate`).expect(200)
    const address = `/api/certificates/${body.issued[0].id}/paper.pdf?paper=A4`
    const bytes = (await h.second.get(address).responseType('blob').expect(200)).body as Buffer
    const { pages } = await readPdf(bytes)
    expect(pages.length).toBeLessThanOrEqual(2)
    const text = pages
      .map((page) => page.text)
      .join(' ')
      .replace(/\s+/g, ' ')
    for (const says of [
      '2, at 0° and 180°, the middle pressed; between the webs centre bearing, labyrinth',
      'Throw 1, width over webs',
      'Throw 2, rod side clearance',
      'Throw 2, angle from throw 1',
      '180.2°',
      '179.5 – 180.5°',
      'Centre 1–2, full swing',
      'Throw 1 alone, on its own shafts before it was joined: left 0.0',
    ])
      expect(text).toContain(says)
    for (const [place, page] of pages.entries()) expect(clashesOf(await textBoxes(bytes, place + 1), page)).toEqual([])
  })

  test('a crank with one throw keeps its form of sheet, and nothing of several is in it', async () => {
    const job = await truedRebuild(h)
    await secondReading(h, job)
    it.clock.pass(1)
    const sheet = await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)
    const data = await sealedOf(sheet.body.id as string)
    expect(data.form).toBe('throwbook-certificate-2')
    expect(data.width?.verdict).toBe('within')
    for (const name of ['build', 'throws', 'centres', 'middle', 'phase']) expect(data).not.toHaveProperty(name)
  })

  test('the answer of the bench has each joint with its own fit, and the build with its trapped parts', async () => {
    const job = await pressTwin(h, await partTwin(h, await agreedTwin(h)))
    const answer = await bench(job)
    expect(answer.build).toMatchObject({ throws: 2, phaseLimitDeg: 0.5 })
    expect(answer.fit).toBeUndefined()
    expect(answer.joints?.map(({ joint, says, fit }) => [joint, says, fit?.left?.interferenceMm])).toEqual([
      ['throw-1', 'Throw 1', expect.closeTo(0.11, 9)],
      ['throw-2', 'Throw 2', expect.closeTo(0.11, 9)],
      ['centre-1', 'Centre 1–2', undefined],
    ])
    expect(answer.trapped).toMatchObject({ ticked: ['centre bearing', 'labyrinth'], by: 'Jonas' })
  })
})

describe('what one joint says is its own', () => {
  test('a blow on one throw asks for that throw alone to be read again, and is told beside its own readings', async () => {
    const job = await pressTwin(h, await partTwin(h, await agreedTwin(h)))
    const { body: half } = await h.bench.get(`/api/jobs/${job.id}/truing?joint=throw-1`).expect(200)
    expect(half.sets).toHaveLength(1)
    const move = { beforeId: half.last.id, joint: 'throw-1', action: 'squeeze', asAdvised: false }
    it.clock.pass(1)
    await h.bench.post(`/api/jobs/${job.id}/moves`, move).expect(201)
    const codes = (await gate(job)).missing.filter((one) => one.code.startsWith('width')).map(({ joint, code }) => `${joint} ${code}`)
    expect(codes).toEqual(['throw-1 width-older-than-last-move'])
    const other = await h.bench.get(`/api/jobs/${job.id}/truing?joint=throw-2`).expect(200)
    expect([other.body.moves.length, other.body.stale]).toEqual([0, false])
    const again = await h.bench.get(`/api/jobs/${job.id}/truing?joint=throw-1`).expect(200)
    expect([again.body.moves.length, again.body.stale]).toEqual([1, true])
  })

  test('the two ends of the whole advise no blow, since they do not tell which joint is out', async () => {
    const job = await trueTwin(h, await pressTwin(h, await partTwin(h, await agreedTwin(h))))
    const { body } = await h.bench.get(`/api/jobs/${job.id}/truing`).expect(200)
    expect(body.advice).toBeUndefined()
    expect(body.figures.refused).toContain('do not tell which joint is out')
    expect(body.figures.left.tirMm).toBeGreaterThan(0)
    const half = await h.bench.get(`/api/jobs/${job.id}/truing?joint=throw-2`).expect(200)
    expect(half.body.figures.sum.faults.swingMm).toBeCloseTo(0.012, 3)
    // No limit of the sheet is for a half on other supports.
    expect(half.body.figures.verdicts).toEqual({})
  })

  test('a kit of its own stands for its throw alone', async () => {
    const job = await partTwin(h, await agreedTwin(h))
    const kit = { maker: 'Ardenlow', part: 'Z347-2W K1', whose: 'ours' }
    await h.bench.post(`/api/jobs/${job.id}/kit`, { ...kit, lot: 'A-2500', joint: 'throw-2' }).expect(201)
    expect(codesAt(await gate(job), 'kit-lot')).toEqual(['throw-1'])
    await h.bench.post(`/api/jobs/${job.id}/kit`, { ...kit, lot: 'A-2417' }).expect(201)
    expect(codesAt(await gate(job), 'kit-lot')).toEqual([])
    const { joints, kit: all } = await bench(job)
    expect([all?.lot, joints?.map((one) => one.kit?.lot)]).toEqual(['A-2417', [undefined, 'A-2500', undefined]])
    // One crank has this lot, in whichever of its throws it is named.
    await h.bench.post(`/api/jobs/${job.id}/kit`, { ...kit, lot: 'A-2500', joint: 'throw-1' }).expect(201)
    const { body: models } = await h.bench.get('/api/kits?q=A-2500').expect(200)
    expect(models[0].lots.find((one: { lot: string }) => one.lot === 'A-2500').fitted).toBe(1)
    const refused = await h.bench.post(`/api/jobs/${job.id}/kit`, { ...kit, lot: 'A-1', joint: 'centre-1' }).expect(400)
    expect(refused.body.errors[0].pointer).toBe('/joint')
  })

  const codesAt = ({ missing }: { missing: { code: string; joint?: string }[] }, code: string) =>
    missing.filter((one) => one.code === code).map((one) => one.joint)

  test('what the owner lets pass at one throw is not let pass at the other', async () => {
    const job = await pressTwin(h, await partTwin(h, await agreedTwin(h)))
    const out = [64.2, 64.2, 64.2, 64.2].map((mm, place) => ({ place: String(place * 90), mm }))
    for (const joint of THROWS) {
      it.clock.pass(1)
      await h.bench.post(`/api/jobs/${job.id}/measurements`, { kind: 'width', phase: 'built', joint, values: out }).expect(201)
    }
    const passes = [{ code: 'width-out-of-window', joint: 'throw-1', reason: 'the cases were bored for it' }]
    const refused = await (await it.as('owner')).post(`/api/jobs/${job.id}/steps`, { to: 'trued', passes }).expect(409)
    const widths = refused.body.missing.filter((one: { code: string }) => one.code === 'width-out-of-window')
    expect(widths).toMatchObject([{ joint: 'throw-2' }])
  })
})

describe('what does not belong', () => {
  let job: Job

  beforeAll(async () => {
    job = await agreedTwin(h)
  })

  const widths = [{ place: '0', mm: 64 }]

  test.each([
    ['a width that names no throw', 'measurements', { kind: 'width', phase: 'building', values: widths }, '/joint', 'missing'],
    [
      'a throw that the sheet has not',
      'measurements',
      { kind: 'width', phase: 'building', joint: 'throw-3', values: widths },
      '/joint',
      'not-for-this',
    ],
    [
      'an angle in millimetres',
      'measurements',
      { kind: 'phase', phase: 'building', values: [{ place: '2', mm: 180 }] },
      '/values/0/unit',
      'other-unit',
    ],
    [
      'a width in degrees',
      'measurements',
      { kind: 'width', phase: 'building', joint: 'throw-1', values: [{ place: '0', mm: 64, unit: 'deg' }] },
      '/values/0/unit',
      'other-unit',
    ],
    [
      'an angle that was typed otherwise',
      'measurements',
      { kind: 'phase', phase: 'building', values: [{ place: '2', mm: 180, unit: 'deg', typed: '181' }] },
      '/values/0/mm',
      'not-what-was-typed',
    ],
    [
      'an angle of a throw that is not there',
      'measurements',
      { kind: 'phase', phase: 'building', values: [{ place: '3', mm: 120, unit: 'deg' }] },
      '/values/0/place',
      'unknown',
    ],
    [
      'an angle past the turn',
      'measurements',
      { kind: 'phase', phase: 'building', values: [{ place: '2', mm: 361, unit: 'deg' }] },
      '/values/0/mm',
      'range',
    ],
    ['a pressing that names no joint', 'pressings', { direction: 'apart', side: 'left', peakTonnes: 5 }, '/joint', 'missing'],
    [
      'a pressing at a joint that is not there',
      'pressings',
      { direction: 'apart', side: 'left', joint: 'centre-2', peakTonnes: 5 },
      '/joint',
      'unknown',
    ],
    ['a part that the sheet does not list', 'trapped-parts', { ticked: ['gear'] }, '/ticked/0', 'unknown'],
    ['a part ticked twice', 'trapped-parts', { ticked: ['labyrinth', 'labyrinth'] }, '/ticked/1', 'unknown'],
  ])('%s', async (_, path, body, pointer, code) => {
    const refused = await h.bench.post(`/api/jobs/${job.id}/${path}`, body).expect(400)
    expect(refused.body.errors).toMatchObject([{ pointer, code }])
  })

  test('a half on its own shafts is no second reading', async () => {
    const setup = {
      held: 'v-blocks-bare',
      supportLeftMm: 30,
      supportRightMm: 20,
      dialLeftMm: 45,
      dialRightMm: 18,
      surfaceLeft: 'plain',
      surfaceRight: 'plain',
      cold: true,
    }
    const body = { kind: 'runout', phase: 'second', joint: 'throw-1', setup, values: [{ place: 'left-swing', atDeg: 0, mm: 0.01 }] }
    const refused = await h.second.post(`/api/jobs/${job.id}/measurements`, body).expect(400)
    expect(refused.body.errors[0].pointer).toBe('/joint')
  })

  test('a blow that names no joint', async () => {
    await partTwin(h, job)
    await readThrow(h, job, 'throw-1', 'building')
    const { body } = await h.bench.get(`/api/jobs/${job.id}/truing`).expect(200)
    expect(body.sets).toEqual([])
    const received = (await bench(job)).measurements.find((set) => set.kind === 'runout')!
    const refused = await h.bench
      .post(`/api/jobs/${job.id}/moves`, { beforeId: received.id, action: 'squeeze', asAdvised: false })
      .expect(400)
    expect(refused.body.errors).toMatchObject([{ pointer: '/joint', code: 'missing' }])
  })

  test('ticking is the bench’s, and needs a sign-in', async () => {
    await (await it.as('counter')).post(`/api/jobs/${job.id}/trapped-parts`, { ticked: [] }).expect(403)
    await it.nobody().post(`/api/jobs/${job.id}/trapped-parts`, { ticked: [] }).expect(401)
    await tick(h, { id: '01920000-0000-7000-8000-000000000000' }).expect(404)
  })
})

test('a step needs its gate, and says each missing thing with its joint', async () => {
  const job = await agreedTwin(h)
  const refused = await h.bench.post(`/api/jobs/${job.id}/steps`, { to: 'apart' }).expect(409)
  expect(codesOf(refused.body).filter((code) => code === 'web-marks')).toHaveLength(3)
  await expect(step(h, h.bench, job, 'apart')).rejects.toThrow('not apart')
})
