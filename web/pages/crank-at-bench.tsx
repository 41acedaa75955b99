import { useQuery } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import { useParams } from 'react-router'
import type { Engine } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import type { Job } from '#contract/jobs.ts'
import type { SettingsAnswer } from '#contract/settings.ts'
import { actWord, doneWord, isEnd } from '#core/steps.ts'
import type { Work } from '#web/features/hours/clock-words.ts'
import { instrumentsQuery } from '#web/features/instruments/queries.ts'
import { jobQuery, sheetQuery } from '#web/features/jobs/queries.ts'
import { settingsQuery } from '#web/features/settings/queries.ts'
import { BenchFrame } from '#web/pages/bench-frame.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** What a screen with readings on it needs of the book. */
export interface CrankFacts {
  job: Job
  sheet: Engine
  instruments: readonly Instrument[]
  settings: SettingsAnswer
}

export interface CrankAtBenchProps {
  work: Work
  /** What is done here, for the tab: `truing`. */
  name: string
  children: (facts: CrankFacts) => ReactNode
}

/** The crank of the address with its sheet, the dials and the shop's limits, in the frame of the bench. */
export function CrankAtBench({ work, name, children }: CrankAtBenchProps) {
  const { jobId = '' } = useParams()
  const job = useQuery(jobQuery(jobId))
  const sheet = useQuery({ ...sheetQuery(job.data?.crank.engineId ?? ''), enabled: job.data !== undefined })
  const instruments = useQuery(instrumentsQuery)
  const settings = useQuery(settingsQuery)
  const failed = [job, sheet, instruments, settings].find((one) => one.isError && one.data === undefined)
  if (failed !== undefined)
    return (
      <Page title={name}>
        <Failed what="The crank" error={failed.error} onAgain={() => void failed.refetch()} />
      </Page>
    )
  if (job.data === undefined || sheet.data === undefined || instruments.data === undefined || settings.data === undefined)
    return <Loading what="the crank" />
  const { tag, engine, kind, state } = job.data
  return (
    <BenchFrame jobId={jobId} tag={tag} engine={engine} act={isEnd(state) ? doneWord(state) : actWord(kind, state)} work={work}>
      <Page title={`${tag}, ${name}`} heading={<span className="spoken">{`${tag}, ${name}`}</span>}>
        {children({ job: job.data, sheet: sheet.data, instruments: instruments.data, settings: settings.data })}
      </Page>
    </BenchFrame>
  )
}
