import type { Role } from '#contract/people.ts'
import type { Caller } from '#server/plugins/act.ts'

export const DEMO_PASSWORD = 'throwbook-demo'

interface DemoPerson {
  id: string
  signIn: string
  name: string
  role: Role
  maySign: boolean
  hand?: Hand
}

const hana: DemoPerson = {
  id: '01930000-0000-7000-8000-000000000001',
  signIn: 'counter',
  name: 'Hana',
  role: 'counter',
  maySign: false,
}
const jonas: DemoPerson = {
  id: '01930000-0000-7000-8000-000000000002',
  signIn: 'bench',
  name: 'Jonas',
  role: 'bench',
  maySign: false,
  hand: 'jonas',
}
const marek: DemoPerson = {
  id: '01930000-0000-7000-8000-000000000003',
  signIn: 'bench2',
  name: 'Marek',
  role: 'bench',
  maySign: true,
  hand: 'marek',
}
const ewa: DemoPerson = {
  id: '01930000-0000-7000-8000-000000000004',
  signIn: 'owner',
  name: 'Ewa',
  role: 'owner',
  maySign: true,
  hand: 'ewa',
}

/** Invented persons of the demo shop. */
export const DEMO_PEOPLE: readonly DemoPerson[] = [hana, jonas, marek, ewa]

function callerOf({ id, name, role, maySign }: DemoPerson): Caller {
  return { id, name, role, maySign }
}

/** The same persons as they act: Hana at the counter, Jonas learning at the bench, Marek at the bench, Ewa who owns the shop. */
export const HANA = callerOf(hana)
export const EWA = callerOf(ewa)

export type Hand = 'jonas' | 'marek' | 'ewa'
/** Rebuilds that each has called true in their life, about, by today. */
export const BUILT_BY_TODAY: Readonly<Record<Hand, number>> = { jonas: 60, marek: 700, ewa: 300 }

export const HANDS: Readonly<Record<Hand, Caller>> = { jonas: callerOf(jonas), marek: callerOf(marek), ewa: EWA }
