import '#web/features/learning/learning.css'
import { Link } from 'react-router'
import type { Person } from '#contract/people.ts'
import { Empty } from '#web/ui/states.tsx'

/** The hands whose cranks make a line: those of the bench, and an owner who builds. */
export function PeopleLines({ people }: { people: readonly Pick<Person, 'id' | 'name' | 'role' | 'barred'>[] }) {
  const hands = people.filter((person) => person.role !== 'counter' && !person.barred)
  if (hands.length === 0) return <Empty>Nobody works at the bench yet.</Empty>
  return (
    <ul className="places">
      {hands.map((person) => (
        <li key={person.id}>
          <Link className="stand-alone" to={`/office/learning/${person.id}`}>
            {person.name}, learning line
          </Link>
        </li>
      ))}
    </ul>
  )
}
