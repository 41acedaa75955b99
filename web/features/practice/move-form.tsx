import { useState } from 'react'
import type { PracticeMoveNew } from '#contract/practice.ts'
import { PRACTICE_BLOWS, PRACTICE_PRESSES, type PracticeMove } from '#core/practice-move.ts'
import { readLength } from '#core/units.ts'
import { ACT_NAMES, ACTS, type MoveGiven } from '#web/features/practice/practice-draft.ts'
import { hourOf } from '#web/features/practice/words.ts'
import { useHere } from '#web/lib/here.ts'
import { Button } from '#web/ui/button.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField } from '#web/ui/measure-field.tsx'
import { Caution } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

export interface MoveFormProps {
  given: MoveGiven
  onGiven(given: MoveGiven): void
  busy: boolean
  error: string | undefined
  onMove(move: PracticeMove, said: PracticeMoveNew['said']): void
}

const MARKS = Array.from({ length: 12 }, (_, hour) => String(hour * 30))
const PRESS_WORDS = { little: 'a little', more: 'more', much: 'much' } as const
const HOLD_ON = 'On a real crank: dials back and the crank off its supports before any blow, glasses on, copper or brass.'

/** What the hand will do, and before that what both ends will read after it. */
export function MoveForm({ given, onGiven, busy, error, onMove }: MoveFormProps) {
  const { unit } = useHere()
  const { act, atDeg, blow, press, left, right } = given
  const give = (more: Partial<MoveGiven>) => onGiven({ ...given, ...more })
  const [lacks, setLacks] = useState(false)
  const isBlow = act === 'left' || act === 'right'
  const move = moveOf()
  const said = { left: saidOf(left), right: saidOf(right) }

  function moveOf(): PracticeMove | undefined {
    if (act === undefined) return undefined
    if (act === 'squeeze' || act === 'wedge') return press && { action: act, how: press }
    return atDeg === undefined || blow === undefined ? undefined : { action: 'strike', half: act, atDeg: Number(atDeg), how: blow }
  }

  function saidOf(typed: string): number | undefined {
    const read = readLength(typed, unit)
    return read.ok && read.value.mm >= 0 && read.value.mm <= 20 ? read.value.mm : undefined
  }

  const hit = () => {
    const missing = move === undefined || said.left === undefined || said.right === undefined
    setLacks(missing)
    if (!missing) onMove(move, { leftTirMm: said.left ?? 0, rightTirMm: said.right ?? 0 })
  }
  const saidFault = (value: number | undefined) =>
    lacks && value === undefined ? 'Say it before you hit: a full swing, 0 or more.' : undefined

  return (
    <Form enter="next" onSend={hit}>
      <Pick
        label="What will you do?"
        options={ACT_NAMES.map((value) => ({ value, label: ACTS[value] }))}
        value={act}
        onChange={(next) => give({ act: next })}
        error={lacks && act === undefined ? 'Choose what the hand does.' : undefined}
      />
      {isBlow && (
        <>
          <Pick
            label="At which mark?"
            options={MARKS.map((value) => ({ value, label: hourOf(Number(value)) }))}
            value={atDeg}
            onChange={(next) => give({ atDeg: next })}
            error={lacks && atDeg === undefined ? 'Choose the mark that takes the blow.' : undefined}
          />
          <Pick
            label="How hard?"
            options={PRACTICE_BLOWS.map((value) => ({ value, label: value }))}
            value={blow}
            onChange={(next) => give({ blow: next })}
            error={lacks && blow === undefined ? 'Choose how hard.' : undefined}
          />
          <Caution>{HOLD_ON}</Caution>
        </>
      )}
      {act !== undefined && !isBlow && (
        <Pick
          label="How much?"
          options={PRACTICE_PRESSES.map((value) => ({ value, label: PRESS_WORDS[value] }))}
          value={press}
          onChange={(next) => give({ press: next })}
          error={lacks && press === undefined ? 'Choose how much.' : undefined}
        />
      )}
      <fieldset className="practice-said">
        <legend>What will both ends read after it?</legend>
        <MeasureField
          label="Left will swing"
          unit={unit}
          value={left}
          onChange={(typed) => give({ left: typed })}
          error={saidFault(said.left)}
        />
        <MeasureField
          label="Right will swing"
          unit={unit}
          value={right}
          onChange={(typed) => give({ right: typed })}
          error={saidFault(said.right)}
        />
      </fieldset>
      {error !== undefined && (
        <p role="alert" className="wrong">
          {error}
        </p>
      )}
      <div className="move-acts">
        <Button kind="go" type="submit" busy={busy}>
          {isBlow ? 'Strike it' : act === 'squeeze' ? 'Squeeze it' : act === 'wedge' ? 'Wedge it' : 'Do it'}
        </Button>
      </div>
    </Form>
  )
}
