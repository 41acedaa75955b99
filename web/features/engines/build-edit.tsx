import { useState } from 'react'
import type { Engine } from '#contract/engines.ts'
import { CENTRES, THROWS_MOST } from '#core/crank-build.ts'
import { type BuildFaults, fieldOf, readBuild, type TypedBuild, typedBuildOf } from '#web/features/engines/build-form.ts'
import { useEngineChange } from '#web/features/engines/queries.ts'
import { CENTRE_WORDS } from '#web/features/engines/words.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { fieldNameOf } from '#web/lib/problem-to-form.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField, SelectField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField, QuantityField } from '#web/ui/measure-field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

const THROWS = Array.from({ length: THROWS_MOST }, (_, place) => String(place + 1))

/** How a crank is put together: its throws, where they stand, its middle, and what sits between the webs. */
export function BuildEdit({ sheet, onShut }: { sheet: Engine; onShut(): void }) {
  const writing = useEngineChange(sheet.id)
  const [typed, setTyped] = useState<TypedBuild>(() => typedBuildOf(sheet.build))
  const [faults, setFaults] = useState<BuildFaults>({})
  const [attempt, setAttempt] = useState(0)
  const change = (part: Partial<TypedBuild>) => setTyped({ ...typed, ...part })
  const throws = Number(typed.throws)
  const send = () => {
    if (writing.isPending) return
    setAttempt(attempt + 1)
    const read = readBuild(typed)
    setFaults(read.ok ? {} : read.faults)
    if (!read.ok) return
    writing.mutate(
      { change: { build: read.build }, version: sheet.version },
      { onSuccess: onShut, onError: (error) => setFaults(faultsOf(error)) },
    )
  }
  return (
    <Form enter="next" onSend={send} aria-label="How it is put together">
      {(Object.keys(faults).length > 0 || writing.isError) && (
        <ProblemSummary
          title="The sheet is not changed yet."
          faults={Object.entries(faults).map(([name, text]) => ({ name, text }))}
          attempt={attempt}
        >
          {writing.isError && Object.keys(faults).length === 0 && <p>{inWords(writing.error)}</p>}
        </ProblemSummary>
      )}
      <div className="fields">
        <SelectField
          label="Throws"
          name="throws"
          choices={THROWS.map((value) => ({ value, label: value }))}
          value={typed.throws}
          error={faults.throws}
          onChange={(event) => change({ throws: event.target.value })}
        />
        <Pick
          label="Rods on one pin"
          name="rodsOnAPin"
          options={[
            { value: '1', label: 'one' },
            { value: '2', label: 'two' },
          ]}
          value={typed.rodsOnAPin}
          error={faults.rodsOnAPin}
          onChange={(rodsOnAPin) => change({ rodsOnAPin })}
        />
      </div>
      {throws > 1 && (
        <>
          <div className="fields">
            {typed.angles.slice(0, throws - 1).map((angle, place) => (
              <QuantityField
                // biome-ignore lint/suspicious/noArrayIndexKey: the throws of a crank do not change places
                key={place}
                label={`Throw ${place + 2}, from throw 1`}
                name={`angle-${place + 2}`}
                unit="°"
                hint="clockwise seen from the right-hand end"
                value={angle}
                error={faults[`angle-${place + 2}`]}
                onChange={(text) => change({ angles: typed.angles.map((was, at) => (at === place ? text : was)) })}
              />
            ))}
            <QuantityField
              label="An angle may be out by"
              name="phaseLimit"
              unit="°"
              hint="either way"
              value={typed.phaseLimit}
              error={faults.phaseLimit}
              onChange={(phaseLimit) => change({ phaseLimit })}
            />
            <MeasureField
              label="The middle may swing"
              name="centreLimit"
              unit="mm"
              hint="full swing of the dial"
              value={typed.centreLimit}
              error={faults.centreLimit}
              onChange={(centreLimit) => change({ centreLimit })}
            />
          </div>
          <Pick
            label="The middle is"
            name="centre"
            options={CENTRES.map((value) => ({ value, label: CENTRE_WORDS[value] }))}
            value={typed.centre}
            error={faults.centre}
            onChange={(centre) => change({ centre })}
          />
        </>
      )}
      <AreaField
        label="Between the webs, in before the press"
        name="trapped"
        hint="one a line: what it is, a comma, between which webs"
        rows={3}
        maxLength={1000}
        value={typed.trapped}
        error={faults.trapped}
        onChange={(event) => change({ trapped: event.target.value })}
      />
      <Buttons>
        <Button type="submit" busy={writing.isPending}>
          Write it so
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}

/** What the book refused, beside the fields it refused. */
function faultsOf(error: unknown): BuildFaults {
  const found = (error instanceof Problem ? error.errors : []).flatMap(({ pointer, detail }) => {
    const [, ...path] = fieldNameOf(pointer).split('.')
    return path.length === 0 ? [] : [[fieldOf(path), detail] as const]
  })
  return Object.fromEntries(found)
}
