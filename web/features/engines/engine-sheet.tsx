import '#web/features/engines/engines.css'
import { Fragment, useState } from 'react'
import { ENGINE_FIGURES, type Engine, type EngineFigure, type EngineFigureName } from '#contract/engines.ts'
import { FigureForm } from '#web/features/engines/figure-form.tsx'
import { FIGURE_GROUPS, SOURCE_WORDS, sheetFigure } from '#web/features/engines/words.ts'
import { dateIn, day, thou } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { Button } from '#web/ui/button.tsx'

/** Every figure of the sheet with where it comes from and how often it was corrected; what stood before folds out beneath it. */
export function EngineSheet({ sheet }: { sheet: Engine }) {
  const [at, setAt] = useState<EngineFigureName | undefined>(undefined)
  return (
    <section aria-label="Figures of the sheet">
      <p className="soft">All in mm. Every figure carries where it comes from; none is a fixed truth.</p>
      <table className="sheet-table">
        <caption className="spoken">Figures of the sheet, in mm</caption>
        <thead>
          <tr>
            <th scope="col">Figure</th>
            <th scope="col" className="n">
              mm
            </th>
            <th scope="col" className="n">
              thou
            </th>
            <th scope="col">Where it comes from</th>
            <th scope="col">Version</th>
            <th scope="col">
              <span className="spoken">What to do</span>
            </th>
          </tr>
        </thead>
        {FIGURE_GROUPS.map((group) => (
          <tbody key={group.title}>
            <tr>
              <th scope="rowgroup" colSpan={6}>
                {group.title}
              </th>
            </tr>
            {group.names.map((name) => (
              <FigureRows key={name} name={name} sheet={sheet} isOpen={at === name} onOpen={(open) => setAt(open ? name : undefined)} />
            ))}
          </tbody>
        ))}
      </table>
    </section>
  )
}

interface FigureRowsProps {
  name: EngineFigureName
  sheet: Engine
  isOpen: boolean
  onOpen(open: boolean): void
}

function FigureRows({ name, sheet, isOpen, onOpen }: FigureRowsProps) {
  const here = useHere()
  const today = dateIn(here.zone, Date.now())
  const stands = sheet.figures.find((one) => one.name === name)
  const earlier = (sheet.earlier ?? []).filter((one) => one.name === name)
  const { says } = ENGINE_FIGURES[name]
  const when = (one: EngineFigure) => `${one.by ?? 'somebody'}, ${day(dateIn(here.zone, one.at), today)}`
  return (
    <Fragment>
      <tr>
        <th scope="row">{says}</th>
        <td className="n fig">{stands === undefined ? '–' : sheetFigure(stands.value)}</td>
        <td className="n fig">{stands === undefined ? '' : thou(stands.value)}</td>
        <td>
          {stands === undefined ? (
            <span className="soft">not on the sheet yet</span>
          ) : (
            <>
              {SOURCE_WORDS[stands.source]}
              {stands.note !== undefined && stands.note !== '' && `: ${stands.note}`} <small>· {when(stands)}</small>
            </>
          )}
        </td>
        <td>{stands === undefined ? '' : stands.version}</td>
        <td className="sheet-act">
          <Button
            aria-expanded={isOpen}
            onClick={() => onOpen(!isOpen)}
            aria-label={`${stands === undefined ? 'Put in' : 'Correct'}: ${says}`}
          >
            {stands === undefined ? 'Put in' : 'Correct'}
          </Button>
        </td>
      </tr>
      {earlier.map((one) => (
        <tr key={one.version} className="sheet-earlier">
          <td>before</td>
          <td className="n fig">{sheetFigure(one.value)}</td>
          <td className="n fig">{thou(one.value)}</td>
          <td>
            {SOURCE_WORDS[one.source]}
            {one.note !== undefined && one.note !== '' && `: ${one.note}`} <small>· {when(one)}</small>
          </td>
          <td>{one.version}</td>
          <td />
        </tr>
      ))}
      {isOpen && (
        <tr className="sheet-form">
          <td colSpan={6}>
            <div className="fold-panel">
              <FigureForm sheet={sheet} name={name} onShut={() => onOpen(false)} />
            </div>
          </td>
        </tr>
      )}
    </Fragment>
  )
}
