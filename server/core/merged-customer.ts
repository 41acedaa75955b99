/** Ways to reach somebody and what is remembered about them, as the book holds them. */
export interface CustomerFacts {
  name: string
  phone: string | null
  mail: string | null
  address: string | null
  note: string | null
}

/**
 * What becomes of two entries that are one customer: the one that stays keeps its own; where it has no phone, mail or
 * address it takes the other's; what differs goes into its note, so that nothing known about them is lost.
 *
 * Refuses nothing. Source: common practice, no source.
 *
 * @example mergedCustomer({ name: 'Hollis', phone: '1', mail: null, address: null, note: null }, { name: 'Hollis', phone: '2', mail: 'h@mail.example', address: null, note: null }) // { name: 'Hollis', phone: '1', mail: 'h@mail.example', address: null, note: 'Also known: phone 2' }
 */
export function mergedCustomer(stays: CustomerFacts, gone: CustomerFacts): CustomerFacts {
  const facts = [
    other(stays.name, gone.name, 'as'),
    other(stays.phone, gone.phone, 'phone'),
    other(stays.mail, gone.mail, 'mail'),
    other(stays.address, gone.address, 'address'),
  ].filter((fact) => fact !== null)
  const lines = [stays.note, facts.length === 0 ? null : `Also known: ${facts.join('; ')}`, gone.note === stays.note ? null : gone.note]
  const note = lines.filter((line) => line !== null && line.trim() !== '').join('\n')
  return {
    name: stays.name,
    phone: stays.phone ?? gone.phone,
    mail: stays.mail ?? gone.mail,
    address: stays.address ?? gone.address,
    note: note === '' ? null : note,
  }
}

function other(kept: string | null, given: string | null, word: string): string | null {
  if (kept === null || given === null || kept.trim() === given.trim()) return null
  return `${word} ${given.trim().replaceAll(/\s*\n\s*/g, ', ')}`
}
