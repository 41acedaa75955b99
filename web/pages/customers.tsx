import { useNavigate } from 'react-router'
import { CustomerNewForm } from '#web/features/customers/customer-edit.tsx'
import { CustomerList } from '#web/features/customers/customer-list.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Page } from '#web/ui/page.tsx'

export function CustomersPage() {
  const navigate = useNavigate()
  return (
    <ShopFrame place="counter" roles={['counter', 'owner']}>
      <Page title="Customers">
        <CustomerList />
        <Fold open="Somebody new">{(shut) => <CustomerNewForm onMade={(id) => void navigate(`/customers/${id}`)} onShut={shut} />}</Fold>
      </Page>
    </ShopFrame>
  )
}
