import type { Figure, JobFacts } from '#core/gates/facts.ts'
import type { JobKind } from '#core/steps.ts'

/** Minutes of one morning, so that a test reads as the order of what was done. */
export function at(minute: number): string {
  return new Date(Date.UTC(2026, 10, 24, 8, minute)).toISOString()
}

export const PARTED = 5
export const PRESSED = 60
export const LAST_MOVE = 90

export function taken<Value>(value: Value, minute: number): Figure<Value> {
  return { read: true, takenAt: at(minute), value }
}

export function notRead(because: string): Figure<never> {
  return { read: false, because }
}

/** A knocking 450-class rebuild with every gate open; the other kinds are the same without the parting and the kit. */
export function readyJob(kind: JobKind = 'rebuild', changes: Partial<JobFacts> = {}): JobFacts {
  const isRebuild = kind === 'rebuild'
  const goodFit = { interferenceMm: 0.109, verdict: 'go' as const, pinIsOfKit: true }
  return {
    kind,
    whyNow: 'knock',
    received: {
      width: taken({ 0: 63.99, 90: 64.01, 180: 64.06, 270: 64 }, 1),
      runout: { left: taken(0.19, 2), right: taken(0.21, 2) },
      bigEndPlay: taken(0.06, 3),
    },
    quote: { version: 2, yes: { version: 2, by: 'A. Hollis', how: 'link' } },
    parting: isRebuild
      ? {
          at: at(PARTED),
          peakTonnes: { left: taken(9.5, PARTED), right: taken(5, PARTED) },
          look: { galling: false, crack: false },
          webMarks: '318-V L and R',
        }
      : null,
    kitLot: isRebuild ? 'A-2417' : null,
    fit: isRebuild ? { left: taken(goodFit, 20), right: taken(goodFit, 20) } : { left: null, right: null },
    fitFloors: { shopMm: 0.1, scrapMm: 0.077 },
    oilHole: isRebuild ? 'open' : null,
    asItStands: {
      width: taken({ 0: 64, 90: 64.01, 180: 64, 270: 63.99 }, 100),
      sideClearance: taken(0.36, 101),
      runout: {
        left: taken({ tirMm: 0.012, atStatedPlace: true, cold: true }, 102),
        right: taken({ tirMm: 0.014, atStatedPlace: true, cold: true }, 103),
      },
    },
    windows: { width: { minMm: 63.95, maxMm: 64.05 }, sideClearance: { minMm: 0.25, maxMm: 0.5 } },
    limits: { left: { houseMm: 0.02, makerMm: 0.03 }, right: { houseMm: 0.02, makerMm: 0.03 } },
    lastPressingAt: isRebuild ? at(PRESSED) : null,
    lastMoveAt: at(LAST_MOVE),
    weldedAt: kind === 'weld-only' ? at(80) : null,
    secondSet: {
      takenAt: at(110),
      byAnotherPerson: true,
      firstHidden: true,
      tirMm: { left: taken(0.011, 110), right: taken(0.015, 110) },
    },
    thirdSet: null,
    giveOrTakeMm: { left: 0.008, right: 0.008 },
    overdueInstruments: [],
    doubtedInstruments: [],
    certificate: { madeAt: at(120) },
    boxListChecked: true,
    paid: true,
    ownersWord: null,
    settings: { samePersonMayCheck: false },
    ...changes,
    ...(kind === 'check-and-report' && changes.secondSet === undefined
      ? {
          secondSet: {
            takenAt: at(110),
            byAnotherPerson: true,
            firstHidden: true,
            tirMm: { left: taken(0.195, 110), right: taken(0.205, 110) },
          },
        }
      : {}),
  }
}
