import { useQuery } from '@tanstack/react-query'
import { useParams } from 'react-router'
import { CustomerFacts } from '#web/features/customers/customer-page.tsx'
import { customerQuery } from '#web/features/customers/queries.ts'
import { CranksWithJobs } from '#web/features/jobs/cranks-of-customer.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

export function CustomerPage() {
  const { id = '' } = useParams()
  const them = useQuery(customerQuery(id))
  return (
    <ShopFrame place="counter" roles={['counter', 'owner']}>
      <Page title={them.data?.name ?? 'Customer'}>
        {them.isPending && <Loading what="what we know of them" />}
        {them.isError && <Failed what="This customer" error={them.error} onAgain={() => void them.refetch()} />}
        {them.data !== undefined && (
          <div key={id}>
            <CustomerFacts them={them.data} />
            <CranksWithJobs customerId={id} />
          </div>
        )}
      </Page>
    </ShopFrame>
  )
}
