import { Link } from 'react-router'
import type { OfficeRunning } from '#contract/office-came-back.ts'
import { Csv } from '#web/features/office/figure-foot.tsx'
import { cranksHref } from '#web/features/office/search.ts'
import { chanceWords, plain } from '#web/features/office/words.ts'
import { counted } from '#web/lib/format.ts'
import { Empty } from '#web/ui/states.tsx'
import { StepChart } from '#web/ui/step-chart.tsx'

type Curve = OfficeRunning['curves'][number]

/** What still runs, by hours ridden: the others solid, the lot that is asked for dashed. */
export function Running({ running }: { running: OfficeRunning }) {
  const { curves, logRank } = running
  if (running.n === 0) return <Empty>No crank has gone home with a kit yet, so none is out running.</Empty>
  return (
    <StepChart
      curves={curves
        .filter((curve) => curve.n > 0)
        .map((curve) => ({
          key: curve.group,
          name: curve.name,
          dashed: curve.group === 'lot',
          falls: curve.steps.map(({ hours, running: share, low, high, atRisk, back }) => ({ hours, share, low, high, atRisk, back })),
          heard: curve.heard,
        }))}
      caption={
        <>
          {curves.map((curve) => (
            <CurveSays key={curve.group} curve={curve} />
          ))}
          {logRank !== undefined && <>Between the two: {chanceWords(logRank.p)} by chance (log-rank). </>}
          {running.rule} Ticks: last heard of, running. <Csv address={running.csv} of="still running" />
        </>
      }
    />
  )
}

function CurveSays({ curve }: { curve: Curve }) {
  const { name, n, back, noHours, neverHeardOf, medianHours } = curve
  const parts = [
    `${back} came back`,
    ...(noHours > 0 ? [`${noHours} more at hours nobody knows, left out`] : []),
    ...(neverHeardOf > 0 ? [`${neverHeardOf} never heard of`] : []),
    ...(medianHours === undefined ? [] : [`half still run at ${plain(medianHours)} h`]),
  ]
  return (
    <>
      {name}: <Link to={cranksHref(curve.cranks)}>{counted(n, 'crank')}</Link>, {parts.join(', ')}.{' '}
    </>
  )
}
