import { useState } from 'react'
import type { Comeback } from '#contract/comebacks.ts'
import { CAUTIONS, RULES_FIRST } from '#core/cautions.ts'
import { UNWASHED } from '#core/comeback.ts'
import { FINDING_WORDS, FINDINGS, type Finding, findingsClash } from '#core/comeback-findings.ts'
import { EditRefused } from '#web/features/comebacks/edit-refused.tsx'
import { useComebackEdit } from '#web/features/comebacks/use-comeback-edit.ts'
import { foundWords } from '#web/features/comebacks/words.ts'
import { dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { Caution } from '#web/ui/notice.tsx'
import { PickMany } from '#web/ui/pick.tsx'

/** What was found on the crank, each fact with what it speaks for. Bench and owner write it. */
export function Found({ report }: { report: Comeback }) {
  const { role, zone } = useHere()
  const { found, foundNote, lookedBy, lookedAt, lookedByBuilder } = report
  const mayWrite = role !== 'counter' && report.struck === undefined
  return (
    <section className="comeback-part" aria-label="What was found">
      <h2>What was found</h2>
      {found.length > 0 && (
        <ul className="finding-list">
          {found.map((one) => (
            <li key={one}>
              <b>{FINDING_WORDS[one].says}</b> <small>speaks for: {FINDING_WORDS[one].speaksFor}</small>
            </li>
          ))}
        </ul>
      )}
      {foundNote !== undefined && <p className="lines">{foundNote}</p>}
      {lookedBy === undefined || lookedAt === undefined ? (
        <p className="soft">Nobody has looked at it yet.</p>
      ) : (
        <p className="soft">
          {lookedBy}, {dayAndTime(lookedAt, zone, Date.now())}
          {lookedByBuilder === true && <b> · who built it; better somebody else reads it too</b>}
        </p>
      )}
      {mayWrite && (
        <Fold open={lookedBy === undefined ? 'Write down what you find' : 'Found more, or otherwise'}>
          {(shut) => <FoundForm report={report} onShut={shut} />}
        </Fold>
      )}
    </section>
  )
}

/** Facts alone: what the eye and the micrometer see. */
export function FoundForm({ report, onShut }: { report: Comeback; onShut(): void }) {
  const here = useHere()
  const edit = useComebackEdit(report)
  const [found, setFound] = useState<readonly Finding[]>(report.found)
  const [note, setNote] = useState(report.foundNote ?? '')
  const clash = findingsClash(found)
  const builders = report.lookedBy === undefined ? report.builders : []
  const send = () => {
    if (clash !== null) return
    edit.send({ found: [...found], foundNote: note.trim() === '' ? null : note.trim() }, onShut)
  }
  return (
    <Form enter="next" onSend={send} aria-label="What you find">
      <EditRefused edit={edit} standsNow={edit.meanwhile === undefined ? '' : foundWords(edit.meanwhile) || 'nothing'} />
      {report.newJob?.state === 'booked' && (
        <Caution>
          {UNWASHED} {CAUTIONS.solvent} {RULES_FIRST}
        </Caution>
      )}
      <p className="soft">
        Photograph it before it is washed. What you see, not what you think of it
        {builders.length > 0 && `; better by somebody other than ${builders.join(' or ')}, who built it`}.
      </p>
      <PickMany
        label="Found"
        name="found"
        options={FINDINGS.map((value) => ({ value, label: FINDING_WORDS[value].says }))}
        value={found}
        error={clash ?? undefined}
        onChange={setFound}
      />
      {found.length > 0 && here.role === 'owner' && (
        <ul className="finding-list">
          {found.map((one) => (
            <li key={one}>
              <small>
                {FINDING_WORDS[one].says}: speaks for {FINDING_WORDS[one].speaksFor}
              </small>
            </li>
          ))}
        </ul>
      )}
      <AreaField
        label="In words, or why nothing can be looked at"
        hint="Everybody in the shop reads it: no names of customers, no prices."
        rows={2}
        maxLength={2000}
        value={note}
        onChange={(event) => setNote(event.target.value)}
      />
      <Buttons>
        <Button type="submit" busy={edit.busy}>
          That is what is found
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
