import { useQuery } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import { fillText } from '#core/placeholders.ts'
import { settingsQuery } from '#web/features/settings/queries.ts'
import { type Here, HereProvider } from '#web/lib/here.ts'
import { useMe } from '#web/pages/signed-in.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** The shop, for whatever stands on the page; until it is known nothing that names a day, a price or a unit is shown. */
export function WithShop({ children }: { children: ReactNode }) {
  const me = useMe()
  const settings = useQuery(settingsQuery)
  if (settings.data === undefined) {
    if (settings.isError) return <Failed what="The shop’s settings" error={settings.error} onAgain={() => void settings.refetch()} />
    return <Loading what="the shop’s settings" />
  }
  const { shopName, zone, currency, showUnit, lookingOverFee, storageRule, storageDays, tellReady, tellYes, tellLate } = settings.data
  const here: Here = {
    personId: me.id,
    role: me.role,
    shopName,
    zone,
    currency,
    unit: showUnit,
    lookingOverFee,
    storageRule: fillText(storageRule, { shop: shopName, days: String(storageDays) }),
    storageDays,
    texts: { ready: tellReady, yes: tellYes, late: tellLate },
  }
  return <HereProvider value={here}>{children}</HereProvider>
}
