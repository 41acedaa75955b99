import { queryOptions } from '@tanstack/react-query'
import type { SettingsAnswer } from '#contract/settings.ts'
import { get } from '#web/lib/http.ts'

/** The settings of the shop: zone, closing time, floors, unit. They seldom change. */
export const settingsQuery = queryOptions({
  queryKey: ['settings'],
  queryFn: ({ signal }) => get<SettingsAnswer>('/api/settings', { signal }),
  staleTime: 5 * 60_000,
})
