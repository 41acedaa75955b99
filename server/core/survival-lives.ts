/** One thing, and how far it came. */
export interface SurvivalItem {
  /** Use until it failed, or until it was last heard of. */
  at: number
  failed: boolean
  group?: string | number | undefined
}

/** The lives of one group, each list in rising order. */
export interface Lives {
  group: string
  failed: Float64Array
  /** Failed and still running together. */
  all: Float64Array
}

/** The name of the one group where none is given. */
const ALL = 'all'

/** Items by group, in the order in which the groups are named first, sorted once for every sum that follows. */
export function livesByGroup(items: readonly SurvivalItem[]): Lives[] {
  const groups = new Map<string, { failed: number[]; all: number[] }>()
  for (const { at, failed, group = ALL } of items) {
    const name = String(group)
    const lists = groups.get(name) ?? { failed: [], all: [] }
    if (lists.all.length === 0) groups.set(name, lists)
    lists.all.push(at)
    if (failed) lists.failed.push(at)
  }
  return [...groups].map(([group, { failed, all }]) => ({
    group,
    failed: Float64Array.from(failed).sort(),
    all: Float64Array.from(all).sort(),
  }))
}
