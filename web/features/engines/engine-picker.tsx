import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { engineOffersQuery, engineQuery, useEngineNew } from '#web/features/engines/queries.ts'
import { CYCLE_WORDS, engineLine, engineName } from '#web/features/engines/words.ts'
import { inWords } from '#web/lib/problem.ts'
import { useSettled } from '#web/lib/use-settled.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { TextField } from '#web/ui/field.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'
import { SuggestField } from '#web/ui/suggest-field.tsx'

export interface EnginePickerProps {
  /** Id of the chosen sheet; empty while none is. */
  id: string
  typed: string
  error?: string | undefined
  onTyped(typed: string): void
  onPick(id: string, name: string): void
}

const REST_MS = 150

/** Which engine: the model sheets are offered while one types, each with its line of figures; a model that has none gets one here. */
export function EnginePicker({ id, typed, error, onTyped, onPick }: EnginePickerProps) {
  const [making, setMaking] = useState(false)
  const asked = useSettled(typed.trim(), REST_MS)
  const offers = useQuery(engineOffersQuery(id === '' ? asked : ''))
  const sheet = useQuery(engineQuery(id))
  const rows = id !== '' || typed.trim() === '' || asked === '' ? [] : (offers.data?.rows ?? [])
  const answered = asked === typed.trim() && asked !== '' && !offers.isFetching && offers.data !== undefined && id === ''
  const line = sheet.data === undefined || id === '' ? undefined : engineLine(rowOf(sheet.data))
  return (
    <>
      <SuggestField
        label="Engine"
        name="crank.engineId"
        value={typed}
        error={error}
        hint={line}
        onChange={onTyped}
        suggestions={rows.map((row) => ({
          id: row.id,
          says: (
            <>
              <b>{engineName(row)}</b> <small>{engineLine(row)}</small>
            </>
          ),
        }))}
        onPick={(picked) => {
          const row = rows.find((one) => one.id === picked)
          if (row !== undefined) onPick(row.id, engineName(row))
          setMaking(false)
        }}
      />
      {answered && rows.length === 0 && !making && (
        <p className="soft">
          No sheet fits “{typed.trim()}”.{' '}
          <button type="button" className="plain" onClick={() => setMaking(true)}>
            Make a sheet for it
          </button>
        </p>
      )}
      {making && id === '' && (
        <QuickSheet
          typed={typed}
          onMade={(madeId, name) => {
            setMaking(false)
            onPick(madeId, name)
          }}
          onLeave={() => setMaking(false)}
        />
      )}
    </>
  )
}

function rowOf(sheet: { cycle: '2T' | '4T'; figures: readonly { name: string; value: number }[] }): Parameters<typeof engineLine>[0] {
  const value = (name: string) => sheet.figures.find((one) => one.name === name)?.value
  const [least, most, stroke] = [value('widthMinMm'), value('widthMaxMm'), value('strokeMm')]
  return {
    cycle: sheet.cycle,
    ...(stroke === undefined ? {} : { strokeMm: stroke }),
    ...(least === undefined || most === undefined ? {} : { widthMm: (least + most) / 2 }),
  }
}

const NOT_LOOKED_AT = 'not looked at yet'

/** A sheet with its name only, made at the counter; the bench fills in the figures. */
function QuickSheet({ typed, onMade, onLeave }: { typed: string; onMade(id: string, name: string): void; onLeave(): void }) {
  const [first, ...rest] = typed.trim().split(/\s+/)
  const [maker, setMaker] = useState(first ?? '')
  const [code, setCode] = useState(rest.join(' '))
  const [cycle, setCycle] = useState<'2T' | '4T' | undefined>(undefined)
  const [tried, setTried] = useState(false)
  const making = useEngineNew()
  const make = () => {
    setTried(true)
    if (maker.trim() === '' || code.trim() === '' || cycle === undefined) return
    making.mutate(
      {
        maker: maker.trim(),
        code: code.trim(),
        cycle,
        surfaceLeft: NOT_LOOKED_AT,
        surfaceRight: NOT_LOOKED_AT,
        figures: [],
      },
      { onSuccess: (sheet) => onMade(sheet.id, engineName(sheet)) },
    )
  }
  // Stands inside the booking's form, so it has no form of its own.
  return (
    <div className="fold-panel">
      {making.isError && <ProblemSummary title="The sheet is not made.">{inWords(making.error)}</ProblemSummary>}
      <div className="fields">
        <TextField
          label="Maker"
          value={maker}
          error={tried && maker.trim() === '' ? 'The maker, or “not known”.' : undefined}
          onChange={(event) => setMaker(event.target.value)}
        />
        <TextField
          label="Model code"
          value={code}
          error={tried && code.trim() === '' ? 'The code, or what stands on the case.' : undefined}
          onChange={(event) => setCode(event.target.value)}
        />
      </div>
      <Pick
        label="Two-stroke or four-stroke"
        options={(['2T', '4T'] as const).map((value) => ({ value, label: CYCLE_WORDS[value] }))}
        value={cycle}
        error={tried && cycle === undefined ? 'Choose one; the oil and the fitting advice depend on it.' : undefined}
        onChange={setCycle}
      />
      <Buttons>
        <Button busy={making.isPending} onClick={make}>
          Make the sheet
        </Button>
        <Button onClick={onLeave}>Leave it</Button>
      </Buttons>
    </div>
  )
}
