import { describe, expect, test } from 'vitest'
import { ROLES } from '#contract/people.ts'
import { mayUse, POLICY } from '#contract/policy.ts'
import { startApp } from '#tests/support/app.ts'

const it = await startApp()
const counter = await it.as('counter')
// A bench hand who may sign: the walk asks what a role may do, and signing asks a mark of the person beside it.
const bench = await it.as('bench', { maySign: true })
const owner = await it.as('owner')
const barred = await it.as('owner', { name: 'barred' })
await it.db.prisma.person.update({ where: { id: barred.person.id }, data: { barredAt: it.clock.now } })

/** Every route as the server itself lists it. */
const routes = Object.entries(
  ((await owner.get('/api/openapi.json')).body as { paths: Record<string, Record<string, object>> }).paths,
).flatMap(([path, methods]) =>
  Object.keys(methods).map((method) => ({
    method: method.toUpperCase(),
    path,
    row: `${method.toUpperCase()} ${path.replaceAll(/\{(\w+)\}/g, ':$1')}`,
  })),
)

const ABSENT = '00000000-0000-7000-8000-000000000000'

const callers = [
  { who: 'nobody', role: undefined, agent: it.nobody() },
  { who: 'counter', role: 'counter', agent: counter },
  { who: 'bench', role: 'bench', agent: bench },
  { who: 'owner', role: 'owner', agent: owner },
  { who: 'barred', role: undefined, agent: barred },
] as const

describe('policy table', () => {
  test('has a row for every route and a route for every row', () => {
    expect(routes.map((route) => route.row).sort()).toEqual(Object.keys(POLICY).sort())
    expect(Object.values(POLICY).every((access) => access === 'public' || access.every((role) => ROLES.includes(role)))).toBe(true)
  })

  // Signing out for real would end the caller's session in the middle of the walk; the live stream never ends by itself
  // (tests/server/live walks its callers).
  const walked = routes.filter((route) => !['DELETE /api/session', 'GET /api/live'].includes(route.row))
  test.each(walked)('$row lets in whom the table names, and nobody else', async ({ method, path, row }) => {
    const access = POLICY[row]!
    for (const { who, role, agent } of callers) {
      it.clock.pass(1)
      // A learning line, and practice, are read by their own person.
      const id = /:id\/(learning|practice)$/.test(row) ? agent.person.id : ABSENT
      const address = path.replaceAll(/\{\w+\}/g, id || ABSENT)
      const answer = await request(agent, method, address)
      const refused = answer.status === 401 || answer.status === 403
      const wrongPassword = answer.body?.type === '/problems/wrong-sign-in'
      if (mayUse(access, role))
        expect(refused && !wrongPassword, `${who} ${row} → ${answer.status} ${JSON.stringify(answer.body)}`).toBe(false)
      else expect(answer.status, `${who} ${row}`).toBe(role === undefined ? 401 : 403)
      if (answer.status >= 400) expect(answer.headers['content-type']).toContain('application/problem+json')
    }
  })
})

function request(agent: (typeof callers)[number]['agent'], method: string, address: string) {
  switch (method) {
    case 'POST':
      return agent.post(address, {})
    case 'PUT':
      return agent.put(address, {}, 1)
    case 'PATCH':
      return agent.patch(address, {}, 1)
    case 'DELETE':
      return agent.delete(address, 1)
    default:
      return agent.get(address)
  }
}
