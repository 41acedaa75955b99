import type { WayOfHolding } from '#core/crank-shape.ts'

/** How the crank was held, as it follows the word "held" or stands by itself at the end of a sentence. */
export const HELD_WORDS: Readonly<Record<WayOfHolding, string>> = {
  'v-blocks-bare': 'on bare seats in V-blocks',
  'v-blocks-bearings': 'on its bearings in V-blocks',
  'rollers-bare': 'on bare seats on rollers',
  'rollers-bearings': 'on its bearings on rollers',
  centres: 'between centres',
  'lathe-left': 'with its left main in the chuck of the lathe',
  'lathe-right': 'with its right main in the chuck of the lathe',
  cases: 'in its case halves',
}
