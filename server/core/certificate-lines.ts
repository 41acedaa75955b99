import { type AgainSet, type CertificateData, type CertificateStanding, type Figured, wasRead } from '#core/certificate.ts'
import { DASH, figureText } from '#core/certificate-figures.ts'
import { aloneWords, fitText, type NamedFact, pressedWords, throwFacts } from '#core/certificate-throws.ts'
import { worthInWords } from '#core/certificate-words.ts'
import { dayBeside, dayInWords } from '#core/days-in-words.ts'

const ORDINALS = ['', 'first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth', 'ninth', 'tenth']

/**
 * The facts beside the figures: which crank, its hours, how often its webs were pressed, the kit, the fit, the press and
 * what else was done. A fact that does not belong to the job is left out.
 *
 * @example certificateFacts(data)[1] // { name: 'Hours', says: '61 h, read off the meter' }
 */
export function certificateFacts(data: CertificateData): NamedFact[] {
  const { crank, hours, kit, fit, also } = data
  // A mark is one word, though it has a gap in it: "318-V L".
  const mark = (text: string) => text.replaceAll(' ', '\u00a0')
  const marks = crank.webMarks ? `, webs marked ${mark(crank.webMarks.left)} and ${mark(crank.webMarks.right)}` : ''
  const number = crank.engineNumber ? `, number ${crank.engineNumber}` : ''
  const facts: NamedFact[] = [
    {
      name: 'Crank',
      says: `${crank.maker} ${crank.code}${number}, tag ${crank.tag}${marks}, ${crank.welded ? 'pin welded' : 'not welded'}`,
    },
    {
      name: 'Hours',
      says:
        hours.how === 'unknown' ? 'not known' : `${hours.value} h, ${hours.how === 'metered' ? 'read off the meter' : 'as the owner said'}`,
    },
  ]
  if (data.pressings) facts.push({ name: 'Pressings', says: pressingsWords(data.pressings) })
  facts.push({
    name: 'Rod kit',
    says: kit
      ? `${kit.maker ? `${kit.maker} ` : ''}${kit.model}, lot ${kit.lot}, ${kit.from === 'ours' ? 'ours' : 'the customer’s own'}`
      : 'none fitted on this job',
  })
  facts.push(...throwFacts(data))
  if (fit) facts.push({ name: 'Fit of the pin', says: `${fitText(fit.left)} left, ${fitText(fit.right)} right` })
  const pressed = pressedWords(data.pressing)
  if (pressed) facts.push({ name: 'Pressed on', says: pressed })
  if (also.length > 0) facts.push({ name: 'Also', says: also.join('; ') })
  return facts
}

function pressingsWords(pressings: { left?: number; right?: number }): string {
  const { left, right } = pressings
  if (left !== undefined && left === right) return `this was the ${ordinal(left)} of both webs`
  const each = [
    left === undefined ? undefined : `the ${ordinal(left)} of the left web`,
    right === undefined ? undefined : `the ${ordinal(right)} of the right`,
  ]
  return `this was ${each.filter((one) => one !== undefined).join(', ')}`
}

function ordinal(count: number): string {
  return ORDINALS[count] ?? `${count}th`
}

/**
 * Who read again, how it came out, with what, and what was not done; sentences under the table.
 *
 * @example certificateNotes(data)[0] // 'Read again cold at 20.5 °C by a second person: left 0.011, right 0.015.'
 */
export function certificateNotes(data: CertificateData): string[] {
  const notes: string[] = [...worthInWords(data), ...aloneWords(data)]
  if (data.again) notes.push(againWords('Read again', data.again))
  if (data.third) notes.push(againWords('A third set was read', data.third))
  if (data.setup.temperatureC !== undefined) notes.push(`The crank was at ${degrees(data.setup.temperatureC)}.`)
  if (data.instruments.length > 0) notes.push(`${data.instruments.map((one) => instrumentWords(one, data.issuedOn)).join(', ')}.`)
  for (const one of data.notRead) notes.push(`Not read: ${one.what}, because ${one.why}.`)
  if (data.notDone.length > 0) notes.push(`Not done: ${data.notDone.join(', ')}.`)
  notes.push('Figures can change in the post and in fitting.')
  return notes
}

function againWords(did: string, set: AgainSet): string {
  const who = set.samePerson ? 'by the same person from a fresh set-up' : 'by a second person'
  const warmth = `${set.cold ? ' cold' : ''}${set.temperatureC === undefined ? '' : ` at ${degrees(set.temperatureC)}`}`
  const figure = (figured: Figured) =>
    wasRead(figured) ? figureText(figured, 'mm', 'low') : `${DASH} (not read, because ${figured.notRead})`
  return `${did}${warmth} ${who}: left ${figure(set.left)}, right ${figure(set.right)}.`
}

function degrees(celsius: number): string {
  return `${Math.round(celsius * 10) / 10} °C`
}

function instrumentWords(one: CertificateData['instruments'][number], issuedOn: string): string {
  const checked = one.checkedOn === null ? 'never checked' : `checked ${dayBeside(one.checkedOn, issuedOn)}`
  return `${one.name} ${checked}${one.overdue ? ', overdue that day' : ''}`
}

/** Who did it, each by their own sign-in. @example certificatePeople(data)[0] // 'Built by M. Kovac, 2 December 14:10, own sign-in' */
export function certificatePeople(data: CertificateData): string[] {
  const stamp = (did: string, one: { by: string; onDay: string; at: string }) =>
    `${did} by ${one.by}, ${dayBeside(one.onDay, data.issuedOn)} ${one.at}, own sign-in`
  return [
    ...data.built.map((one) => stamp('Built', one)),
    ...(data.again ? [stamp('Read again', data.again)] : []),
    ...(data.third ? [stamp('Third set read', data.third)] : []),
    stamp('Signed', data.signed),
  ]
}

/** What befell the sheet, and what it replaces, said at its head; nothing for an ordinary one. */
export function standingLines(data: CertificateData, standing: CertificateStanding): string[] {
  const lines: string[] = []
  if (standing.void) lines.push(`Void since ${dayInWords(standing.void.onDay)}: ${standing.void.reason}`)
  if (standing.replacedBy)
    lines.push(`Replaced by No. ${standing.replacedBy.number} on ${dayInWords(standing.replacedBy.onDay)}. Do not go by this sheet.`)
  if (data.replaces) lines.push(`Replaces No. ${data.replaces.number}: ${data.replaces.reason}`)
  return lines
}
