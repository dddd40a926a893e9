import { describe, expect, it } from 'vitest'
import { CODE_LIFE_MS, OneTimeCodes } from '../../../main/loopback/one-time-codes'

describe('a one-time code', () => {
  it('opens once', () => {
    const codes = new OneTimeCodes(() => 0)
    const code = codes.make()
    expect(codes.use(code)).toBe(true)
    expect(codes.use(code)).toBe(false)
  })

  it('opens nothing after ten minutes', () => {
    let now = 0
    const codes = new OneTimeCodes(() => now)
    const [early, late] = [codes.make(), codes.make()]
    now = CODE_LIFE_MS - 1
    expect(codes.use(early)).toBe(true)
    now = CODE_LIFE_MS
    expect(codes.use(late)).toBe(false)
  })

  it('is long and never the same', () => {
    const codes = new OneTimeCodes(() => 0)
    const made = Array.from({ length: 50 }, () => codes.make())
    expect(new Set(made).size).toBe(50)
    expect(made.every((code) => /^[\w-]{32}$/.test(code))).toBe(true)
  })

  it('is not opened by another, nor by a part of it', () => {
    const codes = new OneTimeCodes(() => 0)
    const code = codes.make()
    for (const guess of ['', code.slice(0, -1), code + 'a', code.toUpperCase() + '.']) expect(codes.use(guess)).toBe(false)
    expect(codes.use(code)).toBe(true)
  })

  it('gives way to newer ones, so that they cannot pile up', () => {
    const codes = new OneTimeCodes(() => 0)
    const first = codes.make()
    for (let i = 0; i < 20; i++) codes.make()
    expect(codes.use(first)).toBe(false)
  })
})
