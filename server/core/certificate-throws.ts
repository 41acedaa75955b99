/** What a certificate says of a crank with several throws, in words: how it is made up, and each of its joints. */
import { type CertificateData, type Figured, type SealedJoint, wasRead } from '#core/certificate.ts'
import { DASH, figureText } from '#core/certificate-figures.ts'

/** One named fact about the crank, as it stands beside its word. */
export interface NamedFact {
  name: string
  says: string
}

/**
 * How a crank with several throws is made up, and of each joint its marks, its kit, its fit and its press; nothing of a
 * crank with one throw.
 *
 * Source: common practice, no source.
 */
export function throwFacts({ build, throws = [], centres = [] }: CertificateData): NamedFact[] {
  if (build === undefined) return []
  const angles = build.phaseDeg.map((angle) => `${degreesText(angle)}°`)
  const middle = build.centre === 'pressed' ? 'the middle pressed' : 'the middle of one piece'
  const between = build.trapped.length === 0 ? '' : `; between the webs ${build.trapped.join(', ')}`
  return [
    { name: 'Throws', says: `${build.phaseDeg.length}, at ${wordList(angles)}, ${middle}${between}` },
    ...[...throws, ...centres].flatMap((joint) => {
      const says = jointSays(joint)
      return says === '' ? [] : [{ name: joint.name, says }]
    }),
  ]
}

function jointSays({ webMarks, kit, fit, pressing }: SealedJoint): string {
  const mark = (text: string) => text.replaceAll(' ', '\u00a0')
  const parts = [
    ...(webMarks === undefined ? [] : [`webs marked ${mark(webMarks.left)} and ${mark(webMarks.right)}`]),
    ...(kit === undefined ? [] : [`${kit.maker ? `${kit.maker} ` : ''}${kit.model}, lot ${kit.lot}`]),
    ...(fit === undefined ? [] : [`fit ${fitText(fit.left)} left, ${fitText(fit.right)} right`]),
    ...(pressing === undefined ? [] : [`pressed on ${pressedWords(pressing)}`]),
  ]
  return parts.filter((part) => part !== 'pressed on ').join('; ')
}

/** What each throw ran at alone, on its own two shafts, where it was read. */
export function aloneWords({ throws = [] }: CertificateData): string[] {
  return throws.flatMap(({ name, alone }) =>
    alone === undefined
      ? []
      : [`${name} alone, on its own shafts before it was joined: left ${swingText(alone.left)}, right ${swingText(alone.right)}.`],
  )
}

function swingText(figured: Figured): string {
  return wasRead(figured) ? figureText(figured, 'mm', 'low') : DASH
}

/** An interference is flattered by a high figure. */
export function fitText(figured: Figured): string {
  return wasRead(figured) ? figureText(figured, 'mm', 'high') : `${DASH} (not read, because ${figured.notRead})`
}

/** The peaks of the gauge and what the pin was pressed with. @example pressedWords({ leftTonnes: 5.2, rightTonnes: 4.9, lubricant: 'oil' }) // 'about 5 t left and 5 t right, oil' */
export function pressedWords(pressing: CertificateData['pressing']): string {
  if (!pressing) return ''
  const { leftTonnes, rightTonnes, lubricant } = pressing
  // A press gauge is good to a twentieth at best, so half a tonne is its finest word.
  const tonnes = (value: number) => `${Math.round(value * 2) / 2} t`
  const both = leftTonnes !== undefined && rightTonnes !== undefined
  const peaks = both
    ? [`about ${tonnes(leftTonnes)} left and ${tonnes(rightTonnes)} right`]
    : [leftTonnes, rightTonnes].flatMap((one, index) =>
        one === undefined ? [] : [`about ${tonnes(one)} ${index === 0 ? 'left' : 'right'}`],
      )
  return [...peaks, ...(lubricant ? [lubricant] : [])].join(', ')
}

function degreesText(angle: number): string {
  return String(Number(angle.toFixed(2)))
}

function wordList(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
}
