import { describe, expect, it } from 'vitest'
import { fingerprintOf, sealOf } from '#server/features/certificates/seal.ts'
import { sampleCertificate } from '#tests/support/sample-certificate.ts'

describe('sealOf', () => {
  it('is SHA-256 over the canonical text', () => {
    // SHA-256 of the two bytes {} and of "abc" in its JSON quotes, worked out with another tool (coreutils sha256sum).
    expect(sealOf({})).toEqual({ alg: 'sha-256', keyId: null, value: '44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a' })
    expect(sealOf('abc').value).toBe('6cc43f858fbb763301637b5af970e2a46b46f461f27e5a0f41e009c59b827b25')
  })

  it('does not see the order of the data, and sees every figure of them', () => {
    const data = sampleCertificate()
    const turned = Object.fromEntries(Object.entries(data).reverse())
    expect(sealOf(turned)).toEqual(sealOf(data))
    expect(sealOf(JSON.parse(JSON.stringify(data)))).toEqual(sealOf(data))
    expect(sealOf({ ...data, left: { ...data.left, final: { mm: 0.0118, stepMm: 0.001 } } })).not.toEqual(sealOf(data))
  })

  it('refuses data that are not JSON', () => {
    expect(() => sealOf({ mm: Number.NaN })).toThrow(RangeError)
  })

  it('prints its first 16 bytes in groups of four', () => {
    expect(fingerprintOf(sealOf({}))).toBe('4413 6fa3 55b3 678a 1146 ad16 f7e8 649e')
  })
})
