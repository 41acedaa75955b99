import type { Bench } from '#contract/bench.ts'
import { withStruck } from '#web/lib/outbox/kept-strike.ts'
import { waitingShown, withWaiting } from '#web/lib/outbox/shown.ts'

/** Everything measured on a job as the book answers it, and behind it what lies on this tablet and is not in the book yet. */
export function layBench(jobId: string, bench: Bench): Bench {
  const kit = waitingShown<NonNullable<Bench['kit']>>(/\/kit$/, jobId).at(-1) ?? bench.kit
  const trapped = waitingShown<NonNullable<Bench['trapped']>>(/\/trapped-parts$/, jobId).at(-1) ?? bench.trapped
  return {
    ...bench,
    ...(kit === undefined ? {} : { kit }),
    ...(trapped === undefined ? {} : { trapped }),
    measurements: withStruck(
      withWaiting(bench.measurements, waitingShown(/\/measurements$/, jobId)),
      waitingShown(/^\/api\/measurements\/.*\/strike$/, jobId),
    ),
    pressings: withStruck(
      withWaiting(bench.pressings, waitingShown(/\/pressings$/, jobId)),
      waitingShown(/^\/api\/pressings\/.*\/strike$/, jobId),
    ),
    welds: withWaiting(bench.welds, waitingShown(/\/welds$/, jobId)),
  }
}
