import { useState } from 'react'
import type { Comeback } from '#contract/comebacks.ts'
import {
  CAUSE_WORDS,
  COMEBACK_CAUSES,
  COMEBACK_SHARES,
  type ComebackCause,
  type ComebackShare,
  decisionFault,
  SHARE_WORDS,
} from '#core/comeback.ts'
import { EditRefused } from '#web/features/comebacks/edit-refused.tsx'
import { useComebackEdit } from '#web/features/comebacks/use-comeback-edit.ts'
import { decidedWords } from '#web/features/comebacks/words.ts'
import { useHere } from '#web/lib/here.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { Pick } from '#web/ui/pick.tsx'

/** The cause and whose it is: by the owner, and only once it has been looked at. */
export function Decided({ report }: { report: Comeback }) {
  const { role } = useHere()
  const { cause, share, found, foundNote } = report
  const wasLookedAt = found.length > 0 || foundNote !== undefined
  const mayDecide = role === 'owner' && wasLookedAt && report.struck === undefined
  return (
    <section className="comeback-part" aria-label="What is decided">
      <h2>What is decided</h2>
      {cause === undefined || share === undefined ? (
        <p className="soft">
          {wasLookedAt
            ? 'The cause is open; the owner decides.'
            : 'Decided after looking: first comes what was found, or that nothing was.'}
        </p>
      ) : (
        <dl className="facts">
          <dt>Cause</dt>
          <dd>
            <b>{CAUSE_WORDS[cause]}</b>
          </dd>
          <dt>Whose</dt>
          <dd>
            <b>{SHARE_WORDS[share].says}</b>: {SHARE_WORDS[share].follows}
          </dd>
        </dl>
      )}
      {mayDecide && (
        <Fold open={cause === undefined ? 'Decide it' : 'Decide it otherwise'}>
          {(shut) => <DecideForm report={report} onShut={shut} />}
        </Fold>
      )}
    </section>
  )
}

function DecideForm({ report, onShut }: { report: Comeback; onShut(): void }) {
  const edit = useComebackEdit(report)
  const [cause, setCause] = useState<ComebackCause | undefined>(report.cause)
  const [share, setShare] = useState<ComebackShare | undefined>(report.share)
  const [tried, setTried] = useState(false)
  const { found, foundNote = null } = report
  // With neither chosen there is nothing to object to yet, so the cause is asked for first.
  const fault =
    cause === undefined && share === undefined
      ? { field: 'cause', detail: 'Say the cause; not known is an answer.' }
      : decisionFault({ found, foundNote, cause: cause ?? null, share: share ?? null })
  const faultOf = (field: string) => (tried && fault?.field === field ? fault.detail : undefined)
  const send = () => {
    setTried(true)
    if (fault === null && cause !== undefined && share !== undefined) edit.send({ cause, share }, onShut)
  }
  return (
    <Form enter="next" onSend={send} aria-label="Decide it">
      <EditRefused edit={edit} standsNow={edit.meanwhile === undefined ? '' : (decidedWords(edit.meanwhile) ?? 'nothing decided')} />
      <Pick
        label="Cause"
        name="cause"
        options={COMEBACK_CAUSES.map((value) => ({ value, label: CAUSE_WORDS[value] }))}
        value={cause}
        error={faultOf('cause')}
        onChange={setCause}
      />
      <Pick
        label="Whose it is"
        name="share"
        hint={share === undefined ? undefined : SHARE_WORDS[share].follows}
        options={COMEBACK_SHARES.map((value) => ({ value, label: SHARE_WORDS[value].says }))}
        value={share}
        error={faultOf('share')}
        onChange={setShare}
      />
      <Buttons>
        <Button type="submit" busy={edit.busy}>
          It is decided
        </Button>
        {report.cause !== undefined && (
          <Button busy={edit.busy} onClick={() => edit.send({ cause: null, share: null }, onShut)}>
            Open it again
          </Button>
        )}
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
