/** Works that can hurt somebody. */
export const HAZARDS = ['press', 'drop', 'hammer', 'lathe', 'weld', 'hot', 'solvent'] as const
export type Hazard = (typeof HAZARDS)[number]

/** Said with every caution: they are the usual ones and no rule of a place. */
export const RULES_FIRST = 'Local rules and licensed practice come first.'

/** The usual caution at the step where it belongs, in one breath. Common practice, no source. */
export const CAUTIONS: Readonly<Record<Hazard, string>> = {
  press: 'Guard shut, face shield or glasses on, nobody presses alone. Stand aside; no hand between ram and work once there is load on it.',
  drop: 'A joint lets go at once: tray under it, toes clear, nothing solid where the half will fall.',
  hammer: 'Dials back and the crank off its supports before any blow. Glasses on; copper, brass or lead, never a steel hammer on a web.',
  lathe: 'Lathe off at the switch, key out of the chuck, no loose sleeves before anything is struck in it.',
  weld: 'No chlorinated cleaner anywhere near: its fumes are poison. Draw the fumes off, clamp to the same web, keep a fire watch.',
  hot: 'Gloves for hot rings and cases. Nothing is measured or trued warm.',
  solvent: 'Lid on, gloves on, no spray near heat. Compressed air never at skin; glasses when an oil hole is blown out.',
}
