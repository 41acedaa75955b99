import type { Role } from '#contract/people.ts'

/** The three places of the shop. */
export const PLACES = [
  { name: 'Counter', path: '/counter' },
  { name: 'Bench', path: '/bench' },
  { name: 'Office', path: '/office' },
] as const
export type PlaceName = (typeof PLACES)[number]['name']

const OPEN_TO = { counter: ['Counter'], bench: ['Bench'], owner: ['Counter', 'Bench', 'Office'] } as const satisfies Record<
  Role,
  readonly PlaceName[]
>

export function placesOf(role: Role): readonly PlaceName[] {
  return OPEN_TO[role]
}

/** Where a person starts after signing in. */
export function homeOf(role: Role): string {
  return role === 'counter' ? '/counter' : role === 'bench' ? '/bench' : '/office'
}
