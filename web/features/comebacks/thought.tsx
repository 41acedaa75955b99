import { useState } from 'react'
import type { Comeback } from '#contract/comebacks.ts'
import { EditRefused } from '#web/features/comebacks/edit-refused.tsx'
import { useComebackEdit } from '#web/features/comebacks/use-comeback-edit.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'

/** What is thought of it, kept apart from what is found. Anybody in the shop may think. */
export function Thought({ report }: { report: Comeback }) {
  return (
    <section className="comeback-part" aria-label="What is thought">
      <h2>What is thought</h2>
      {report.thought === undefined ? <p className="soft">Nothing is written.</p> : <p className="lines">{report.thought}</p>}
      {report.struck === undefined && <Fold open="Write what you think">{(shut) => <ThoughtForm report={report} onShut={shut} />}</Fold>}
    </section>
  )
}

function ThoughtForm({ report, onShut }: { report: Comeback; onShut(): void }) {
  const edit = useComebackEdit(report)
  const [thought, setThought] = useState(report.thought ?? '')
  const send = () => edit.send({ thought: thought.trim() === '' ? null : thought.trim() }, onShut)
  return (
    <Form enter="next" onSend={send} aria-label="What you think">
      <EditRefused edit={edit} standsNow={edit.meanwhile?.thought ?? 'nothing'} />
      <AreaField
        label="What you think of it"
        hint="Everybody in the shop reads it: no names of customers."
        rows={3}
        maxLength={1000}
        value={thought}
        onChange={(event) => setThought(event.target.value)}
      />
      <Buttons>
        <Button type="submit" busy={edit.busy}>
          Write it so
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
