import type { OfficeCrank, OfficeCranks } from '#contract/office-cranks.ts'
import { CSV, id } from '#tests/web/office/sample-office.ts'

/** One crank of a list. */
export function listed(number: number, more: Partial<OfficeCrank> = {}): OfficeCrank {
  return {
    id: id(`c${number}`),
    tag: `${number}-B`,
    number,
    kind: 'rebuild',
    state: 'gone',
    engine: 'Ruskhammar R449-4X',
    whose: `Rider ${number}`,
    bookedOn: '2026-10-05',
    ...more,
  }
}

export function cranksPage(rows: OfficeCrank[], more: Partial<OfficeCranks> = {}): OfficeCranks {
  return {
    rows,
    next: null,
    figure: 'comebacks',
    rule: 'Rule of comebacks.',
    n: rows.length,
    csv: `${CSV}/cranks.csv?figure=comebacks`,
    from: '2025-11-24',
    to: '2026-11-29',
    title: 'Went home and came back',
    ...more,
  }
}
