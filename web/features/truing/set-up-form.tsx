import { useState } from 'react'
import type { Instrument } from '#contract/instruments.ts'
import type { MarksRun } from '#core/bench/marks-run.ts'
import { WAYS_OF_HOLDING, type WayOfHolding } from '#core/crank-shape.ts'
import { readLength } from '#core/units.ts'
import type { Dials, ReadAt } from '#web/features/truing/marks-to-read.ts'
import { isPlace, type KnownSetUp, type ReadingSetUp } from '#web/features/truing/set-up.ts'
import { HELD_SHORT } from '#web/features/truing/words.ts'
import { figure } from '#web/lib/format.ts'
import { useJointHere } from '#web/lib/joint-here.ts'
import { readQuantity } from '#web/lib/quantity.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { SelectField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { MeasureField, QuantityField } from '#web/ui/measure-field.tsx'
import { Pick } from '#web/ui/pick.tsx'

export interface SetUpFormProps {
  known: KnownSetUp
  dials: readonly Instrument[]
  /** Figures are keyed already; another dial or other marks would begin the set again. */
  begun: boolean
  /** Says what is missing, where the form opened because something is. */
  lacking: boolean
  onDone(setUp: ReadingSetUp): void
  onLeave?: (() => void) | undefined
}

const PLACES = ['supportLeftMm', 'dialLeftMm', 'supportRightMm', 'dialRightMm'] as const
type Place = (typeof PLACES)[number]
type Places = Record<Place, string>

const READ_AT_WORDS: Readonly<Record<ReadAt, string>> = {
  four: '12, 3, 6, 9',
  eight: 'eight marks',
  swing: 'full swing and high mark',
}

function written(mm: number | undefined): string {
  return mm === undefined ? '' : String(mm)
}

/** Why a place cannot stand; undefined where it can. */
function faultOf(place: Place, typed: string): string | undefined {
  const read = readLength(typed, 'mm')
  if (!read.ok) return read.reason === 'nothing-typed' ? 'The sum needs this. Measure it and write it here.' : read.detail
  const { mm } = read.value
  if (place.startsWith('support')) return mm >= 1 && mm <= 1000 ? undefined : 'From 1 to 1000 mm.'
  return isPlace(mm) ? undefined : 'From 1 to 1000 mm out, or with a minus in from the support; never right at it.'
}

/** How the crank lies, where each dial stands and on what, which dial, which marks, cold or not. */
export function SetUpForm({ known, dials, begun, lacking, onDone, onLeave }: SetUpFormProps) {
  const joint = useJointHere()
  const [held, setHeld] = useState<WayOfHolding>(known.held ?? 'v-blocks-bare')
  const [places, setPlaces] = useState<Places>({
    supportLeftMm: written(known.supportLeftMm),
    dialLeftMm: written(known.dialLeftMm),
    supportRightMm: written(known.supportRightMm),
    dialRightMm: written(known.dialRightMm),
  })
  const [surfaceLeft, setSurfaceLeft] = useState(known.surfaceLeft ?? '')
  const [surfaceRight, setSurfaceRight] = useState(known.surfaceRight ?? '')
  const [dialId, setDialId] = useState(known.instrumentId ?? '')
  const [howMany, setHowMany] = useState<Dials>(known.dials)
  const [readAt, setReadAt] = useState<ReadAt>(known.readAt)
  const [marksRun, setMarksRun] = useState<MarksRun>(known.marksRun ?? 'clockwise')
  const [cold, setCold] = useState<'cold' | 'warm' | undefined>(known.cold === undefined ? undefined : known.cold ? 'cold' : 'warm')
  const [degrees, setDegrees] = useState(written(known.temperatureC))
  const [tried, setTried] = useState(false)

  const dial = dials.find((one) => one.id === dialId)
  const warmth = readQuantity(degrees, '°C')
  const warmthFault =
    degrees.trim() === ''
      ? undefined
      : !warmth.ok
        ? warmth.detail
        : warmth.value < -20 || warmth.value > 150
          ? 'From −20 to 150 °C.'
          : undefined
  const surfaceFault = (words: string) => (words.trim() === '' ? 'Write what the dial stands on.' : undefined)
  const shown = (fault: string | undefined) => (tried ? fault : undefined)

  const done = () => {
    setTried(true)
    const faults = [
      ...PLACES.map((place) => faultOf(place, places[place])),
      surfaceFault(surfaceLeft),
      surfaceFault(surfaceRight),
      warmthFault,
    ]
    if (faults.some((fault) => fault !== undefined)) return
    const mm = (place: Place) => {
      const read = readLength(places[place], 'mm')
      return read.ok ? read.value.mm : Number.NaN
    }
    onDone({
      held,
      supportLeftMm: mm('supportLeftMm'),
      supportRightMm: mm('supportRightMm'),
      dialLeftMm: mm('dialLeftMm'),
      dialRightMm: mm('dialRightMm'),
      surfaceLeft: surfaceLeft.trim(),
      surfaceRight: surfaceRight.trim(),
      ...(cold === undefined ? {} : { cold: cold === 'cold' }),
      ...(degrees.trim() === '' || !warmth.ok ? {} : { temperatureC: warmth.value }),
      ...(dial === undefined ? {} : { instrumentId: dial.id }),
      stepMm: dial?.stepMm ?? known.stepMm,
      readAt,
      dials: howMany,
      marksRun,
      ...(known.skippedLeftDeg === undefined ? {} : { skippedLeftDeg: known.skippedLeftDeg }),
      ...(known.skippedRightDeg === undefined ? {} : { skippedRightDeg: known.skippedRightDeg }),
    })
  }

  const place = (name: Place, label: string, hint: string) => (
    <MeasureField
      label={label}
      hint={hint}
      unit="mm"
      value={places[name]}
      error={shown(faultOf(name, places[name]))}
      onChange={(typed) => setPlaces({ ...places, [name]: typed })}
    />
  )

  return (
    <Form enter="next" onSend={done} aria-label="Set-up">
      {lacking && (
        <p className="known">
          {joint === undefined
            ? 'Our sheet for this engine does not say where the crank is held or where the dials stand. Measure it once and write it here.'
            : 'Where a half on its own shafts is held, and where the dials stand, is on no sheet. Measure it once and write it here.'}
        </p>
      )}
      <SelectField
        label="Held on"
        value={held}
        choices={WAYS_OF_HOLDING.map((way) => ({ value: way, label: HELD_SHORT[way] }))}
        onChange={(event) => setHeld(WAYS_OF_HOLDING.find((way) => way === event.target.value) ?? held)}
      />
      <div className="set-up-ends">
        <fieldset>
          <legend>Left, ignition</legend>
          {place('supportLeftMm', 'Crank centre to left support', 'Centre of the pin to where the shaft lies.')}
          {place('dialLeftMm', 'Left support to dial', 'Outward; with a minus where it stands inboard.')}
          <TextField
            label="Left dial stands on"
            value={surfaceLeft}
            maxLength={80}
            error={shown(surfaceFault(surfaceLeft))}
            onChange={(event) => setSurfaceLeft(event.target.value)}
          />
        </fieldset>
        <fieldset>
          <legend>Right, drive</legend>
          {place('supportRightMm', 'Crank centre to right support', 'Centre of the pin to where the shaft lies.')}
          {place('dialRightMm', 'Right support to dial', 'Outward; with a minus where it stands inboard.')}
          <TextField
            label="Right dial stands on"
            value={surfaceRight}
            maxLength={80}
            error={shown(surfaceFault(surfaceRight))}
            onChange={(event) => setSurfaceRight(event.target.value)}
          />
        </fieldset>
      </div>
      <SelectField
        label="Dials"
        hint={begun ? 'Another dial begins the set again: figures are keyed in its divisions.' : undefined}
        value={dialId}
        choices={dials.map((one) => ({ value: one.id, label: dialLabel(one) }))}
        {...(dials.length === 0 || known.instrumentId === undefined ? { nothing: `not in the book, ${figure(known.stepMm, 2)} mm` } : {})}
        onChange={(event) => setDialId(event.target.value)}
      />
      {dial?.overdue && <p className="wrong">Overdue for its check. A certificate cannot be signed on it.</p>}
      <Pick
        label="How many dials"
        value={howMany}
        onChange={setHowMany}
        options={[
          { value: 'two', label: 'two, both ends in one turn' },
          { value: 'one', label: 'one, end after end' },
        ]}
      />
      <Pick
        label="Read at"
        hint={begun ? 'Other marks begin the set again.' : undefined}
        value={readAt}
        onChange={setReadAt}
        options={(['four', 'eight', 'swing'] as const).map((value) => ({ value, label: READ_AT_WORDS[value] }))}
      />
      <Pick
        label="How your marks run, seen from the drive end"
        value={marksRun}
        onChange={setMarksRun}
        options={[
          { value: 'clockwise', label: 'clockwise' },
          { value: 'other-way', label: 'anticlockwise' },
        ]}
      />
      <Pick
        label="Is the crank at the temperature of the room?"
        value={cold}
        onChange={setCold}
        options={[
          { value: 'cold', label: 'yes, cold' },
          { value: 'warm', label: 'no, still warm' },
        ]}
      />
      <div className="set-up-degrees">
        <QuantityField
          label="Temperature of the crank, where it was taken"
          unit="°C"
          value={degrees}
          error={warmthFault}
          onChange={setDegrees}
        />
      </div>
      <Buttons>
        <Button type="submit" kind="go">
          It lies like this
        </Button>
        {onLeave !== undefined && <Button onClick={onLeave}>Leave it as it was</Button>}
      </Buttons>
    </Form>
  )
}

function dialLabel(one: Instrument): string {
  return `${one.name}, ${Number(one.stepMm.toFixed(5))} mm${one.overdue ? ', overdue for its check' : ''}`
}
