import { useQuery } from '@tanstack/react-query'
import { useParams } from 'react-router'
import { InstrumentScreen } from '#web/features/instruments/instrument-screen.tsx'
import { oneInstrumentQuery } from '#web/features/instruments/queries.ts'
import { BenchPlace } from '#web/pages/bench-place.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** One instrument, its checks, and the certificates that rest on it. */
export function InstrumentOnePage() {
  const { id = '' } = useParams()
  const me = useMe()
  const page = useQuery(oneInstrumentQuery(id))
  return (
    <BenchPlace>
      <Page title={page.data?.instrument.name ?? 'Instrument'}>
        {page.data !== undefined ? (
          <InstrumentScreen page={page.data} crankAt={(jobId) => (me.role === 'bench' ? `/bench/${jobId}` : `/jobs/${jobId}`)} />
        ) : page.isError ? (
          <Failed what="The instrument" error={page.error} onAgain={() => void page.refetch()} />
        ) : (
          <Loading what="the instrument" />
        )}
      </Page>
    </BenchPlace>
  )
}
