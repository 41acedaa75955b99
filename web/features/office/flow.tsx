import type { OfficeFlow } from '#contract/office-flow.ts'
import { FigureFoot } from '#web/features/office/figure-foot.tsx'
import { FigureTable } from '#web/features/office/figure-table.tsx'
import { linkedCount } from '#web/features/office/linked-count.tsx'
import { cranksHref } from '#web/features/office/search.ts'
import { KIND_WORDS, littleWords, plain, stayWords, weekNumber } from '#web/features/office/words.ts'
import { day, figure } from '#web/lib/format.ts'
import { Empty } from '#web/ui/states.tsx'
import { WeeksChart } from '#web/ui/weeks-chart.tsx'

/** What came in and what left, week by week. */
export function Flow({ flow }: { flow: OfficeFlow }) {
  if (flow.in === 0 && flow.out === 0) return <NothingYet flow={flow} />
  const weeks = flow.weeks.map((week) => ({
    key: week.week,
    label: weekNumber(week.week),
    name: `${weekNumber(week.week)}, from ${day(week.from, flow.to)}`,
    cameIn: week.in,
    wentOut: week.out,
    inHref: cranksHref(week.cranksIn),
    outHref: cranksHref(week.cranksOut),
  }))
  return <WeeksChart weeks={weeks} caption={<FigureFoot figure={flow} of="in and out" />} />
}

function NothingYet({ flow }: { flow: OfficeFlow }) {
  return (
    <Empty>
      {flow.little.inHandNow === 0 ? 'No crank has come in yet' : 'No crank came in or left'}
      {flow.little.inHandNow === 0 && flow.kind === undefined ? '. Each week gets its two bars from the first one on.' : ' in these weeks.'}
    </Empty>
  )
}

/** How many stand here and how long they stay, with Little’s law beside its parts. */
export function FlowSays({ flow }: { flow: OfficeFlow }) {
  const { little, stay } = flow
  return (
    <p className="flow-says">
      In the house {linkedCount(little.inHandNow, 'figure=house')}. {stayWords(stay.all)} {littleWords(little)}{' '}
      <span className="figure-foot">
        {little.rule} {stay.rule}
      </span>
    </p>
  )
}

/** Days in the house of each kind of job. */
export function Stay({ stay }: { stay: OfficeFlow['stay'] }) {
  if (stay.n === 0) return <Empty>No crank has left in these weeks, so there are no days to count.</Empty>
  const cells = (one: OfficeFlow['stay']['all']) => [
    one.n,
    one.half === undefined ? '–' : plain(one.half),
    one.seventeenIn20 === undefined ? '–' : plain(one.seventeenIn20),
    one.mean === undefined ? '–' : figure(one.mean, 1),
  ]
  return (
    <>
      <FigureTable
        caption="Days in the house"
        heads={['kind of job', 'left', 'half in, days', '17 in 20 in', 'mean']}
        rows={[
          { key: 'all', cells: ['All', ...cells(stay.all)] },
          ...stay.byKind.map((one) => ({ key: one.kind, cells: [KIND_WORDS[one.kind], ...cells(one)] })),
        ]}
      />
      <p className="figure-foot">
        <FigureFoot figure={stay} of="days in the house" />
      </p>
    </>
  )
}
