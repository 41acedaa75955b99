import { useQuery } from '@tanstack/react-query'
import { settingsQuery } from '#web/features/settings/queries.ts'
import { SettingsSheet } from '#web/features/settings/settings-sheet.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'
import { Loading } from '#web/ui/states.tsx'

export function SettingsPage() {
  const now = useQuery(settingsQuery)
  return (
    <ShopFrame place="office" roles={['owner']}>
      <Page title="Settings">{now.data === undefined ? <Loading what="the settings" /> : <SettingsSheet now={now.data} />}</Page>
    </ShopFrame>
  )
}
