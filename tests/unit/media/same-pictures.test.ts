import { describe, expect, it } from 'vitest'
import { trackBytes, trackOfBytes } from '../../../main/media/picture-track'
import { sharedStretches } from '../../../main/media/same-pictures'
import { inARow, trackOf, type Seen } from './moving-pictures'

const bouts = Array.from({ length: 8 }, (_, i) => ({ hall: i + 1, figures: i + 1 }))
const whole = bouts.map((bout) => trackOf(bout, { from_s: 0, seconds: 20 }))

describe('two films of one bout', () => {
  it.each([
    ['coded again, with noise', { noise: 4 }, 8],
    ['darker', { light: 0.8, noise: 1 }, 8],
    ['cropped by a twentieth', { crop: 0.05, noise: 1 }, 7],
    ['as in a mirror', { mirrored: true, noise: 1 }, 8],
    ['four hundredths faster', { speed: 1.04, noise: 1 }, 7],
  ] as const)('are found when one is %s, at the right place', async (_name, how: Partial<Seen>, least) => {
    let found = 0
    for (const [i, bout] of bouts.entries()) {
      const [first] = await sharedStretches(trackOf(bout, { from_s: 5, seconds: 11, ...how }), whole[i]!)
      if (first && Math.abs(first.otherFrom / 8 - 5) < 0.5 && first.to - first.from >= 80 && first.mirrored === (how.mirrored ?? false))
        found++
    }
    expect(found).toBeGreaterThanOrEqual(least)
  })
  it('are found by the part that both show, and where', async () => {
    const [one, two] = [
      { hall: 3, figures: 3 },
      { hall: 9, figures: 9 },
    ]
    const mixed = inARow(
      trackOf(two, { from_s: 0, seconds: 6 }),
      trackOf(one, { from_s: 4, seconds: 10, noise: 2 }),
      trackOf(two, { from_s: 8, seconds: 6 }),
    )
    const shared = await sharedStretches(mixed, trackOf(one, { from_s: 0, seconds: 30 }))
    expect(shared).toHaveLength(1)
    expect(Math.abs(shared[0]!.from - 48)).toBeLessThanOrEqual(4)
    expect(Math.abs(shared[0]!.to - 128)).toBeLessThanOrEqual(4)
    expect(Math.abs(shared[0]!.otherFrom - 32)).toBeLessThanOrEqual(4)
  })
})

describe('two bouts', () => {
  it('are never taken for one, in two halls or in the same hall', async () => {
    const wrong: string[] = []
    for (const [i, bout] of bouts.entries())
      for (const other of [bouts[(i + 5) % bouts.length]!, { hall: bout.hall, figures: bout.figures + 100 }]) {
        const shared = await sharedStretches(trackOf(other, { from_s: 0, seconds: 14, noise: 2 }), whole[i]!)
        if (shared.length > 0) wrong.push(`${bout.figures} and ${other.figures} in hall ${other.hall}`)
      }
    expect(wrong).toEqual([])
  })
  it('are not told apart from another time of the same bout by the hall alone', async () => {
    for (const [i, bout] of bouts.entries())
      expect(await sharedStretches(trackOf(bout, { from_s: 40, seconds: 12, noise: 2 }), whole[i]!)).toEqual([])
  })
  it('share nothing where nothing is seen, or too little of it', async () => {
    const black = { ...trackOf(bouts[0]!, { from_s: 0, seconds: 10 }), blank: new Uint8Array(80).fill(1) }
    expect(await sharedStretches(black, black)).toEqual([])
    const short = trackOf(bouts[0]!, { from_s: 0, seconds: 1 })
    expect(await sharedStretches(short, short)).toEqual([])
  })
})

it('should let others work between slices of its own', async () => {
  let breaths = 0
  const film = whole[0]!
  await sharedStretches(film, film, async () => void breaths++)
  expect(breaths).toBeGreaterThan(4)
})

it('should come back from the bytes that it is kept as, and from no others', () => {
  const track = trackOf(bouts[0]!, { from_s: 0, seconds: 3 })
  expect(trackOfBytes(trackBytes(track))).toEqual(track)
  expect(trackOfBytes(trackBytes(track).subarray(0, -1))).toBeNull()
  expect(trackOfBytes(Buffer.from('track 0\n'))).toBeNull()
})
