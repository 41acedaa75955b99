import { expect, test } from 'vitest'
import { mergedCustomer } from '#core/merged-customer.ts'

const hollis = { name: 'Hollis, A.', phone: '0161 496 0103', mail: null, address: null, note: 'rings late' }

test('an empty field of the one that stays is filled, what differs goes into its note, the same twice does not', () => {
  const gone = {
    name: 'Anna Hollis',
    phone: '0161 496 7777',
    mail: 'a@mail.example',
    address: 'Mill Lane 4\n Stockport',
    note: 'pays cash',
  }
  expect(mergedCustomer(hollis, gone)).toEqual({
    name: 'Hollis, A.',
    phone: '0161 496 0103',
    mail: 'a@mail.example',
    address: 'Mill Lane 4\n Stockport',
    note: 'rings late\nAlso known: as Anna Hollis; phone 0161 496 7777\npays cash',
  })
  const kept = { ...hollis, address: 'Mill Lane 4' }
  expect(mergedCustomer(kept, gone).note).toContain('address Mill Lane 4, Stockport')
})

test('two that say the same leave one as it was', () => {
  expect(mergedCustomer(hollis, { ...hollis, phone: ' 0161 496 0103' })).toEqual(hollis)
  expect(mergedCustomer({ ...hollis, note: null }, { ...hollis, note: null }).note).toBeNull()
  expect(mergedCustomer({ ...hollis, note: null }, hollis).note).toBe('rings late')
})
