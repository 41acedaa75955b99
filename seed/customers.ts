/** Invented customers of the demo shop. Phone numbers are of a range that no exchange gives out; mail goes nowhere (RFC 2606). */
import type { CustomerNew } from '#contract/customers.ts'
import type { Chance } from './chance.ts'
import { moreCustomers } from './more-customers.ts'

const CUSTOMERS_A_JOB = 0.35

const NAMES = {
  hollis: { name: 'Hollis, A.', mail: 'a.hollis@hollis.example', hearBy: 'mail', note: 'Wants mail, not calls.' },
  oduya: { name: 'Oduya, T.', phone: '030 23125 102' },
  petit: { name: 'Petit, J.', phone: '030 23125 103', mail: 'jpetit@post.example' },
  brandl: {
    name: 'Brandl Motors',
    phone: '089 99998 104',
    mail: 'workshop@brandl.example',
    hearBy: 'mail',
    note: 'Trade: sends five or six a year.',
  },
  walden: { name: 'Walden, M.', mail: 'mw@walden.example', address: 'Reed Path 9\n19999 Hollow Mere' },
  sorensen: { name: 'Sorensen, K.', phone: '040 66969 106', hearBy: 'text' },
  imai: { name: 'Imai, S.', phone: '069 90009 107', mail: 'imai@twostroke.example' },
  quillfen: {
    name: 'Quillfen Racing',
    phone: '0221 4710 108',
    mail: 'team@quillfen.example',
    note: 'Karts. Race on Sundays: wants it by Thursday.',
  },
  luczak: { name: 'Łuczakowicz, B.', phone: '030 23125 109' },
  orsi: { name: 'Őrsvári, Z.', mail: 'zorsvari@post.example', hearBy: 'mail' },
  weiss: {
    name: 'Weißgröber & Söhne',
    phone: '089 99998 111',
    address: 'Am Rußgraben 3\n89999 Großaltdorf',
    note: 'Farm machines; pays by transfer.',
  },
  nguyen: { name: 'Nguyễn Hà, T.', phone: '030 23125 112', hearBy: 'text' },
  dordevic: { name: 'Đorđanović, M.', phone: '069 90009 113' },
  celik: { name: 'Çelikörs, E.', phone: '0221 4710 114', mail: 'celikors@post.example' },
  ibarrola: { name: 'Ibarrúa, N.', mail: 'n.ibarrua@trial.example', address: 'Calle del Yunque 4\n31999 Valdetornos' },
  thorvald: { name: 'Þorvaldsdóttir, G.', mail: 'gth@post.example', hearBy: 'mail' },
  zizka: { name: 'Žižlavá, P.', phone: '040 66969 117' },
  simkus: { name: 'Šimkutė, R.', phone: '030 23125 118', mail: 'simkute@post.example' },
  achter: { name: 'Achterwold, V.', phone: '0221 4710 119', address: 'Sluiskade 20\n9999 ZZ Achterwold' },
  moreau: { name: 'Moreau-Lys, D.', mail: 'dml@post.example', hearBy: 'mail' },
  karim: { name: 'Karimnejad, F.', phone: '069 90009 121' },
  tamboura: { name: 'Tambouré, A.', phone: '030 23125 122', hearBy: 'text' },
  rauta: { name: 'Rautasuo, V.', mail: 'rautasuo@enduro.example', address: 'Kalliopolku 7\n99999 Rautasuo' },
  kessen: { name: 'Kessenbrink Landtechnik', phone: '089 99998 124', mail: 'werkstatt@kessenbrink.example' },
  twofields: {
    name: 'Two Fields Motocross Club',
    phone: '040 66969 125',
    mail: 'bench@twofields.example',
    note: 'Several riders; ask whose it is.',
  },
  haugs: { name: 'Haugsrøn, L.', mail: 'lh@post.example', hearBy: 'mail' },
  belland: { name: 'Bellandria, R.', phone: '0221 4710 127' },
  mwang: { name: 'Mwangasi, P.', phone: '030 23125 128', mail: 'mwangasi@post.example' },
  papad: { name: 'Papadelfos, G.', phone: '069 90009 129' },
  strzel: { name: 'Strzelbicki, Ł.', phone: '030 23125 130', hearBy: 'text' },
  szoke: { name: 'Szőkefalvy, Á.', mail: 'szokefalvy@post.example', hearBy: 'mail' },
  stoss: { name: 'Stößlinger, H.', phone: '089 99998 132', address: 'Mühlstraße 1\n89999 Stößling' },
  fairw: {
    name: 'Fairwater & Lund',
    phone: '040 66969 133',
    mail: 'lund@fairwater.example',
    note: 'Vintage; never in a hurry, reads every figure.',
  },
  abern: { name: 'Aberneth, J.', phone: '0221 4710 134' },
} as const satisfies Record<string, Omit<CustomerNew, 'id'>>

/** Those with a name of their own in the stories, and by number the others. */
export type CustomerKey = keyof typeof NAMES | `more ${number}`
export type Customers = ReadonlyMap<CustomerKey, CustomerNew & { id: string }>

/** Everybody who ever brings a crank; how many more than those by name goes with how many cranks there are. */
export function customersOf(jobs: number, chance: Chance, newId: () => string): Customers {
  const more = moreCustomers(Math.round(jobs * CUSTOMERS_A_JOB), chance)
  const all = [...Object.entries<Omit<CustomerNew, 'id'>>(NAMES), ...more] as [CustomerKey, Omit<CustomerNew, 'id'>][]
  return new Map(all.map(([key, customer]) => [key, { ...customer, id: newId() }]))
}
