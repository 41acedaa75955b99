import type { GaugeStudy } from '#contract/gauge-studies.ts'
import { StudyChart } from '#web/features/gauge-studies/study-chart.tsx'
import { figure } from '#web/lib/format.ts'
import { Over } from '#web/ui/notice.tsx'

type Result = NonNullable<GaugeStudy['result']>
type Worked = NonNullable<Result['answer']>

/** What it comes to: the words first, then the picture, then the figures. */
export function StudyResult({ study, result }: { study: GaugeStudy; result: Result }) {
  const [first, ...rest] = result.says
  return (
    <>
      <section aria-labelledby="comes-to">
        <h2 id="comes-to">What it comes to</h2>
        <p className="study-says">{result.verdict === 'not-usable' ? <Over>{first}</Over> : first}</p>
        {rest.map((said) => (
          <p key={said}>{said}</p>
        ))}
      </section>
      <StudyChart parts={study.parts} people={study.people} readings={result.readings} stepMm={study.instrument.stepMm} what={study.what} />
      {result.answer !== undefined && <Figures answer={result.answer} />}
      <p>
        <a className="whole csv" href={`/api/gauge-studies/${study.id}/readings.csv`} download>
          CSV<span className="spoken">, the readings</span>
        </a>
      </p>
    </>
  )
}

function Figures({ answer }: { answer: Worked }) {
  const { percentOfTolerance, distinctSteps } = answer
  const rows: readonly [string, number][] = [
    ['The same person again (repeatability)', answer.repeatability],
    ['From person to person (reproducibility)', answer.reproducibility],
    ['Person by part (interaction)', answer.interaction],
    ['Instrument and people together', answer.gauge],
    ['From part to part', answer.part],
    ['All together', answer.total],
  ]
  return (
    <section aria-labelledby="parts-of-it">
      <h2 id="parts-of-it">Where the spread comes from</h2>
      <table className="plain-table">
        <caption className="spoken">Standard deviations</caption>
        <thead>
          <tr>
            <th scope="col">part of the spread</th>
            <th scope="col" className="n">
              standard deviation, mm
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map(([what, mm]) => (
            <tr key={what}>
              <th scope="row">{what}</th>
              <td className="n">{figure(mm, 5)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="soft">
        {percentOfTolerance === undefined
          ? ''
          : `Six of the instrument’s standard deviations against the window: ${figure(percentOfTolerance, 1)} %. `}
        {`Of the whole spread: ${figure(answer.percentOfTotal, 1)} %. `}
        {distinctSteps === undefined ? '' : `Steps told apart: ${distinctSteps}. `}
        By {answer.method.name}. Under 10 % good, 10 to 30 % usable, above not: common practice.
      </p>
    </section>
  )
}
