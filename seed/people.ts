import type { Role } from '#contract/people.ts'

export const DEMO_PASSWORD = 'throwbook-demo'

/** Invented persons of the demo shop. */
export const DEMO_PEOPLE: { id: string; signIn: string; name: string; role: Role; maySign: boolean; cranksBefore: number }[] = [
  { id: '01930000-0000-7000-8000-000000000001', signIn: 'counter', name: 'Hana', role: 'counter', maySign: false, cranksBefore: 0 },
  { id: '01930000-0000-7000-8000-000000000002', signIn: 'bench', name: 'Jonas', role: 'bench', maySign: false, cranksBefore: 0 },
  { id: '01930000-0000-7000-8000-000000000003', signIn: 'bench2', name: 'Marek', role: 'bench', maySign: true, cranksBefore: 700 },
  { id: '01930000-0000-7000-8000-000000000004', signIn: 'owner', name: 'Ewa', role: 'owner', maySign: true, cranksBefore: 300 },
]
