import { dayInWords } from '#core/days-in-words.ts'
import { isEnd, type JobKind, type JobState, nextStep, type Step, type WaitingFor } from '#core/steps.ts'

/**
 * What the customer's page says of a crank, in sentences that the counter would say on the phone. No name, no address, and
 * no next step said as if it were reached. Dates YYYY-MM-DD; lengths mm; money already in words.
 * Source: common practice, no source.
 */
export interface CrankForCustomer {
  kind: JobKind
  state: JobState
  waiting: readonly { what: WaitingFor; note?: string | undefined; dueOn?: string | undefined }[]
  received?: {
    leftSwingMm?: number | undefined
    rightSwingMm?: number | undefined
    playMm?: number | undefined
    playLimitMm?: number | undefined
  }
  houseLimitMm?: number | undefined
  passes: readonly string[]
  agreed?: { total: string; onDay: string } | undefined
  asked?: { total: string; onDay: string } | undefined
  owes?: string | undefined
}

const HEADLINES: Record<Step, string> = {
  booked: 'Your crank is here. We measure it next.',
  measured: 'Your crank is measured. We need your yes before we go on.',
  agreed: 'You have said yes. Your crank is waiting for the bench.',
  apart: 'Your crank is apart.',
  together: 'Your crank is together again. Both shafts are trued next.',
  trued: 'Your crank is true. A second person measures it next.',
  signed: 'Your crank is measured twice and signed. It is ready to go home.',
  gone: 'Your crank has gone home.',
}

/**
 * Where the crank is, in one sentence.
 *
 * @example headlineOf({ kind: 'rebuild', state: 'apart', waiting: [], passes: [] }) // 'Your crank is apart.'
 */
export function headlineOf({ kind, state }: CrankForCustomer): string {
  if (state === 'given-back') return 'Your crank was given back as it came.'
  if (state === 'scrapped') return 'Your crank could not be saved. Ring us if we have not rung you.'
  if (kind === 'check-and-report' && state === 'measured') return 'Your crank is measured. A second person reads it again next.'
  if (kind !== 'rebuild' && state === 'agreed') return 'You have said yes. Your crank is on its way to the bench.'
  return HEADLINES[state]
}

/** What it waits for, a sentence each. */
export function waitingSentences({ waiting, asked }: CrankForCustomer): string[] {
  return waiting.map(({ what, note, dueOn }) => {
    const due = dueOn === undefined ? '' : `, due ${dayInWords(dueOn)}`
    if (what === 'kit') return `We wait for its rod kit${due}.`
    if (what === 'yes')
      return asked === undefined
        ? `We wait for your yes${due}.`
        : `We wait for your yes to ${asked.total}, asked on ${dayInWords(asked.onDay)}.`
    return `It is out of the house${note === undefined ? '' : ` (${note})`}${due}.`
  })
}

/** What we found when it came, and what the owner let pass. */
export function foundSentences({ received, houseLimitMm, passes, kind }: CrankForCustomer): string[] {
  const sentences: string[] = []
  const { leftSwingMm, rightSwingMm, playMm, playLimitMm } = received ?? {}
  if (playMm !== undefined)
    sentences.push(
      playLimitMm === undefined
        ? `The big end has ${mm(playMm)} mm of play.`
        : `The big end has ${mm(playMm)} mm of play where ${mm(playLimitMm)} is allowed.`,
    )
  if (leftSwingMm !== undefined && rightSwingMm !== undefined) {
    const goal = houseLimitMm === undefined || kind === 'check-and-report' ? '' : `; we send it home at ${mm(houseLimitMm)} or less`
    sentences.push(`The shafts swung ${mm(leftSwingMm)} and ${mm(rightSwingMm)} mm${goal}.`)
  }
  for (const pass of passes) sentences.push(`${pass} The owner let it pass, and your certificate will say so.`)
  return sentences
}

/** What was said yes to, and what is open. */
export function moneySentences({ agreed, owes, state, kind }: CrankForCustomer): string[] {
  const sentences = agreed === undefined ? [] : [`You said yes to ${agreed.total} with tax on ${dayInWords(agreed.onDay)}.`]
  const ready = !isEnd(state) && nextStep(kind, state) === 'gone'
  if (owes !== undefined && ready) sentences.push(`${owes} is to pay when it goes.`)
  return sentences
}

function mm(lengthMm: number): string {
  return lengthMm.toFixed(2)
}
