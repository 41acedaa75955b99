import { useNavigate } from 'react-router'
import { CustomerPicker } from '#web/features/customers/customer-picker.tsx'
import { EnginePicker } from '#web/features/engines/engine-picker.tsx'
import { Booking } from '#web/features/jobs/booking.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'

export function BookInPage() {
  const navigate = useNavigate()
  return (
    <ShopFrame place="counter" roles={['counter', 'owner']} action={null}>
      <Page title="Book one in">
        <Booking
          customer={(slot) => <CustomerPicker {...slot} />}
          engine={(slot) => <EnginePicker {...slot} />}
          onTagged={(job) => void navigate(`/jobs/${job.id}/tagged`, { replace: true })}
          onLeave={() => void navigate('/counter')}
        />
      </Page>
    </ShopFrame>
  )
}
