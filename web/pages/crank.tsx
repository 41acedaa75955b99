import { useQuery } from '@tanstack/react-query'
import { Link, useParams } from 'react-router'
import { webLifeQuery } from '#web/features/cranks/queries.ts'
import { WebLifeOf } from '#web/features/cranks/web-life.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Page } from '#web/ui/page.tsx'

/** One crank over all its jobs here: what its webs lost with every pressing, and what they have left. */
export function CrankPage() {
  const { id = '' } = useParams()
  const life = useQuery(webLifeQuery(id))
  const crank = life.data
  const said = [
    crank?.marks === undefined ? undefined : `marked ${crank.marks}`,
    crank?.pressedBefore === undefined
      ? undefined
      : `pressed ${crank.pressedBefore} ${crank.pressedBefore === 1 ? 'time' : 'times'} before it first came`,
    crank?.welded === true ? 'pin welded' : undefined,
  ].filter((one) => one !== undefined)
  return (
    <ShopFrame place="counter">
      <Page
        title={crank === undefined ? 'The crank' : `${crank.engine} ${crank.engineNumber ?? ''}`.trim()}
        heading={
          crank === undefined ? undefined : (
            <>
              <Link to={`/engines/${crank.engineId}`}>{crank.engine}</Link> {crank.engineNumber}
            </>
          )
        }
        lead={said.length === 0 ? undefined : said.join(' · ')}
      >
        <WebLifeOf crankId={id} />
      </Page>
    </ShopFrame>
  )
}
