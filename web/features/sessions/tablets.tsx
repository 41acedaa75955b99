import { queryOptions, useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { z } from 'zod'
import type { device, deviceNew } from '#contract/sessions.ts'
import { dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { get, post, remove } from '#web/lib/http.ts'
import { inWords } from '#web/lib/problem.ts'
import { useAct } from '#web/lib/use-act.ts'
import { Button } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Empty, Failed, Loading } from '#web/ui/states.tsx'

const tabletsQuery = queryOptions({
  queryKey: ['devices'],
  queryFn: ({ signal }) => get<z.infer<typeof device>[]>('/api/devices', { signal }),
})

function useEnrol() {
  return useAct(
    (given: z.infer<typeof deviceNew>, key) => post<z.infer<typeof device>>('/api/devices', given, { key }),
    [['devices'], ['session'], ['door']],
  )
}

function useTakeOut() {
  return useAct((id: string, key) => remove(`/api/devices/${id}`, { version: undefined, key }), [['devices'], ['session'], ['door']])
}

/** The bench tablets on which hands change by PIN: this device made one, those there are, and a way to take one out. */
export function Tablets({ isThisOne }: { isThisOne: boolean }) {
  const { zone } = useHere()
  const tablets = useQuery(tabletsQuery)
  const takingOut = useTakeOut()
  const today = dateIn(zone, Date.now())
  return (
    <>
      {isThisOne ? <p>This device is an enrolled bench tablet.</p> : <EnrolForm />}
      <h2>Enrolled tablets</h2>
      {tablets.isPending && <Loading what="the tablets" />}
      {tablets.isError && <Failed what="The list" error={tablets.error} onAgain={() => void tablets.refetch()} />}
      {takingOut.isError && (
        <ProblemSummary title="It is not taken out.">
          <p>{inWords(takingOut.error)}</p>
        </ProblemSummary>
      )}
      {tablets.data?.length === 0 && <Empty>No tablet is enrolled. Open this page on the tablet itself and enrol it.</Empty>}
      {tablets.data !== undefined && tablets.data.length > 0 && (
        <ul className="plain-list tablets">
          {tablets.data.map((one) => (
            <li key={one.id}>
              <span>
                <b>{one.name}</b>{' '}
                <small>
                  enrolled {day(dateIn(zone, one.enrolledAt), today)} by {one.enrolledBy}
                </small>
              </span>
              <Button
                busy={takingOut.isPending}
                aria-label={`Take ${one.name} out: its sessions end`}
                onClick={() => takingOut.mutate(one.id)}
              >
                Take it out
              </Button>
            </li>
          ))}
        </ul>
      )}
    </>
  )
}

function EnrolForm() {
  const enrolling = useEnrol()
  const [name, setName] = useState('')
  const [tried, setTried] = useState(false)
  const send = () => {
    setTried(true)
    if (name.trim() !== '' && !enrolling.isPending) enrolling.mutate({ name: name.trim() })
  }
  return (
    <div className="door">
      <Form enter="sends" onSend={send} aria-label="Enrol this device">
        {enrolling.isError && (
          <ProblemSummary title="It is not enrolled.">
            <p>{inWords(enrolling.error)}</p>
          </ProblemSummary>
        )}
        <TextField
          label="What this tablet is called"
          hint="as bench 1; whoever has a PIN can then take it over"
          maxLength={60}
          value={name}
          error={tried && name.trim() === '' ? 'Give it a name, as bench 1.' : undefined}
          onChange={(event) => setName(event.target.value)}
        />
        <Button type="submit" kind="go" wide busy={enrolling.isPending}>
          Enrol this device
        </Button>
      </Form>
    </div>
  )
}
