/**
 * Texts that go out with a crank, by engine cycle, until the owner writes others in the settings. Common practice, no
 * source; the engine maker's book comes first, and the texts say so.
 */
export const CYCLES = ['2T', '4T'] as const
export type Cycle = (typeof CYCLES)[number]

const FITTING =
  'Warm cases and bearings right through, gloves on, and let the crank slide home; draw the last of it in by the inner ring. Never drive on the end of a shaft, never lever between the webs. Look at the end float, and turn it by hand once all is tight. Your engine maker’s book comes first.'

/** For whoever fits the crank. */
export const FITTING_TEXT: Readonly<Record<Cycle, string>> = { '2T': FITTING, '4T': FITTING }

/** For the first hours. */
export const RUNNING_IN_TEXT: Readonly<Record<Cycle, string>> = {
  '2T': 'Oil big end and mains before the first start. Mix the first tank at the richer end of what the maker asks for. Three times warm and cool again to the hand, then half an hour of light, changing throttle; no long pull at full throttle, no labouring.',
  '4T': 'Turn it over without the plug until oil shows at the top. Short loads with rests between them, no long steady pull. Change oil and filter after the first hour and look at what they hold.',
}

/** What the shop stands for. */
export const PROMISE_TEXT = '12 months or 40 h on this work, racing excepted. Ring first; send the whole crank, unwashed.'
