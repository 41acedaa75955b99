import { test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { addEngine } from '#tests/support/factories.ts'

const it = await startApp()
test('speed', async () => {
  const counter = await it.as('counter')
  const ids: string[] = []
  for (let i = 0; i < 26; i++) ids.push((await addEngine(it)).id)
  await it.db.pool.query(`SET statement_timeout = 0`)
  const c = await it.db.pool.connect()
  await c.query('SET statement_timeout = 0')
  await c.query(`INSERT INTO customer (id, name, phone, find_text) SELECT gen_random_uuid(), n, p, lower(n) || ' ' || p FROM (SELECT 'Name' || substr(md5(i::text), 1, 7) || ' ' || substr(md5((i*7)::text), 1, 5) AS n, '0161' || (1000000 + i * 37) AS p FROM generate_series(1, 20000) i) x`)
  await c.query(`INSERT INTO crank (id, engine_id, customer_id, engine_number, find_text) SELECT gen_random_uuid(), ($1::uuid[])[1 + i % 26], (SELECT id FROM customer OFFSET i % 1 LIMIT 1), 'R' || i, 'r' || i FROM generate_series(1, 40000) i`, [ids])
  await c.query(`WITH cu AS (SELECT id, row_number() OVER () AS n FROM customer), k AS (SELECT id, row_number() OVER () AS n FROM crank) UPDATE crank SET customer_id = cu.id FROM k JOIN cu ON cu.n = 1 + k.n % 20000 WHERE crank.id = k.id`)
  await c.query(`INSERT INTO job (id, number, tag, kind, state, crank_id, customer_id, why_now, booked_by_id, booked_at, promised_on)
    SELECT gen_random_uuid(), 100000 + n, 'T' || n, 'rebuild', CASE WHEN n % 250 = 0 THEN 'booked' ELSE 'gone' END, id, customer_id, 'knock', $1, now(), '2026-12-01'::date + (n % 50)::int FROM (SELECT k.*, row_number() OVER () n FROM crank k CROSS JOIN generate_series(1,1)) x`, [counter.person.id])
  await c.query(`INSERT INTO job (id, number, tag, kind, state, crank_id, customer_id, why_now, booked_by_id, booked_at)
    SELECT gen_random_uuid(), 200000 + n, 'U' || n, 'rebuild', 'gone', id, customer_id, 'knock', $1, now() FROM (SELECT k.*, row_number() OVER () n FROM crank k LIMIT 10000) x`, [counter.person.id])
  await c.query(`INSERT INTO job_event (id, job_id, kind, says, occurred_at, recorded_at) SELECT gen_random_uuid(), id, 'booked', 'x', now(), now() FROM job`)
  await c.query(`INSERT INTO quote (id, job_id, version, total_minor, tax_minor, text, made_by_id, made_at, yes_by, yes_how, yes_at) SELECT gen_random_uuid(), id, 1, 20000, 0, 'x', $1, now(), 'a', 'by mail', now() FROM job`, [counter.person.id])
  await c.query(`INSERT INTO payment (id, job_id, amount_minor, how, person_id, at) SELECT gen_random_uuid(), id, 20000, 'cash', $1, now() FROM job`, [counter.person.id])
  await c.query('ANALYZE').catch(() => {})
  const some = (await c.query('SELECT id FROM job WHERE number = 100777')).rows[0].id
  const name = (await c.query('SELECT name FROM customer LIMIT 1 OFFSET 777')).rows[0].name
  c.release()
  const time = async (what: string, address: string) => {
    const t: number[] = []
    let rows = 0
    for (let i = 0; i < 20; i++) {
      const s = performance.now()
      const a = await counter.get(address)
      t.push(performance.now() - s)
      if (a.status !== 200) console.log(a.body)
      rows = a.body.rows?.length ?? 1
    }
    t.sort((x, y) => x - y)
    console.log(what, 'rows', rows, 'p50', t[10]!.toFixed(1), 'p95', t[18]!.toFixed(1), 'max', t[19]!.toFixed(1))
  }
  await time('house', '/api/jobs')
  await time('late', '/api/jobs?list=late')
  await time('bench', '/api/jobs?list=bench')
  await time('all', '/api/jobs?list=all')
  await time('gone', '/api/jobs?list=gone')
  await time('page', `/api/jobs/${some}`)
  await time('find name', `/api/find?q=${encodeURIComponent(name.slice(0, 9))}`)
  await time('find two', `/api/find?q=${encodeURIComponent(name.slice(4))}`)
  await time('find typo', `/api/find?q=${encodeURIComponent(name.slice(0, 6) + 'x' + name.slice(7))}`)
  await time('find phone', '/api/find?q=1028749')
  await time('find model', '/api/find?q=r4494x')
  await time('find short', '/api/find?q=na')
  await time('find tag', '/api/find?q=100777')
  await time('customers', '/api/customers')
  await time('customers q', '/api/customers?q=namea')
  await time('cranks', '/api/cranks?number=r77')
  await time('engines', '/api/engines')
}, 300_000)
