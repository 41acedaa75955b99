import type { Bench } from '#contract/bench.ts'
import type { YourCrank } from '#contract/certificates.ts'
import type { Job } from '#contract/jobs.ts'
import { isEnd, PATHS } from '#core/steps.ts'
import { type CrankForCustomer, foundSentences, headlineOf, moneySentences, waitingSentences } from '#core/your-crank.ts'
import type { ShownPhoto } from './store.ts'

interface Shown {
  shop: string
  job: Job
  bench: Bench
  playLimitMm: number | undefined
  sheet: { number: string; checkCode: string } | undefined
  photos: readonly ShownPhoto[]
  /** Day in the shop's zone of an instant, and an amount in words. */
  dayOf: (instant: string) => string
  inWords: (minor: number) => string
}

/** The customer's page: no name, no address, no phone; what it says is made of the same figures as the certificate. */
export function yourCrankOf({ shop, job, bench, playLimitMm, sheet, photos, dayOf, inWords }: Shown): YourCrank {
  const live = bench.measurements.filter((set) => set.struck === undefined && set.phase === 'received')
  const runout = live.findLast((set) => set.kind === 'runout')?.runout
  // Of several throws the one with the most play is what the customer is told.
  const plays = live.filter(
    (set, place) => set.kind === 'play' && !live.slice(place + 1).some((later) => later.kind === 'play' && later.joint === set.joint),
  )
  const read = plays.flatMap((set) => set.values[0]?.mm ?? [])
  const play = read.length === 0 ? undefined : Math.max(...read)
  const agreed = job.quotes?.find((quote) => quote.yes !== undefined)
  const asked = job.quotes?.[0]
  const house = [runout?.limits.leftMm, runout?.limits.rightMm].filter((limit) => limit !== undefined)
  const told: CrankForCustomer = {
    kind: job.kind,
    state: job.state,
    waiting: job.waiting,
    received: { leftSwingMm: runout?.left?.tirMm, rightSwingMm: runout?.right?.tirMm, playMm: play, playLimitMm },
    houseLimitMm: house.length === 0 ? undefined : Math.max(...house),
    passes: job.passes.map((pass) => pass.what),
    agreed: agreed?.yes === undefined ? undefined : { total: inWords(agreed.totalMinor), onDay: dayOf(agreed.yes.at) },
    asked: asked === undefined ? undefined : { total: inWords(asked.totalMinor), onDay: dayOf(asked.madeAt) },
    owes: job.owes === undefined || job.owes === 0 ? undefined : inWords(job.owes),
  }
  return {
    shop,
    tag: job.tag,
    engine: job.engine,
    kind: job.kind,
    state: job.state,
    path: [...PATHS[job.kind]],
    headline: headlineOf(told),
    waiting: waitingSentences(told),
    ...(job.promisedOn === undefined || isEnd(job.state) || job.state === 'gone' ? {} : { promisedOn: job.promisedOn }),
    found: foundSentences(told),
    money: moneySentences(told),
    photos: photos.map((photo) => ({
      id: photo.id,
      at: photo.at.toISOString(),
      ...(photo.caption === null ? {} : { caption: photo.caption }),
    })),
    ...(sheet === undefined ? {} : { certificate: sheet }),
  }
}
