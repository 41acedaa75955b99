import { type Bench, measurement, pressing, weld } from '#contract/measurements.ts'
import { waitingShown, withWaiting } from '#web/lib/outbox/shown.ts'

/** Everything measured on a job as the book answers it, and behind it what lies on this tablet and is not in the book yet. */
export function layBench(jobId: string, bench: Bench): Bench {
  return {
    ...bench,
    measurements: withWaiting(bench.measurements, waitingShown(measurement, jobId)),
    pressings: withWaiting(bench.pressings, waitingShown(pressing, jobId)),
    welds: withWaiting(bench.welds, waitingShown(weld, jobId)),
  }
}
