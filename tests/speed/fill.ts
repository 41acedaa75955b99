/**
 * Fills a migrated book with invented jobs, by whole sets of rows. The floor is the same in every book: the newest 60 jobs
 * are in the house, at every step and with every wait; the others went home over the years behind them.
 */
import type pg from 'pg'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { foldForFind } from '#core/find-text.ts'
import { PATHS } from '#core/steps.ts'
import { nextTagNumber, tagOf } from '#core/tag.ts'
import { DIAL_STEP_MM, figuresOf, SET_UP, SHEET, swings, turn, WIDTH } from './readings.ts'

export interface Filling {
  jobs: number
  years: number
  now: Date
  people: readonly { signIn: string; name: string }[]
  passwordHash: string
}

export const ON_THE_FLOOR = 60
export const ENGINES = 12
const SURNAMES = ['Hol', 'Bram', 'Kest', 'Wend', 'Thorn', 'Ash', 'Pell', 'Rud', 'Mar', 'Sel', 'Dun', 'Fair', 'Gris', 'Lang', 'Ock', 'Stan']
const MIDDLES = ['', 'er', 'ing', 'or', 'el', 'en', 'a', 'in']
const ENDINGS = [
  'lis',
  'ley',
  'worth',
  'ton',
  'by',
  'dale',
  'ford',
  'wick',
  'man',
  'ster',
  'more',
  'field',
  'combe',
  'grove',
  'hurst',
  'gate',
]
/** One row of a table in every so many jobs. */
const EVERY = { givenBack: 97, comeback: 50, followUp: 10, ownCrank: 4 } as const

/** An id of the n-th row of a kind, in the order in which they were written down. */
function idOf(kind: number, n: number): string {
  return `${kind.toString(16).padStart(8, '0')}-0000-7000-8000-${n.toString(16).padStart(12, '0')}`
}

const KIND = { person: 1, engine: 2, customer: 3, crank: 4, job: 5, kitModel: 6, kitLot: 7, instrument: 8 } as const

export const jobIdOf = (n: number) => idOf(KIND.job, n)
export const engineIdOf = (n: number) => idOf(KIND.engine, n)
export const instrumentId = idOf(KIND.instrument, 1)

/** The SQL of the same, over an expression; the second makes many rows of one. */
const id = (kind: number, n: string) => `('${kind.toString(16).padStart(8, '0')}-0000-7000-8000-' || lpad(to_hex(${n}), 12, '0'))::uuid`
const many = (kind: number, n: string, nth: string) => id(kind, `(${n})::bigint * 100 + ${nth}`)

/** One of 2,048 names. */
function surnameOf(n: number): string {
  const [start, middle, end] = [n, n / SURNAMES.length, n / (SURNAMES.length * MIDDLES.length)].map(Math.floor) as [number, number, number]
  return `${SURNAMES[start % SURNAMES.length]}${MIDDLES[middle % MIDDLES.length]}${ENDINGS[end % ENDINGS.length]}`
}
const engineNumberOf = (crank: number) => `R4-${200_000 + crank}`

/** Fills it as the role that migrates. */
export async function fill(client: pg.Client, filling: Filling): Promise<void> {
  await client.query('BEGIN')
  // Nobody else writes yet: what a set of rows would look up one by one is worked out once, after the last.
  if (filling.jobs > 5_000) await pauseTriggers(client)
  await people(client, filling)
  await sheets(client)
  await jobs(client, filling)
  for (const statement of livesOf()) await client.query(statement)
  await readings(client)
  await client.query(`UPDATE counter SET last = (SELECT max(number) FROM job) WHERE name = 'tag'`)
  await client.query(`UPDATE counter SET last = (SELECT count(*) FROM certificate) WHERE name = 'certificate'`)
  await client.query('INSERT INTO office_stale (job_id) SELECT id FROM job ON CONFLICT DO NOTHING')
  if (filling.jobs > 5_000) await resumeTriggers(client)
  await client.query('COMMIT')
  await client.query('VACUUM ANALYZE')
}

const MARKING = ['job', 'crank', 'measurement', 'clock_entry', 'job_step', 'kit_fitted', 'comeback', 'follow_up', 'quote', 'payment']
const markingOf = (table: string) =>
  table === 'job' ? 'office_job_changed' : table === 'crank' ? 'office_crank_changed' : 'office_part_changed'

async function pauseTriggers(client: pg.Client): Promise<void> {
  await client.query('SET LOCAL session_replication_role = replica')
  for (const table of MARKING) await client.query(`ALTER TABLE ${table} DISABLE TRIGGER ${markingOf(table)}`)
}

async function resumeTriggers(client: pg.Client): Promise<void> {
  for (const table of MARKING) await client.query(`ALTER TABLE ${table} ENABLE ALWAYS TRIGGER ${markingOf(table)}`)
  await client.query('SET LOCAL session_replication_role = origin')
}

async function people(client: pg.Client, { people, passwordHash }: Filling): Promise<void> {
  await client.query(
    `INSERT INTO person (id, sign_in, name, role, may_sign, password_hash)
     SELECT ${id(KIND.person, 'n')}, sign_in, name, 'owner', true, $3 FROM unnest($1::text[], $2::text[]) WITH ORDINALITY AS p (sign_in, name, n)`,
    [people.map((person) => person.signIn), people.map((person) => person.name), passwordHash],
  )
  await client.query(`INSERT INTO setting (key, value) VALUES ('shop', $1)`, [FIRST_SETTINGS])
}

async function sheets(client: pg.Client): Promise<void> {
  await client.query(`INSERT INTO engine (id, maker, code, cycle, surface_left, surface_right, find_text)
    SELECT ${id(KIND.engine, 'n')}, 'Ruskhammar', 'R' || 400 + n || '-4X', '4T', 'taper 1:5', 'plain 20 mm', 'ruskhammar r' || 400 + n || '4x'
    FROM generate_series(1, ${ENGINES}) n`)
  await client.query(
    `INSERT INTO engine_figure (engine_id, name, version, value, source) SELECT e.id, f.key, 1, f.value::numeric, 'invented'
     FROM engine e, jsonb_each_text($1) f`,
    [SHEET],
  )
  await client.query(
    `INSERT INTO instrument (id, name, kind, step_mm, due_on) VALUES (${id(KIND.instrument, '1')}, 'dial 3', 'dial', ${DIAL_STEP_MM}, '2099-01-01')`,
  )
  await client.query(`INSERT INTO kit_model (id, maker, part, engine_id) SELECT ${id(KIND.kitModel, 'n')}, 'Holt & Reeve', 'RK-' || n, ${id(KIND.engine, 'n')}
    FROM generate_series(1, ${ENGINES}) n`)
}

/** Everything else hangs on these rows; n is the running place of a job, not the number on its tag. */
async function jobs(client: pg.Client, { jobs: count, years, now }: Filling): Promise<void> {
  const numbers: number[] = []
  while (numbers.length < count) numbers.push(nextTagNumber(numbers.at(-1) ?? 0))
  const names = Array.from({ length: SURNAMES.length * MIDDLES.length * ENDINGS.length }, (_, n) => surnameOf(n))
  await client.query(
    `CREATE TEMP TABLE paths ON COMMIT DROP AS SELECT p.kind, s.step, s.place::int - 1 AS place, jsonb_array_length(p.steps) AS length
    FROM jsonb_each($1::jsonb) AS p (kind, steps), jsonb_array_elements_text(p.steps) WITH ORDINALITY AS s (step, place)`.replace(
      '$1',
      `'${JSON.stringify(PATHS)}'`,
    ),
  )
  await client.query('CREATE TEMP TABLE numbered (n int, number int, tag text, kind text) ON COMMIT DROP')
  await client.query(
    `INSERT INTO numbered SELECT n, number, tag, CASE WHEN n % 10 = 0 THEN 'true-only' ELSE 'rebuild' END
     FROM unnest($1::int[], $2::text[]) WITH ORDINALITY AS t (number, tag, n)`,
    [numbers, numbers.map((number) => tagOf(number))],
  )
  const customers = Math.ceil(count / 4)
  await client.query(
    `INSERT INTO customer (id, name, phone, mail, find_text) SELECT ${id(KIND.customer, 'n')}, initial || '. ' || surname, phone, 'c' || n || '@post.example',
       lower(initial || ' ' || surname) || coalesce(' ' || replace(phone, ' ', ''), '') || ' c' || n || 'postexample'
     FROM (SELECT n, chr(65 + n % 26) AS initial, ($1::text[])[1 + n % ${names.length}] AS surname,
       CASE WHEN n < 1000 THEN '0161 496 0' || lpad(n::text, 3, '0') END AS phone FROM generate_series(1, ${customers}) n) c`,
    [names],
  )
  // Every fourth job is of a crank that was here before.
  await client.query(`INSERT INTO crank (id, engine_id, customer_id, engine_number, find_text)
    SELECT ${id(KIND.crank, 'n')}, ${id(KIND.engine, `1 + n % ${ENGINES}`)}, ${id(KIND.customer, `1 + n % ${customers}`)}, 'R4-' || 200000 + n, 'r4' || 200000 + n
    FROM numbered WHERE n % ${EVERY.ownCrank} <> 0 OR n < ${EVERY.ownCrank + 1}`)
  const crank = `CASE WHEN n % ${EVERY.ownCrank} <> 0 OR n < ${EVERY.ownCrank + 1} THEN n ELSE n / ${2 * EVERY.ownCrank} * ${EVERY.ownCrank} + 1 END`
  await client.query(
    `CREATE TEMP TABLE lives ON COMMIT DROP AS SELECT n, number, tag, kind, crank, open, place, booked_at, 1 + n % 3 AS person,
       CASE WHEN open THEN (SELECT step FROM paths p WHERE p.kind = x.kind AND p.place = x.place)
         WHEN n % ${EVERY.givenBack} = 0 THEN 'given-back' ELSE 'gone' END AS state
     FROM (SELECT n, number, tag, kind, ${crank} AS crank, n > $1 AS open,
         CASE WHEN n > $1 THEN n % (CASE kind WHEN 'rebuild' THEN 7 ELSE 5 END) ELSE 99 END AS place,
         CASE WHEN n > $1 THEN $2::timestamptz - ($1 + ${ON_THE_FLOOR} - n) * interval '16 hours' - interval '1 hour'
           ELSE $2::timestamptz - interval '60 days' - ($1 - n)::float8 / $1 * ($3 * interval '365 days') END AS booked_at
       FROM numbered) x`,
    [count - ON_THE_FLOOR, now, years],
  )
  await client.query('CREATE UNIQUE INDEX ON lives (n)')
  await client.query('ANALYZE lives')
  await client.query(`INSERT INTO job (id, number, tag, kind, state, crank_id, customer_id, place, holder_id, promised_on, why_now, hours, hours_how, came_with,
      condition, booked_by_id, booked_at, gone_at)
    SELECT ${id(KIND.job, 'n')}, number, tag, kind, state, ${id(KIND.crank, 'crank')}, ${id(KIND.customer, `1 + crank % ${customers}`)},
      CASE WHEN open THEN 'rack ' || n % 9 END, CASE WHEN open AND n % 4 = 0 THEN ${id(KIND.person, '2')} END,
      CASE WHEN n % 6 <> 0 THEN (booked_at + interval '25 days')::date END, 'hours-up', 40 + n % 90, 'metered',
      '[{"what": "mains on"}, {"what": "keys", "count": 2}]', '["taper dented"]', ${id(KIND.person, 'person')}, booked_at,
      CASE WHEN state = 'gone' THEN booked_at + interval '14 days' END
    FROM lives`)
}

/** Where a step of the path was reached, of the job named l and the step named p. */
const REACHED_AT = `l.booked_at + p.place * interval '2 days' * (CASE WHEN l.open THEN 0.1 ELSE 1 END)`
const REACHED = `FROM lives l JOIN paths p ON p.kind = l.kind AND p.place <= l.place AND (l.state <> 'given-back' OR p.place < 3)`
/** Jobs that came at least to this step. */
const came = (step: string) =>
  `FROM lives l JOIN paths p ON p.kind = l.kind AND p.step = '${step}' AND p.place <= l.place AND l.state <> 'given-back'`
const job = id(KIND.job, 'l.n')
const person = id(KIND.person, 'l.person')

/** What befell the jobs, a table a statement. */
function livesOf(): string[] {
  return [
    `INSERT INTO job_step (id, job_id, step, person_id, at) SELECT ${many(20, 'l.n', 'p.place')}, ${job}, p.step, ${person}, ${REACHED_AT} ${REACHED}`,
    `INSERT INTO job_step (id, job_id, step, person_id, at) SELECT ${many(20, 'l.n', '50')}, ${job}, l.state, ${person}, l.booked_at + interval '9 days'
       FROM lives l WHERE l.state = 'given-back'`,
    `INSERT INTO job_event (id, job_id, kind, says, person_id, occurred_at, recorded_at)
       SELECT ${many(21, 'l.n', 'p.place')}, ${job}, CASE p.place WHEN 0 THEN 'booked' ELSE 'step' END, 'It is ' || p.step || ' now.', ${person}, ${REACHED_AT}, ${REACHED_AT}
       ${REACHED} ORDER BY l.n, p.place`,
    `INSERT INTO job_event (id, job_id, kind, says, data, person_id, occurred_at, recorded_at)
       SELECT ${many(21, 'l.n', '40')}, ${job}, 'told', 'They were told.', '{"told": "It is ready to go home.", "how": "by phone"}', ${person}, ${REACHED_AT}, ${REACHED_AT}
       ${came('signed')}`,
    `INSERT INTO job_wait (id, job_id, what, note, since, due_on) SELECT ${many(22, 'l.n', '0')}, ${job}, CASE l.place WHEN 1 THEN 'yes' ELSE 'kit' END, 'rod kit',
       l.booked_at, l.booked_at::date + 30 FROM lives l WHERE l.open AND l.place IN (1, 2)`,
    `INSERT INTO quote (id, job_id, version, total_minor, tax_minor, text, made_by_id, made_at, yes_by, yes_how, yes_at, yes_entered_by)
       SELECT ${many(23, 'l.n', '0')}, ${job}, 1, 42000 + l.n % 90 * 100, 7000 + l.n % 90 * 16, 'Rod kit, true, press.', ${person}, ${REACHED_AT},
         CASE WHEN l.place >= 2 THEN 'them' END, CASE WHEN l.place >= 2 THEN 'by phone' END, CASE WHEN l.place >= 2 THEN ${REACHED_AT} END,
         CASE WHEN l.place >= 2 THEN ${person} END ${came('measured')}`,
    `INSERT INTO payment (id, job_id, amount_minor, how, what, person_id, at) SELECT ${many(24, 'l.n', '0')}, ${job}, 10000, 'card', 'deposit', ${person}, l.booked_at
       FROM lives l WHERE l.n % 2 = 0 AND l.state <> 'given-back'`,
    `INSERT INTO payment (id, job_id, amount_minor, how, what, person_id, at)
       SELECT ${many(24, 'l.n', '1')}, ${job}, 42000 + l.n % 90 * 100 - CASE WHEN l.n % 2 = 0 THEN 10000 ELSE 0 END, 'card', 'payment', ${person}, ${REACHED_AT} ${came('gone')}`,
    `INSERT INTO kit_lot (id, kit_model_id, lot) SELECT ${id(KIND.kitLot, 'n')}, ${id(KIND.kitModel, `1 + n % ${ENGINES}`)}, 'L' || n
       FROM generate_series(0, (SELECT max(n) / 200 FROM lives)) n`,
    `INSERT INTO kit_fitted (id, job_id, kit_lot_id, whose, person_id, at) SELECT ${many(25, 'l.n', '0')}, ${job}, ${id(KIND.kitLot, 'l.n / 200')}, 'ours', ${person}, ${REACHED_AT}
       ${came('together')}`,
    `INSERT INTO pressing (id, job_id, crank_id, direction, side, peak_tonnes, lubricant, galling, person_id, occurred_at, recorded_at)
       SELECT ${many(26, 'l.n', 'x.nth')}, ${job}, ${id(KIND.crank, 'l.crank')}, x.direction, x.side, 9.5, 'oil', 'none', ${person}, ${REACHED_AT}, ${REACHED_AT}
       FROM (VALUES (0, 'apart', 'left'), (1, 'apart', 'right'), (2, 'together', 'left'), (3, 'together', 'right')) AS x (nth, direction, side), lives l
       JOIN paths p ON p.kind = l.kind AND p.step = 'together' AND p.place <= l.place AND l.state <> 'given-back'`,
    `INSERT INTO clock_entry (id, person_id, job_id, work, started_at, stopped_at, stopped_how) SELECT ${many(27, 'l.n', 'x.nth')}, ${person}, ${job}, x.work,
         ${REACHED_AT} - interval '9 hours' + x.nth * interval '2 hours', ${REACHED_AT} - interval '8 hours' + x.nth * interval '2 hours' + l.n % 40 * interval '1 minute', 'hand'
       FROM (VALUES (0, 'measuring'), (1, 'truing')) AS x (nth, work), lives l JOIN paths p ON p.kind = l.kind AND p.step = 'trued' AND p.place <= l.place AND l.state <> 'given-back'`,
    `INSERT INTO box (job_id, items, checked_by_id, checked_at) SELECT ${job}, '[{"what": "mains on", "came": 1, "back": 1}, {"what": "keys", "came": 2, "back": 2}]', ${person},
       ${REACHED_AT} ${came('gone')}`,
    `INSERT INTO certificate (id, number, job_id, data, seal_alg, seal_value, check_code, issued_by_id, issued_at)
       SELECT ${many(28, 'l.n', '0')}, row_number() OVER (ORDER BY l.n), ${job}, '{}', 'sha-256', md5(l.n::text), upper(substring(md5(l.n::text) FOR 8)), ${person}, ${REACHED_AT} ${came('signed')}`,
    `INSERT INTO comeback (id, job_id, day, how, hours, hours_how, cause, whose, person_id, recorded_at, looked_by_id, looked_at)
       SELECT ${many(29, 'l.n', '0')}, ${job}, (l.booked_at + interval '44 days')::date, 'told', 1 + l.n % 60, 'declared', 'lubrication', 'theirs', ${person},
         l.booked_at + interval '44 days', ${person}, l.booked_at + interval '44 days' ${came('gone')} WHERE l.n % ${EVERY.comeback} = 7`,
    `INSERT INTO follow_up (id, job_id, day, runs, hours, hours_how, person_id, recorded_at)
       SELECT ${many(30, 'l.n', '0')}, ${job}, (l.booked_at + interval '44 days')::date, true, 10 + l.n % 80, 'declared', ${person}, l.booked_at + interval '44 days' ${came('gone')}
       WHERE l.n % ${EVERY.followUp} = 3`,
    `SELECT count(audit_append(x.booked_at, x.person, 'book in', 'job', x.id::text, NULL, '{"after":{"tag":"' || x.tag || '"}}'))
       FROM (SELECT l.booked_at, ${person} AS person, ${job} AS id, l.tag FROM lives l ORDER BY l.n) x`,
  ]
}

/** Sets of readings of the jobs that came so far, out of a few that were worked out once. */
async function readings(client: pg.Client): Promise<void> {
  const sets = [0.01, 0.014, 0.03].flatMap((swingMm, nth) => [
    { nth, no: 0, kind: 'width', phase: 'received', after: 'measured', values: WIDTH },
    { nth, no: 1, kind: 'runout', phase: 'received', after: 'measured', values: swings(0.04 + swingMm, 0.05) },
    { nth, no: 2, kind: 'runout', phase: 'built', after: 'trued', values: turn(swingMm) },
    { nth, no: 3, kind: 'runout', phase: 'second', after: 'signed', values: swings(swingMm, 0.01) },
  ])
  const whole = sets.map((set) => (set.kind === 'runout' ? { ...set, setup: SET_UP, figures: figuresOf(set.values) } : set))
  await client.query(`CREATE TEMP TABLE sets ON COMMIT DROP AS SELECT * FROM jsonb_to_recordset('${JSON.stringify(whole)}')
    AS s (nth int, no int, kind text, phase text, after text, setup jsonb, figures jsonb, values jsonb)`)
  const taken = `FROM sets s JOIN lives l ON l.n % 3 = s.nth JOIN paths p ON p.kind = l.kind AND p.step = s.after AND p.place <= l.place AND l.state <> 'given-back'`
  await client.query(`INSERT INTO measurement (id, job_id, kind, phase, person_id, occurred_at, recorded_at, setup, instrument_id, figures)
    SELECT ${many(31, 'l.n', 's.no')}, ${job}, s.kind, s.phase, ${id(KIND.person, `1 + (l.person + CASE s.phase WHEN 'second' THEN 1 ELSE 0 END) % 3`)},
      ${REACHED_AT} - interval '1 hour', ${REACHED_AT} - interval '1 hour', s.setup, CASE WHEN s.kind = 'runout' THEN ${id(KIND.instrument, '1')} END, s.figures ${taken}`)
  await client.query(`INSERT INTO measurement_value (measurement_id, seq, place, at_deg, mm)
    SELECT ${many(31, 'l.n', 's.no')}, v.seq - 1, v.value->>'place', (v.value->>'atDeg')::numeric, (v.value->>'mm')::numeric
    ${taken.replace('JOIN lives', 'CROSS JOIN LATERAL jsonb_array_elements(s.values) WITH ORDINALITY AS v (value, seq) JOIN lives')}`)
}

/** What somebody would type to find things of this book. */
export function searches(jobs: number): string[] {
  return Array.from({ length: 40 }, (_, k) => {
    const n = 1 + Math.floor(((k + 0.5) / 40) * (jobs - 2))
    const crank = n % EVERY.ownCrank === 0 ? n + 1 : n
    const customer = 1 + (crank % Math.ceil(jobs / 4))
    return [
      engineNumberOf(crank),
      foldForFind(`${String.fromCharCode(65 + (customer % 26))} ${surnameOf(customer)}`),
      `c${customer}@post`,
      String(n),
    ][k % 4]!
  })
}
