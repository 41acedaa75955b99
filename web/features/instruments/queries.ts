import { queryOptions } from '@tanstack/react-query'
import { z } from 'zod'
import { type Instrument, instrument, type instrumentChange, type instrumentNew } from '#contract/instruments.ts'
import { get, patch, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

const INSTRUMENTS = ['instruments'] as const

export const instrumentsQuery = queryOptions({
  queryKey: INSTRUMENTS,
  queryFn: ({ signal }) => get('/api/instruments', z.array(instrument), { signal }),
})

// An overdue instrument stands in the way of signing, so the jobs are asked again too.
const AGES = [INSTRUMENTS, ['jobs']] as const

export function useAddInstrument() {
  return useAct((given: z.infer<typeof instrumentNew>, key) => post('/api/instruments', given, instrument, { key }), AGES)
}

export function useChangeInstrument(one: Pick<Instrument, 'id' | 'version'>) {
  return useAct(
    (change: z.infer<typeof instrumentChange>, key) =>
      patch(`/api/instruments/${one.id}`, change, instrument, { version: one.version, key }),
    AGES,
  )
}
