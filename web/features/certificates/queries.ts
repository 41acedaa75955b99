import { queryOptions, useMutation } from '@tanstack/react-query'
import type { z } from 'zod'
import type {
  CertificateOfJob,
  certificateCorrection,
  certificateNew,
  certificateRow,
  certificateVoid,
  LookedUp,
  lookUp,
  YourCrank,
} from '#contract/certificates.ts'
import { get, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

/** Under the keys of the job: signing moves it on, and a new reading makes another sheet of it. */
function jobKey(id: string) {
  return ['jobs', 'one', id] as const
}

const LISTS = ['jobs', 'list'] as const

export function certificateQuery(jobId: string) {
  return queryOptions({
    queryKey: [...jobKey(jobId), 'certificate'],
    queryFn: ({ signal }) => get<CertificateOfJob>(`/api/jobs/${jobId}/certificate`, { signal }),
  })
}

/** Signing: the sheet is made and the step is reached in one. */
export function useSign(jobId: string) {
  return useAct(
    (given: z.infer<typeof certificateNew>, key) => post<z.infer<typeof certificateRow>>(`/api/jobs/${jobId}/certificates`, given, { key }),
    [jobKey(jobId), LISTS],
  )
}

export function useCorrect(jobId: string) {
  return useAct(
    (given: { sheetId: string; correction: z.infer<typeof certificateCorrection> }, key) =>
      post<z.infer<typeof certificateRow>>(`/api/certificates/${given.sheetId}/corrections`, given.correction, { key }),
    [jobKey(jobId)],
  )
}

export function useVoid(jobId: string) {
  return useAct(
    (given: { sheetId: string; voided: z.infer<typeof certificateVoid> }, key) =>
      post<z.infer<typeof certificateRow>>(`/api/certificates/${given.sheetId}/void`, given.voided, { key }),
    [jobKey(jobId)],
  )
}

export type Paper = 'A4' | 'Letter'

export function paperAddress(sheetId: string, paper: Paper): string {
  return `/api/certificates/${sheetId}/paper.pdf?paper=${paper}`
}

/** Looking a sheet up changes nothing, but each try counts against guessing; so it is asked once a press. */
export function useLookUp() {
  return useMutation({
    mutationFn: (given: z.infer<typeof lookUp>) => post<LookedUp>('/api/public/check', given, { quietWhenSignedOut: true }),
  })
}

export function yourCrankQuery(token: string) {
  return queryOptions({
    queryKey: ['public', 'crank', token],
    queryFn: ({ signal }) => get<YourCrank>(`/api/public/crank/${encodeURIComponent(token)}`, { signal, quietWhenSignedOut: true }),
  })
}

export function crankPhotoAddress(token: string, photoId: string): string {
  return `/api/public/crank/${encodeURIComponent(token)}/photos/${photoId}`
}
