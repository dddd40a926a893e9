import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { rangeOf } from '../../../main/engine/byte-range'

/// RFC 9110, section 14.1.2, "Byte Ranges": its own examples, for a file of 10,000 bytes.
describe('a range of a file, by the examples of RFC 9110', () => {
  it.each([
    ['bytes=0-499', 0, 499],
    ['bytes=500-999', 500, 999],
    ['bytes=-500', 9500, 9999],
    ['bytes=9500-', 9500, 9999],
    ['bytes=0-0', 0, 0],
    ['bytes=-1', 9999, 9999],
  ])('%s', (header, first, last) => {
    expect(rangeOf(header, 10_000)).toEqual({ first, last })
  })
})

describe('a range', () => {
  it('ends with the file', () => {
    expect(rangeOf('bytes=9000-20000', 10_000)).toEqual({ first: 9000, last: 9999 })
    expect(rangeOf('bytes=-20000', 10_000)).toEqual({ first: 0, last: 9999 })
  })

  it('is refused where no byte of it is in the file', () => {
    expect(rangeOf('bytes=10000-', 10_000)).toBe('none')
    expect(rangeOf('bytes=-0', 10_000)).toBe('none')
    expect(rangeOf('bytes=0-', 0)).toBe('none')
  })

  it.each([null, '', 'bytes=', 'bytes=-', 'bytes=5-2', 'items=0-5', 'bytes=0-1,5-6', 'bytes=a-b', 'bytes=1e3-', 'bytes=0-1; x'])(
    'is passed over when it reads %j',
    (header) => {
      expect(rangeOf(header, 10_000)).toBe('whole')
    },
  )

  it('always lies within the file', () => {
    fc.assert(
      fc.property(fc.nat(1e6), fc.nat(2e6), fc.nat(2e6), fc.constantFrom('a-b', 'a-', '-b'), (size, a, b, form) => {
        const range = rangeOf(`bytes=${form.replace('a', String(a)).replace('b', String(b))}`, size)
        if (typeof range === 'string') return
        expect(range.first).toBeGreaterThanOrEqual(0)
        expect(range.last).toBeGreaterThanOrEqual(range.first)
        expect(range.last).toBeLessThan(size)
      }),
    )
  })
})
