import type { Instrument } from '#contract/instruments.ts'
import { DOUBT_WORDS } from '#web/features/instruments/words.ts'
import { dayAndTime } from '#web/lib/format.ts'
import { Over } from '#web/ui/notice.tsx'

/** In doubt, why and since when; nothing where it is not. */
export function DoubtLine({ one, zone, now }: { one: Instrument; zone: string; now: number }) {
  if (one.doubt === undefined) return null
  return (
    <Over>
      in doubt: {DOUBT_WORDS[one.doubt.kind]}, {dayAndTime(one.doubt.since, zone, now)}
    </Over>
  )
}
