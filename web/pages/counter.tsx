import { AfterHomeLinks } from '#web/features/comebacks/counter-links.tsx'
import { BookList } from '#web/features/jobs/book-list.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { GoLink } from '#web/ui/button.tsx'
import { MAIN_ID } from '#web/ui/page.tsx'

/** The counter: every crank in the house, by promise. */
export function CounterPage() {
  return (
    <ShopFrame
      place="counter"
      roles={['counter', 'owner']}
      action={
        <GoLink kind="go" to="/counter/book-in">
          Book one in
        </GoLink>
      }
    >
      <main id={MAIN_ID} className="page" tabIndex={-1}>
        <AfterHomeLinks />
        <BookList />
      </main>
    </ShopFrame>
  )
}
