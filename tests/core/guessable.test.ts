import { expect, test } from 'vitest'
import { guessable } from '#core/guessable.ts'

const HANA = { shop: 'Kettle Row Crank Works', name: 'Hana', signIn: 'hana.b' }

// OWASP ASVS 5.0 (2025) 6.2.4, 6.2.11: frequent passwords and words of the place are refused; nothing else is asked of them.
test.each([
  ['Password1234', 'list'],
  ['iloveyou 123', 'list'],
  ['p@ssw0rd123', 'list'],
  ['aaaaaaaaaaaa', 'over and over'],
  ['ababababab', 'over and over'],
  ['..........', 'over and over'],
  ['1234567890', 'Keys in a row'],
  ['0987654321', 'Keys in a row'],
  ['qwertyuiop', 'Keys in a row'],
  ['QWERTZUIOP', 'Keys in a row'],
  ['abcdefghijkl', 'Keys in a row'],
  ['kettle-row crank works', 'shop’s name'],
  ['KettleRowCrankWorks2026', 'shop’s name'],
  ['hanahanahana', 'shop’s name'],
  ['hana.b1234567', 'shop’s name'],
])('%s is guessed at once', (password, why) => {
  expect(guessable(password, HANA)).toContain(why)
})

test.each(['three plain words', 'kettle row at noon', 'throwbook-demo', 'пароль из слов', '🔧🔨🗜️🪛⛏️🪚🧰⚙️🔩🪝', 'hana rides a 125'])(
  '%s is taken',
  (password) => {
    expect(guessable(password, HANA)).toBeNull()
  },
)

test('a shop without a name asks nothing by it', () => {
  expect(guessable('2026202620262', { shop: '', name: '', signIn: '' })).toBeNull()
})
