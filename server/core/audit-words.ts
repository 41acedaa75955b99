/**
 * The words of the audit chain: what was done, to which kind of thing, and what its fields are called. An action or a
 * field that is not listed is said by its own name, so that a line is never left out.
 * Source: common practice, no source.
 */

/** Kinds of things that a person asks the history of, each with the names under which the chain keeps them. */
export const AUDIT_THINGS = {
  job: [
    'job',
    'box',
    'measurement',
    'truing_move',
    'pressing',
    'weld',
    'photo',
    'clock_entry',
    'certificate',
    'quote',
    'comeback',
    'follow_up',
  ],
  customer: ['customer'],
  crank: ['crank'],
  engine: ['engine'],
  kit: ['kit_model', 'kit_lot'],
  instrument: ['instrument', 'gauge_study'],
  person: ['person'],
  tablet: ['device'],
  settings: ['setting'],
  backup: ['proof'],
} as const
export type AuditThing = keyof typeof AUDIT_THINGS

export const AUDIT_THING_WORDS: Readonly<Record<AuditThing, string>> = {
  job: 'jobs',
  customer: 'customers',
  crank: 'cranks',
  engine: 'engine sheets',
  kit: 'kits',
  instrument: 'instruments',
  person: 'people',
  tablet: 'tablets',
  settings: 'settings',
  backup: 'backups',
}

/**
 * The kind of thing that a name of the chain belongs to; null for one that is not listed.
 *
 * @example auditThingOf('clock_entry') // 'job'
 */
export function auditThingOf(entity: string): AuditThing | null {
  const found = Object.entries(AUDIT_THINGS).find(([, names]) => names.some((name) => name === entity))
  return (found?.[0] as AuditThing | undefined) ?? null
}

/** What was done, as it follows the name of whoever did it. */
export const AUDIT_ACTION_WORDS: Readonly<Record<string, string>> = {
  'add customer': 'wrote a customer down',
  'add engine': 'made an engine sheet',
  'add instrument': 'added an instrument',
  'add kit': 'added a kit',
  'add person': 'added a person',
  'add photo': 'added a photo',
  'ask for a drill': 'asked for a drill of the backup',
  'begin wait': 'began a wait',
  'book in': 'booked a crank in',
  'change comeback': 'changed the report of a comeback',
  'change customer': 'changed a customer',
  'change engine': 'changed an engine sheet',
  'change instrument': 'changed an instrument',
  'change job': 'corrected what was booked',
  'change owner': 'booked a crank in for its new owner',
  'change own password': 'changed their own password',
  'change person': 'changed a person',
  'change settings': 'changed the settings',
  'check box': 'checked the box',
  'check instrument': 'checked an instrument',
  'close gauge study': 'gave a gauge study up',
  'comeback is here': 'booked a comeback in',
  'copy engine': 'copied an engine sheet',
  'correct certificate': 'made a corrected sheet',
  'correct figure': 'corrected a figure of an engine sheet',
  'correct hours': 'corrected hours',
  'drop instrument': 'dropped an instrument',
  'end job': 'ended a job',
  'end own sessions': 'ended their own other sessions',
  'end practice': 'put a practice crank down',
  'end session': 'ended a session',
  'end sessions': 'ended all sessions of a person',
  'end wait': 'ended a wait',
  'enrol tablet': 'enrolled a tablet',
  'enter yes': 'entered a yes',
  'first owner': 'became the first owner',
  'issue certificate': 'issued a sheet',
  'let pass': 'let something pass',
  'log move': 'logged a move at truing',
  'look at oil hole': 'looked at the oil hole',
  'tick parts between the webs': 'ticked the parts between the webs',
  'make quote': 'made a quote',
  'make secret address': 'made a secret address',
  'merge customers': 'made two customers one',
  'move crank': 'moved a crank in the house',
  'move job': 'moved a job to its right customer',
  'name kit': 'named the kit',
  press: 'pressed',
  'practise move': 'made a move on a practice crank',
  'reach step': 'reported a step',
  'read gauge study': 'took a reading of a gauge study',
  'record call': 'wrote a call down',
  'report comeback': 'reported a comeback',
  'set own PIN': 'set their own PIN',
  'start clock': 'started the clock',
  'start practice': 'took a practice crank',
  'start gauge study': 'started a gauge study',
  'step back': 'took a step back',
  'stop clock': 'stopped the clock',
  'stop clock at closing time': 'left the clock running until closing time',
  'strike call': 'struck out a call',
  'strike comeback': 'struck out a comeback',
  'strike gauge reading': 'struck out a reading of a gauge study',
  'strike out pressing': 'struck out a pressing',
  'strike out readings': 'struck out readings',
  'strike photo': 'struck out a photo',
  'take payment': 'took money',
  'take readings': 'took readings',
  'take tablet out': 'took a tablet out',
  'tell customer': 'told the customer',
  'void certificate': 'made a sheet void',
  weld: 'welded',
  'write note': 'wrote a line',
  'zero instrument': 'zeroed an instrument',
}

/**
 * What was done in words; an action that is not listed, by its own name.
 *
 * @example auditActionWords('step back') // 'took a step back'
 */
export function auditActionWords(action: string): string {
  return Object.hasOwn(AUDIT_ACTION_WORDS, action) ? AUDIT_ACTION_WORDS[action]! : action
}

/** Fields whose own name, taken apart into words, would not say what they are. */
const FIELD_WORDS: Readonly<Record<string, string>> = {
  also: 'what else was done',
  amountMinor: 'amount',
  atDeg: 'at',
  barred: 'barred from signing in',
  build: 'how it is put together',
  by: 'by whom',
  cameBy: 'how it came',
  closingTime: 'closing time',
  comebackOf: 'comeback of',
  conditionNote: 'damage in words',
  cranksBefore: 'rebuilds before joining',
  customerId: 'customer',
  crankId: 'crank',
  dialLeftMm: 'left dial from its support',
  dialRightMm: 'right dial from its support',
  done: 'what was done',
  dueOn: 'due',
  end: 'end',
  ended: 'out of use, or addresses ended',
  endsAt: 'ends',
  engineId: 'engine',
  engineNumber: 'engine number',
  feeYesBy: 'looking-over fee: yes by',
  feeYesHow: 'looking-over fee: how that yes came',
  fittingFourStroke: 'fitting, four-stroke',
  fittingTwoStroke: 'fitting, two-stroke',
  from: 'from',
  goesBy: 'how it goes back',
  hasPin: 'has a PIN',
  hearBy: 'wants to hear by',
  holderId: 'who has it',
  hoursHow: 'how the hours are known',
  houseLimitMm: 'house limit of runout',
  how: 'how',
  idleMinutes: 'session ends when idle for',
  kitFrom: 'whose kit',
  marksRun: 'how the marks run',
  maySign: 'may sign',
  notDone: 'what was not done',
  oldPartsBack: 'old parts back',
  peakTonnes: 'peak',
  pressedBefore: 'pressed before it came here',
  promiseText: 'promise text',
  promisedOn: 'promise',
  samePersonMayCheck: 'the builder may take the second reading',
  says: 'words',
  scrapFloorFactor: 'scrap floor of the fit',
  sha256: 'picture (SHA-256)',
  showUnit: 'unit on screens',
  signIn: 'name at sign-in',
  skippedLeftDeg: 'marks skipped at the left',
  skippedRightDeg: 'marks skipped at the right',
  stepMm: 'step of the scale',
  taxMinor: 'tax in it',
  taxPermille: 'tax in a quote',
  ticked: 'what is in',
  tellLate: 'what is told when late',
  tellReady: 'what is told when ready',
  tellYes: 'what is told to get a yes',
  temperatureC: 'temperature',
  totalMinor: 'total',
  usedFor: 'use',
  wantedOn: 'they want it by',
  whoFits: 'who fits it',
  whose: 'whose',
  whyNow: 'why now',
}

const UNITS = /(Mm|Minor|Deg|Tonnes|Permille|Id|C)$/

/**
 * What a field is called: from the list, else its own name taken apart into words, without the unit at its end.
 *
 * @example auditFieldWords('limitHouseLeftMm') // 'limit house left'
 */
export function auditFieldWords(name: string): string {
  if (Object.hasOwn(FIELD_WORDS, name)) return FIELD_WORDS[name]!
  const words = name
    .replace(UNITS, '')
    .replaceAll(/[_-]+/g, ' ')
    .replaceAll(/(?<=[a-z\d])(?=[A-Z])/g, ' ')
    .trim()
  return words === '' ? name : words.toLowerCase()
}
