import { Link } from 'react-router'
import { cranksHref } from '#web/features/office/search.ts'
import { counted } from '#web/lib/format.ts'

/** What every figure of the office carries, as the book answers it. */
export interface Figure {
  rule: string
  n: number
  cranks: string | null
  csv: string
}

export interface FigureFootProps {
  figure: Figure
  /** What the links are of, for those who hear them one by one: `late`. */
  of: string
  /** What is counted. */
  one?: string
}

/** Beneath a figure: how it is counted and from how many, the cranks behind it, and the same as CSV. */
export function FigureFoot({ figure, of, one = 'crank' }: FigureFootProps) {
  const many = counted(figure.n, one)
  return (
    <span className="figure-foot">
      {figure.rule}{' '}
      {figure.cranks === null || figure.n === 0 ? (
        <span className="whole">{many}</span>
      ) : (
        <Link className="whole" to={cranksHref(figure.cranks)}>
          {many}
          <span className="spoken">, {of}</span>
        </Link>
      )}{' '}
      <Csv address={figure.csv} of={of} />
    </span>
  )
}

export function Csv({ address, of, children = 'CSV' }: { address: string; of: string; children?: string }) {
  return (
    <a className="whole csv" href={address} download>
      {children}
      <span className="spoken">, {of}</span>
    </a>
  )
}
