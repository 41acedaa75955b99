import { useQuery, useQueryClient } from '@tanstack/react-query'
import { useEffect } from 'react'
import { useParams } from 'react-router'
import { JobPhotos } from '#web/features/jobs/job-photos.tsx'
import { sendPhotos } from '#web/features/jobs/photo-queue.ts'
import { jobKeys, jobQuery } from '#web/features/jobs/queries.ts'
import { CustomerLink, TagAndPapers } from '#web/features/jobs/tagged.tsx'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Buttons, GoLink } from '#web/ui/button.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** What follows the tagging: the tag to be read out, label, receipt, photos, the customer's page. */
export function TaggedPage() {
  const { id = '' } = useParams()
  const client = useQueryClient()
  const job = useQuery(jobQuery(id))

  // Photos taken while the crank had no tag go into the book now, by themselves.
  useEffect(() => {
    void sendPhotos(id, () => void client.invalidateQueries({ queryKey: jobKeys.one(id) }))
  }, [id, client])

  return (
    <ShopFrame place="counter" roles={['counter', 'owner']} action={null}>
      <Page title={job.data === undefined ? 'Tagged' : `${job.data.tag} is tagged`} heading="It is tagged">
        {job.isPending && <Loading what="the tag" />}
        {job.isError && <Failed what="The tag" error={job.error} onAgain={() => void job.refetch()} />}
        {job.data !== undefined && (
          <>
            <TagAndPapers job={job.data} />
            <div className="tagged">
              <JobPhotos jobId={id} />
              <div>
                <CustomerLink job={job.data} />
                <Buttons>
                  <GoLink to={`/jobs/${id}`}>To {job.data.tag}</GoLink>
                  <GoLink to="/counter/book-in">Book the next one in</GoLink>
                </Buttons>
              </div>
            </div>
          </>
        )}
      </Page>
    </ShopFrame>
  )
}
