import { beforeEach, expect, test, vi } from 'vitest'

beforeEach(() => {
  vi.resetModules()
  localStorage.clear()
})

async function fresh() {
  return import('#web/lib/mode.ts')
}

test('a new tablet is light, with keys of the usual size', async () => {
  const { dressPage, mode } = await fresh()
  const root = document.createElement('html')
  dressPage(root)
  expect(mode.read()).toBe('light')
  expect(root.dataset.mode).toBe('light')
  expect(root.style.getPropertyValue('--key')).toBe('104px')
})

test('the choice dresses the page at once and is remembered by the tablet', async () => {
  const first = await fresh()
  const root = document.createElement('html')
  const stop = first.dressPage(root)
  first.mode.write('bench')
  first.keyPx.write(126)
  expect(root.dataset.mode).toBe('bench')
  expect(root.style.getPropertyValue('--key')).toBe('126px')
  stop()
  first.mode.write('sun')
  expect(root.dataset.mode).toBe('bench')
  vi.resetModules()
  const later = await fresh()
  expect(later.mode.read()).toBe('sun')
  expect(later.keyPx.read()).toBe(126)
})

test('what an older version left behind falls back', async () => {
  localStorage.setItem('throwbook.mode', 'sepia')
  localStorage.setItem('throwbook.key-px', '9000')
  const { keyPx, mode } = await fresh()
  expect(mode.read()).toBe('light')
  expect(keyPx.read()).toBe(104)
})

test('a browser that keeps nothing still honours the choice', async () => {
  const refuse = vi.spyOn(Storage.prototype, 'setItem').mockImplementation(() => {
    throw new DOMException('full', 'QuotaExceededError')
  })
  const { mode } = await fresh()
  mode.write('bench')
  expect(mode.read()).toBe('bench')
  refuse.mockRestore()
})

test('20 mm from a card held to the screen', async () => {
  const { keyPxFromCard } = await fresh()
  // ISO/IEC 7810 ID-1: 85.60 mm. At 132 px an inch 20 mm are 103.9 px, at 160 px an inch 126 px.
  expect(keyPxFromCard((85.6 / 25.4) * 132)).toBe(104)
  expect(keyPxFromCard((85.6 / 25.4) * 160)).toBe(126)
  expect(keyPxFromCard(10)).toBe(72)
  expect(() => keyPxFromCard(0)).toThrow(RangeError)
})
