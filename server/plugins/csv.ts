/**
 * The one place that writes CSV (RFC 4180): a head of stable column names with their units, CRLF, UTF-8 with a byte order
 * mark for spreadsheets, and no cell that a spreadsheet would take for a formula.
 */
import { Readable } from 'node:stream'
import { stringify } from 'csv-stringify'
import type { FastifyReply } from 'fastify'

export type CsvCell = string | number | boolean | null | undefined

export interface CsvColumn<Row> {
  /** Stable name, the unit at its end where it has one, such as hours_h. */
  id: string
  cell: (row: Row) => CsvCell
}

/** comma: 1,2.5 — semicolon: 1;2,5, for spreadsheets that count with a decimal comma. */
export type CsvSeparator = 'comma' | 'semicolon'

const SIGNS = { comma: ',', semicolon: ';' } as const
/** A cell that begins with one of these is worked out by a spreadsheet instead of shown (OWASP ASVS 5.0, 1.2.10). */
const FORMULA: readonly string[] = ['=', '+', '-', '@', '\t', '\r', '\u0000']
/** A mark before the text that spreadsheets do not show; doubled where the text itself begins with it. */
const MARK = "'"

/**
 * A text that no spreadsheet takes for a formula.
 *
 * @example neutralised('=1+1') // "'=1+1"
 * @example neutralised('dial 3') // 'dial 3'
 */
export function neutralised(text: string): string {
  return FORMULA.includes(text.charAt(0)) || text.startsWith(MARK) ? `${MARK}${text}` : text
}

/** The text that was neutralised, for whoever reads such a file again. */
export function restored(cell: string): string {
  return cell.startsWith(MARK) ? cell.slice(MARK.length) : cell
}

function written(cell: CsvCell, separator: CsvSeparator): string {
  if (cell === null || cell === undefined) return ''
  if (typeof cell === 'boolean') return cell ? 'yes' : 'no'
  if (typeof cell === 'string') return neutralised(cell)
  // A number stays a number, below 0 too.
  return separator === 'comma' ? String(cell) : String(cell).replace('.', ',')
}

/** A table as a stream of CSV; rows are asked for as they are sent, so that no more than a few are held at once. */
export function csvStream<Row>(
  columns: readonly CsvColumn<Row>[],
  rows: Iterable<Row> | AsyncIterable<Row>,
  separator: CsvSeparator = 'comma',
): Readable {
  const lines = stringify({
    bom: true,
    delimiter: SIGNS[separator],
    record_delimiter: '\r\n',
    header: true,
    columns: columns.map(({ id }) => ({ key: id, header: id })),
    // A cell with either line break is quoted, whichever the file's own is.
    quoted_match: /[\r\n]/,
  })
  const cells = async function* () {
    for await (const row of rows) yield columns.map(({ cell }) => written(cell(row), separator))
  }
  const source = Readable.from(cells())
  source.on('error', (fault) => lines.destroy(fault))
  // Nobody reads on: what was asked for is not asked for any more.
  lines.on('close', () => source.destroy())
  return source.pipe(lines)
}

/** Answers a table as a file of this name. */
export function sendCsv<Row>(
  reply: FastifyReply,
  file: { name: string; separator?: CsvSeparator | undefined },
  columns: readonly CsvColumn<Row>[],
  rows: Iterable<Row> | AsyncIterable<Row>,
): FastifyReply {
  return reply
    .header('content-type', 'text/csv; charset=utf-8; header=present')
    .header('content-disposition', `attachment; filename="${file.name}.csv"`)
    .header('cache-control', 'no-store')
    .send(csvStream(columns, rows, file.separator))
}
