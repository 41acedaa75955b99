import { useQuery } from '@tanstack/react-query'
import { Link, Navigate, useParams } from 'react-router'
import { CustomerFacts } from '#web/features/customers/customer-page.tsx'
import { customerQuery } from '#web/features/customers/queries.ts'
import { CranksWithJobs } from '#web/features/jobs/cranks-of-customer.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

export function CustomerPage() {
  const { id = '' } = useParams()
  const me = useMe()
  const them = useQuery(customerQuery(id))
  // An entry that became one with another leads on to it.
  if (them.data !== undefined && them.data.id !== id) return <Navigate to={`/customers/${them.data.id}`} replace />
  return (
    <ShopFrame place="counter" roles={['counter', 'owner']}>
      <Page title={them.data?.name ?? 'Customer'}>
        {them.isPending && <Loading what="what we know of them" />}
        {them.isError && <Failed what="This customer" error={them.error} onAgain={() => void them.refetch()} />}
        {them.data !== undefined && (
          <div key={id}>
            <CustomerFacts them={them.data} />
            <CranksWithJobs customerId={id} />
            {me.role === 'owner' && (
              <p className="customer-ways">
                <Link to={`/customers/${id}/merge`}>The same as another entry</Link> ·{' '}
                <Link to={`/office/audit?thing=customer&id=${id}`}>Who changed what here</Link>
              </p>
            )}
          </div>
        )}
      </Page>
    </ShopFrame>
  )
}
