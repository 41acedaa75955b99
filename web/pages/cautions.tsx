import { CAUTIONS, type Hazard, RULES_FIRST } from '#core/cautions.ts'
import { Caution } from '#web/ui/notice.tsx'

/** The usual cautions for what is done here; local rules go before them. */
export function Cautions({ of }: { of: readonly Hazard[] }) {
  return (
    <Caution>
      {of.map((hazard) => CAUTIONS[hazard]).join(' ')} {RULES_FIRST}
    </Caution>
  )
}
