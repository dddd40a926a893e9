import { describe, expect, it } from 'vitest'
import { FrameCache, MOST_BYTES } from '../../../../renderer/player/frame-cache'
import { reachWithin, roomFor, smallSize } from '../../../../renderer/player/read-ahead'

/// What the cache asks of a picture: its size, and to be closed.
function picture(width: number, height: number): ImageBitmap & { closed: number } {
  return {
    width,
    height,
    closed: 0,
    close() {
      this.closed++
    },
  }
}

describe('the cache of decoded frames', () => {
  it('should let go of what was looked at least lately, and never hold more than its bytes', () => {
    const cache = new FrameCache(3 * 400, 3 * 400)
    const [a, b, c, d] = [0, 1, 2, 3].map(() => picture(10, 10)) as [
      ReturnType<typeof picture>,
      ReturnType<typeof picture>,
      ReturnType<typeof picture>,
      ReturnType<typeof picture>,
    ]
    cache.keep('f1', 0, 'small', a)
    cache.keep('f1', 1, 'small', b)
    cache.keep('f2', 0, 'small', c)
    expect(cache.take('f1', 0, 'small')).toBe(a)
    cache.keep('f2', 1, 'full', d)
    expect(cache.bytes).toBe(1200)
    expect([a, b, c, d].map((p) => p.closed)).toEqual([0, 1, 0, 0])
    expect(cache.take('f1', 1, 'small')).toBeNull()
    expect(cache.has('f2', 1, 'full')).toBe(true)
    expect(cache.has('f2', 1, 'small')).toBe(false)
  })

  it('should keep the newest even where it alone is more than the budget', () => {
    const cache = new FrameCache(100, 100)
    const large = picture(100, 100)
    cache.keep('f1', 0, 'full', large)
    expect(cache.take('f1', 0, 'full')).toBe(large)
    expect(large.closed).toBe(0)
  })

  it('should close a picture once when another takes its name, and all of a film that is let go of', () => {
    const cache = new FrameCache()
    const [first, second, other] = [picture(2, 2), picture(2, 2), picture(2, 2)]
    cache.keep('f1', 0, 'small', first)
    cache.keep('f1', 0, 'small', second)
    cache.keep('f10', 0, 'small', other)
    cache.forget('f1')
    expect([first.closed, second.closed, other.closed]).toEqual([1, 1, 0])
    expect(cache.bytes).toBe(16)
  })

  it('should hold what is needed and no more, within its limits, and let go of what is not needed first', () => {
    let now = 0
    const cache = new FrameCache(2 * 400, 6 * 400, () => now)
    const near = (bytes: number, ...frames: readonly number[]) => ({ least: 400, bytes, has: (frame: number) => frames.includes(frame) })
    const held = (film: string): number[] => [0, 1, 2, 3, 4, 5, 6, 7, 8, 9].filter((frame) => cache.has(film, frame, 'small'))
    const keep = (film: string, ...frames: readonly number[]): void =>
      frames.forEach((frame) => cache.keep(film, frame, 'small', picture(10, 10)))
    keep('f1', 0, 1, 2)
    expect(held('f1')).toEqual([1, 2])
    cache.need('f1', near(3 * 400, 1, 3))
    keep('f1', 3, 4)
    expect(held('f1')).toEqual([1, 3, 4])
    keep('f1', 5)
    expect(held('f1')).toEqual([1, 3, 5])
    cache.need('f2', near(4 * 400, 0, 1, 2, 3))
    keep('f2', 0, 1, 2, 3)
    expect([held('f1'), held('f2')]).toEqual([
      [1, 3],
      [0, 1, 2, 3],
    ])
    cache.need('f1', null)
    now += 4999
    keep('f2', 4)
    expect([held('f1'), held('f2')]).toEqual([[3], [0, 1, 2, 3, 4]])
    now += 2
    keep('f2', 5)
    expect([held('f1'), held('f2')]).toEqual([[], [0, 1, 2, 3, 5]])
  })

  // 4K, HD in 4:3, and smaller than a stand-in; one of them, a pair, and as many as a pair has at most.
  it.each([
    [1, 3840, 2160],
    [2, 3840, 2160],
    [4, 3840, 2160],
    [4, 7680, 4320],
    [2, 1440, 1080],
    [3, 1920, 1080],
    [4, 640, 480],
  ])('should come to rest and hold all that it reads ahead, with %i films of %i × %i', (films, width, height) => {
    const cache = new FrameCache()
    const names = Array.from({ length: films }, (_, i) => `f${i}`)
    const small = smallSize({ width, height })
    const reachOf = (film: string): number => reachWithin(cache.roomOf(film), 1, { width, height })
    for (const film of names)
      cache.need(film, {
        ...roomFor(1, { width, height }),
        has: (frame, detail) => (detail === 'full' ? frame === 100 : Math.abs(frame - 100) <= reachOf(film)),
      })
    let reads = 0
    const wanted = (): (() => void) | undefined => {
      for (const film of names) {
        if (!cache.has(film, 100, 'full')) return () => cache.keep(film, 100, 'full', picture(width, height))
        for (let frame = 100 - reachOf(film); frame <= 100 + reachOf(film); frame++)
          if (!cache.has(film, frame, 'small')) return () => cache.keep(film, frame, 'small', picture(small.width, small.height))
      }
      return undefined
    }
    for (let read = wanted(); read && reads < 1000; read = wanted(), reads++) read()
    expect(reads).toBe(names.reduce((sum, film) => sum + 2 * reachOf(film) + 2, 0))
    expect(cache.bytes).toBeLessThanOrEqual(Math.max(MOST_BYTES, films * roomFor(1, { width, height }).least))
  })

  it('should leave two clips of 1080p side by side their thirty frames on either side', () => {
    const cache = new FrameCache()
    const size = { width: 1920, height: 1080 }
    for (const film of ['f1', 'f2']) cache.need(film, { ...roomFor(1, size), has: () => true })
    expect(reachWithin(cache.roomOf('f1'), 1, size)).toBe(30)
    cache.need('f3', { ...roomFor(1, size), has: () => true })
    expect(reachWithin(cache.roomOf('f1'), 1, size)).toBe(18)
    cache.need('f2', null)
    expect(reachWithin(cache.roomOf('f1'), 1, size)).toBe(30)
  })
})
