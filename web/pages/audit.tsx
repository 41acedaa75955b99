import { useQuery } from '@tanstack/react-query'
import { AuditChain } from '#web/features/audit/audit-check.tsx'
import { AuditList } from '#web/features/audit/audit-list.tsx'
import { peopleQuery } from '#web/features/people/queries.ts'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'

export function AuditPage() {
  const me = useMe()
  const people = useQuery({ ...peopleQuery, enabled: me.role === 'owner' })
  return (
    <ShopFrame place="office" roles={['owner']}>
      <Page
        title="Who changed what"
        lead="Every change with who made it, when, and what stood before and after. Lines are added, never changed."
      >
        <AuditChain />
        <AuditList people={people.data ?? []} />
      </Page>
    </ShopFrame>
  )
}
