import type { BenchSheetData } from '#server/features/jobs/bench-sheet-sections.ts'
import type { LabelData } from '#server/features/jobs/document-label.ts'
import type { ReceiptData } from '#server/features/jobs/document-receipt.ts'

export function sampleReceipt(change: Partial<ReceiptData> = {}): ReceiptData {
  return {
    sheet: 'A4',
    shop: { name: 'Kettle Row Crank Works', address: 'Mill Lane 4' },
    tag: '318-V',
    bookedOn: '2026-11-23',
    takenInBy: 'Hana',
    customer: { name: 'Łucja Szőke-Groß', reach: ['+48 000 000 318', 'rather by text'] },
    crank: 'Ruskhammar R449-4X, number R4-20718, webs marked 318-V L and R',
    wish: 'rebuild, kit by us',
    whyNow: 'planned hours are up',
    hours: '61 h, read off the meter',
    cameWith: ['mains on', 'keys × 2', 'nut', 'primary gear', 'spacers', 'kit box, sealed'],
    condition: ['taper dented', 'big end blue'],
    conditionNote: 'A dent at the thin end of the taper, as long as a nail is wide; in the second photo.',
    wantedOn: '2026-12-04',
    promisedOn: '2026-12-07',
    goesBy: 'carrier',
    oldPartsBack: true,
    fee: { amount: '30.00 EUR', yes: { by: 'Łucja Szőke-Groß', how: 'at the counter' } },
    deposit: '100.00 EUR',
    storageRule:
      'A crank not fetched within 90 days of the message that it is ready may be charged for storage, after a reminder in writing, as far as local law allows.',
    pageUrl: 'https://kettle-row.example/your-crank/9b2f4c7d5e8a41f0a3c6d9e2b5f80713',
    ...change,
  }
}

export function sampleLabel(change: Partial<LabelData> = {}): LabelData {
  return {
    tag: '318-V',
    code: 'https://kettle-row.example/t/318-V',
    crank: 'Ruskhammar R449-4X',
    shop: 'Kettle Row Crank Works',
    bookedOn: '2026-11-23',
    ...change,
  }
}

export function sampleBenchSheet(change: Partial<BenchSheetData> = {}): BenchSheetData {
  return {
    sheet: 'A4',
    shop: 'Kettle Row Crank Works',
    printedOn: '2026-11-24',
    tag: '318-V',
    crank: 'Ruskhammar R449-4X, number R4-20718',
    kind: 'rebuild',
    cycle: '4T',
    promisedOn: '2026-12-07',
    remarks: ['right web was loose last time', 'old parts go back'],
    held: 'v-blocks-bare',
    left: { dialMm: 45, says: 'taper 1:5, skip the keyway', limitMm: 0.02 },
    right: { dialMm: 50, says: 'plain ground', limitMm: 0.02 },
    width: { minMm: 63.95, maxMm: 64.05 },
    clearance: { minMm: 0.25, maxMm: 0.5 },
    play: { maxMm: 0.05 },
    fit: { minMm: 0.105, maxMm: 0.125 },
    shopFloorMm: 0.1,
    scrapFloorMm: 0.077,
    kit: 'Ardenlow R449-4X-K1',
    welded: false,
    ...change,
  }
}
