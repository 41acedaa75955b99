import { useQuery } from '@tanstack/react-query'
import { Navigate, useNavigate, useParams } from 'react-router'
import { z } from 'zod'
import { MergeCustomers } from '#web/features/customers/merge.tsx'
import { customerQuery } from '#web/features/customers/queries.ts'
import { CranksWithJobs } from '#web/features/jobs/cranks-of-customer.tsx'
import { useSearchState } from '#web/lib/search-state.ts'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

const search = z.object({ with: z.string().max(60).default('') })

/** Two entries of one customer become one; which other entry is meant stands in the address. */
export function MergeCustomersPage() {
  const { id = '' } = useParams()
  const navigate = useNavigate()
  const [{ with: otherId }, change] = useSearchState(search)
  const them = useQuery(customerQuery(id))
  if (them.data !== undefined && them.data.id !== id) return <Navigate to={`/customers/${them.data.id}`} replace />
  return (
    <ShopFrame place="counter" roles={['owner']}>
      <Page
        title={them.data === undefined ? 'The same customer twice' : `${them.data.name} twice`}
        lead="Two entries that are one person or one firm become one entry."
      >
        {them.isPending && <Loading what="the entry" />}
        {them.isError && <Failed what="This customer" error={them.error} onAgain={() => void them.refetch()} />}
        {them.data !== undefined && (
          <MergeCustomers
            one={them.data}
            otherId={otherId}
            onOther={(other) => change({ with: other })}
            cranks={(customerId) => <CranksWithJobs customerId={customerId} />}
            onMerged={(stays) => void navigate(`/customers/${stays}`)}
          />
        )}
      </Page>
    </ShopFrame>
  )
}
