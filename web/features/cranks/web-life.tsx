import { useState } from 'react'
import { type Joint, jointWords } from '#core/crank-build.ts'
import { useJointHere } from '#web/lib/joint-here.ts'
import { Pick } from '#web/ui/pick.tsx'
import '#web/features/cranks/cranks.css'
import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import type { WebLife, WebOfLife } from '#contract/web-life.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import { basisWords, leftWords } from '#web/features/cranks/life-words.ts'
import { webLifeQuery } from '#web/features/cranks/queries.ts'
import { dateIn, day, mm } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { EndMark } from '#web/ui/end-mark.tsx'
import { Over } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

const STEP_MM = 0.001

export interface WebLifeOfProps {
  crankId: string
  /** The job that is looked at, whose acts make the answer old. */
  jobId?: string
}

/** What each web lost with every pressing here, and how many it has left. */
export function WebLifeOf({ crankId, jobId }: WebLifeOfProps) {
  const here = useJointHere()
  // Where no throw is worked on (the page of the crank), it is chosen here.
  const [chosen, choose] = useState<Joint | undefined>(undefined)
  const life = useQuery(webLifeQuery(crankId, jobId, here ?? chosen))
  const joints = here === undefined ? (life.data?.joints ?? []) : []
  return (
    <section className="web-life" aria-label="Life of the webs">
      <h2>Life of the webs</h2>
      {joints.length > 0 && (
        <Pick
          label="Which throw"
          options={joints.map((value) => ({ value, label: jointWords(value) }))}
          value={life.data?.joint}
          onChange={choose}
        />
      )}
      {life.data !== undefined ? (
        <Webs life={life.data} />
      ) : life.isPending ? (
        <Loading what="the life of the webs" />
      ) : (
        <Failed what="The life of the webs" error={life.error} onAgain={() => void life.refetch()} />
      )}
    </section>
  )
}

function Webs({ life }: { life: WebLife }) {
  const { shopFloorMm, scrapFloorMm } = life
  const floors = [
    shopFloorMm === undefined ? undefined : `Our floor ${mm(shopFloorMm, STEP_MM)}`,
    scrapFloorMm === undefined ? undefined : `scrap ${mm(scrapFloorMm, STEP_MM)}`,
  ].filter((one) => one !== undefined)
  return (
    <>
      {floors.length > 0 && <p className="soft">{floors.join(', ')}.</p>}
      <div className="web-lives">
        {SIDES.map((side) => (
          <OneWeb key={side} side={side} web={life[side]} life={life} />
        ))}
      </div>
    </>
  )
}

function OneWeb({ side, web, life }: { side: Side; web: WebOfLife; life: WebLife }) {
  const { zone } = useHere()
  const today = dateIn(zone, Date.now())
  const { untilShopFloor, untilScrapFloor, renewedAt } = web
  return (
    <section aria-label={`${side} web`}>
      <h3>
        <EndMark end={side} letter size={20} /> {side} web
      </h3>
      {untilScrapFloor !== undefined && (
        <p className="web-left">
          {untilShopFloor !== undefined && (
            <>
              <b>{leftWords(untilShopFloor)}</b> until our floor,{' '}
            </>
          )}
          <b>{leftWords(untilScrapFloor)}</b> until it is scrap.
        </p>
      )}
      {renewedAt !== undefined && <p>Another web, or bore, since {day(dateIn(zone, renewedAt), today)}: counted anew.</p>}
      {web.fits.length > 0 && (
        <ol className="web-fits" aria-label={`Fits of the ${side} web, oldest first`}>
          {web.fits.map((fit) => (
            <li key={`${fit.jobId} ${fit.at}`}>
              <Link to={`/jobs/${fit.jobId}`}>{fit.tag}</Link>
              <span>{day(dateIn(zone, fit.at), today)}</span>
              <span>
                pressed {fit.pressings} {fit.pressings === 1 ? 'time' : 'times'} before
              </span>
              <FitFigure mmNow={fit.interferenceMm} life={life} />
              {fit.pinOf === 'old' && <span>old pin</span>}
              {fit.galling === 'heavy' && <Over>galled</Over>}
            </li>
          ))}
        </ol>
      )}
      <p className="soft">{basisWords(web)}</p>
    </section>
  )
}

function FitFigure({ mmNow, life: { shopFloorMm, scrapFloorMm } }: { mmNow: number; life: WebLife }) {
  const said = mm(mmNow, STEP_MM)
  if (scrapFloorMm !== undefined && mmNow < scrapFloorMm) return <Over>{said}: under the scrap floor</Over>
  if (shopFloorMm !== undefined && mmNow < shopFloorMm) return <Over>{said}: under our floor</Over>
  return <span className="fig">{said}</span>
}
