/**
 * Who may use which route: the one table. The server enforces it, the tests walk it, and a route without a row keeps the
 * server from starting. `public` needs no sign-in.
 */
import type { Role } from './people.ts'

export type Access = 'public' | readonly Role[]

const ALL = ['counter', 'bench', 'owner'] as const
const COUNTER = ['counter', 'owner'] as const
const BENCH = ['bench', 'owner'] as const
const OWNER = ['owner'] as const

export const POLICY: Record<string, Access> = {
  'GET /api/health': 'public',
  'GET /api/ready': 'public',
  'GET /api/openapi.json': 'public',
  'GET /api/live': ALL,

  'GET /api/door': 'public',
  'GET /api/way-in': 'public',
  'POST /api/set-up': 'public',
  'POST /api/session': 'public',
  'POST /api/session/pin': 'public',
  'GET /api/session': ALL,
  'DELETE /api/session': ALL,
  'GET /api/devices': OWNER,
  'POST /api/devices': OWNER,
  'DELETE /api/devices/:id': OWNER,

  'GET /api/people': ALL,
  'POST /api/people': OWNER,
  'PATCH /api/people/:id': OWNER,
  'PUT /api/people/me/pin': ALL,
  'PUT /api/people/me/password': ALL,
  'GET /api/people/me/sessions': ALL,
  'POST /api/people/me/sessions/end': ALL,
  'POST /api/people/me/sessions/:session/end': ALL,
  'GET /api/people/:id/sessions': OWNER,
  'POST /api/people/:id/sessions/end': OWNER,
  'POST /api/people/:id/sessions/:session/end': OWNER,
  'GET /api/people/:id/learning': BENCH,

  'GET /api/settings': ALL,
  'PUT /api/settings': OWNER,

  'GET /api/proofs': OWNER,
  'POST /api/proofs': OWNER,

  'GET /api/audit': OWNER,
  'GET /api/audit/check': OWNER,

  'POST /api/sums/truing': ALL,
  'POST /api/sums/width': ALL,
  'POST /api/sums/fit': ALL,
  'POST /api/sums/learning': ALL,
  'POST /api/sums/doubt': ALL,
  'POST /api/sums/survival': ALL,
  'POST /api/sums/rate': ALL,
  'POST /api/sums/compare': ALL,
  'POST /api/sums/chart': ALL,
  'POST /api/sums/gauge': ALL,
  'POST /api/sums/odd-one-out': ALL,

  'GET /api/customers': COUNTER,
  'POST /api/customers': COUNTER,
  'GET /api/customers/:id': COUNTER,
  'PATCH /api/customers/:id': COUNTER,
  'POST /api/customers/:id/merge': OWNER,

  'GET /api/engines': ALL,
  'POST /api/engines': ALL,
  'GET /api/engines/:id': ALL,
  'PATCH /api/engines/:id': ALL,
  'POST /api/engines/:id/copies': ALL,
  'POST /api/engines/:id/figures': ALL,

  'GET /api/cranks': COUNTER,
  'GET /api/find': ALL,
  'GET /api/drafts/:form': COUNTER,
  'PUT /api/drafts/:form': COUNTER,
  'DELETE /api/drafts/:form': COUNTER,

  'GET /api/jobs': ALL,
  'POST /api/jobs': COUNTER,
  'GET /api/jobs/:id': ALL,
  'PATCH /api/jobs/:id': COUNTER,
  'POST /api/jobs/:id/customer': COUNTER,
  'GET /api/jobs/:id/events': ALL,
  'POST /api/jobs/:id/notes': ALL,
  'POST /api/jobs/:id/place': ALL,
  'POST /api/jobs/:id/waits': ALL,
  'POST /api/jobs/:id/waits/end': ALL,
  'POST /api/jobs/:id/told': COUNTER,
  'POST /api/jobs/:id/steps': ALL,
  'POST /api/jobs/:id/steps/back': OWNER,
  'POST /api/jobs/:id/end': COUNTER,
  'GET /api/jobs/:id/gate': ALL,
  'GET /api/jobs/:id/photos': ALL,
  'POST /api/jobs/:id/photos': ALL,
  'POST /api/photos/:id/strike': ALL,
  'GET /api/photos/:id': ALL,
  'POST /api/jobs/:id/quotes': COUNTER,
  'POST /api/jobs/:id/yes': COUNTER,
  'POST /api/jobs/:id/payments': COUNTER,
  'PUT /api/jobs/:id/box': COUNTER,
  'POST /api/jobs/:id/link': COUNTER,
  'GET /api/jobs/:id/receipt.pdf': COUNTER,
  'GET /api/jobs/:id/label.pdf': ALL,
  'GET /api/jobs/:id/bench-sheet.pdf': ALL,

  'POST /api/jobs/:id/comeback': COUNTER,
  'GET /api/jobs/:id/since-home': ALL,
  'PATCH /api/comebacks/:id': ALL,
  'POST /api/comebacks/:id/strike': COUNTER,
  'GET /api/comebacks': ALL,
  'GET /api/comebacks/:id': ALL,
  'GET /api/comebacks/:id/same-lot': ALL,
  'POST /api/jobs/:id/follow-ups': COUNTER,
  'POST /api/follow-ups/:id/strike': COUNTER,
  'GET /api/follow-ups/due': COUNTER,

  'GET /api/jobs/:id/measurements': ALL,
  'POST /api/jobs/:id/measurements': BENCH,
  'POST /api/measurements/:id/strike': BENCH,
  'POST /api/jobs/:id/pressings': BENCH,
  'POST /api/pressings/:id/strike': BENCH,
  'POST /api/jobs/:id/oil-hole': BENCH,
  'POST /api/jobs/:id/welds': BENCH,
  'POST /api/jobs/:id/moves': BENCH,
  'GET /api/jobs/:id/truing': BENCH,
  'GET /api/jobs/:id/check': BENCH,

  'GET /api/kits': ALL,
  'POST /api/kits': ALL,
  'POST /api/jobs/:id/kit': ALL,

  'GET /api/instruments': ALL,
  'POST /api/instruments': BENCH,
  'PATCH /api/instruments/:id': BENCH,

  'GET /api/clock': BENCH,
  'POST /api/clock/start': BENCH,
  'POST /api/clock/stop': BENCH,
  'GET /api/jobs/:id/hours': BENCH,
  'PATCH /api/hours/:id': BENCH,

  'GET /api/jobs/:id/certificate': ALL,
  'POST /api/jobs/:id/certificates': BENCH,
  'POST /api/certificates/:id/corrections': OWNER,
  'POST /api/certificates/:id/void': OWNER,
  'GET /api/certificates/:id/paper.pdf': ALL,

  'GET /api/office': OWNER,
  'GET /api/office/flow': OWNER,
  'GET /api/office/first-check': OWNER,
  'GET /api/office/comebacks': OWNER,
  'GET /api/office/running': OWNER,
  'GET /api/office/earning': OWNER,
  'GET /api/office/cranks': OWNER,
  'GET /api/office/cranks.csv': OWNER,
  'GET /api/office/late.csv': OWNER,
  'GET /api/office/promised.csv': OWNER,
  'GET /api/office/waiting.csv': OWNER,
  'GET /api/office/ready.csv': OWNER,
  'GET /api/office/instruments.csv': OWNER,
  'GET /api/office/flow.csv': OWNER,
  'GET /api/office/first-check.csv': OWNER,
  'GET /api/office/comebacks.csv': OWNER,
  'GET /api/office/running.csv': OWNER,
  'GET /api/office/earning.csv': OWNER,

  'GET /api/public/crank/:token': 'public',
  'GET /api/public/crank/:token/photos/:id': 'public',
  'POST /api/public/check': 'public',
}

export function mayUse(access: Access, role: Role | undefined): boolean {
  return access === 'public' || (role !== undefined && access.includes(role))
}
