import { useQuery } from '@tanstack/react-query'
import type { CertificateOfJob } from '#contract/certificates.ts'
import type { Job } from '#contract/jobs.ts'
import { certificateQuery } from '#web/features/certificates/queries.ts'
import type { SheetLink } from '#web/features/jobs/job-papers.tsx'

/** The sheets made for a job, newest first, each with whether it stands; empty until they are known. */
export function useSheets(job: Pick<Job, 'id' | 'kind'>): readonly SheetLink[] {
  const certificates = useQuery(certificateQuery(job.id))
  const name = job.kind === 'check-and-report' ? 'Report of runout' : 'Certificate'
  return (certificates.data?.issued ?? []).map((one) => ({
    says: `${name} ${one.number}${standing(one)}`,
    href: `/api/certificates/${one.id}/paper.pdf`,
  }))
}

function standing(one: CertificateOfJob['issued'][number]): string {
  if (one.void !== undefined) return ', void'
  return one.replacedBy === undefined ? '' : `, replaced by ${one.replacedBy}`
}
