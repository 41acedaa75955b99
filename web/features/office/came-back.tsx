import type { ReactNode } from 'react'
import { Link } from 'react-router'
import type { OfficeComebacks } from '#contract/office-came-back.ts'
import type { ComebackKey } from '#core/office-rules.ts'
import { Csv } from '#web/features/office/figure-foot.tsx'
import { type FigureRow, FigureTable } from '#web/features/office/figure-table.tsx'
import { linkedCount } from '#web/features/office/linked-count.tsx'
import { cranksHref } from '#web/features/office/search.ts'
import { betweenWords, chanceWords, noneGoneWords, perHundred } from '#web/features/office/words.ts'
import { More } from '#web/ui/more.tsx'
import { Over } from '#web/ui/notice.tsx'
import { Empty } from '#web/ui/states.tsx'

type Row = OfficeComebacks['rows'][number]
type Counts = Pick<OfficeComebacks['all'], 'n' | 'back' | 'perHundred' | 'wilson'> & Partial<Pick<Row, 'cranks' | 'cranksBack'>>

const BY_WORDS: Readonly<Record<ComebackKey, string>> = { lot: 'lots', engine: 'engines', person: 'persons', cause: 'causes' }

/** What the rows may be by, in the order in which it is asked: the lot first. */
export const BY_OPTIONS = (['lot', 'engine', 'person', 'cause'] as const).map((value) => ({ value, label: BY_WORDS[value] }))

export interface CameBackProps {
  cameBack: OfficeComebacks
  /** At most so many rows beneath All; absent: all that the book gave. */
  most?: number
  /** Shows more of them; absent where the page of its own has the rest. */
  more?: () => void
  /** Whether days or months are named, so that none may be meant for these only. */
  narrowed: boolean
  /** Beside the name of a lot: the way to its curve. */
  beside?: (row: Row) => ReactNode
}

/** Of the cranks that went home, those that came back: all, and by what was chosen, each with its interval. */
export function CameBack({ cameBack, most, more, narrowed, beside }: CameBackProps) {
  const { all, by, rows, left, lotRule } = cameBack
  const none = noneGoneWords(cameBack, narrowed)
  if (none !== undefined) return <Empty>{none}</Empty>
  const shown = most === undefined ? rows : rows.slice(0, most)
  const unseen = rows.length - shown.length + left
  const named = shown.find((row) => row.lot?.notChance)
  return (
    <>
      <FigureTable
        caption={`What came back, by ${by}`}
        heads={['', 'cranks', 'back', 'per hundred, 19 in 20 between']}
        rows={[
          rowOf('all', 'All', all),
          ...shown.flatMap((row) => [
            rowOf(row.key ?? 'none', nameOf(row, beside), row),
            ...(row === named && row.lot !== undefined ? [rowOf('others', `All kits but ${row.name}`, row.lot.others)] : []),
          ]),
        ]}
      />
      {more !== undefined && rows.length > 0 && (
        <More shown={shown.length} total={rows.length + left} more={shown.length < rows.length} busy={false} onMore={more} />
      )}
      {more === undefined && unseen > 0 && <p className="soft">And {unseen} more.</p>}
      <p className="figure-foot">
        {cameBack.rule} {all.young} of the {all.n} went home less than 12 months ago.{lotRule === undefined ? '' : ` ${lotRule}`}{' '}
        {lotRule !== undefined && cameBack.lotsLookedAt !== undefined && `Lots looked at: ${cameBack.lotsLookedAt}. `}
        {all.cranks !== null && (
          <Link className="whole" to={cranksHref(all.cranks)}>
            the {all.n} cranks
          </Link>
        )}{' '}
        <Csv address={cameBack.csv} of="what came back" />
      </p>
    </>
  )
}

function nameOf(row: Row, beside: CameBackProps['beside']): ReactNode {
  return beside === undefined ? (
    row.name
  ) : (
    <>
      {row.name} {beside(row)}
    </>
  )
}

function rowOf(key: string, name: ReactNode, counts: Counts): FigureRow {
  const { n, back, perHundred: rate, wilson, cranks, cranksBack } = counts
  return {
    key,
    cells: [
      name,
      linkedCount(n, cranks),
      linkedCount(back, cranksBack),
      rate === undefined || wilson === undefined ? (
        '–'
      ) : (
        <>
          {perHundred(rate)} <small className="whole">{betweenWords(wilson)}</small>
        </>
      ),
    ],
  }
}

/** The lots that are not chance, each in a line, with who has its cranks; nothing where none stands out. */
export function LotsNotChance({ cameBack }: { cameBack: OfficeComebacks }) {
  const lots = cameBack.rows.flatMap((row) => (row.lot?.notChance ? [{ row, lot: row.lot }] : []))
  return lots.map(({ row, lot }) => (
    <p key={row.key} className="not-chance">
      <Over>{row.name} is not chance</Over> ({chanceWords(lot.p)} by chance). {lot.stillOut === 0 ? 'None' : lot.stillOut} of its cranks{' '}
      {lot.stillOut === 1 ? 'is' : 'are'} still out. {lot.stillOut > 0 && <Link to={cranksHref(lot.cranksStillOut)}>Who has them</Link>}
    </p>
  ))
}
