import { expect, it } from 'vitest'
import type { Clip } from '../../../../app/project/film'
import type { Breakdown } from '../../../../app/project/breakdown'
import { clipsShare, type SharedByFilm } from '../../../../app/project/shared-pictures'
import { findingsOf } from '../../../../app/script/claims/findings'
import { breakdownOf, reading } from '../sample-script'

/// Film b shows from frame 100 on what film a shows from frame 300 on, at half as many frames a second.
const shared: SharedByFilm = new Map([['b', [{ footage: 'a', from: 100, to: 200, otherFrom: 300, otherTo: 500, mirrored: false }]]])
const clip = (id: string, footage: string, from: number, to: number, more: Partial<Clip> = {}): Clip => ({
  id,
  footage,
  from,
  to,
  capture: 'unknown',
  ...more,
})
const films = {
  footage: [
    { id: 'a', file: 'a.mp4' },
    { id: 'b', file: 'b.mp4' },
  ],
}
const first = clip('c1', 'a', 320, 420, { name: 'ringside' })

it('should know clips that seem to show the same pictures, in whichever order, and those that only lie in the same films', () => {
  expect(clipsShare(first, clip('c2', 'b', 110, 160), shared, films)).toBe(true)
  expect(clipsShare(clip('c2', 'b', 110, 160), first, shared, films)).toBe(true)
  expect(clipsShare(first, clip('c2', 'b', 160, 200), shared, films)).toBe(false)
  expect(clipsShare(first, clip('c2', 'b', 0, 90), shared, films)).toBe(false)
  expect(clipsShare(first, clip('c2', 'a', 320, 420), shared, films)).toBe(false)
  expect(clipsShare(first, clip('c2', 'b', 110, 160), new Map(), films)).toBe(false)
})

const counted = (second: Clip, more: Partial<Breakdown> = {}) => {
  const breakdown = breakdownOf([{ id: 'p1', text: ['The heel is up in ', { value: 'n' }, '.'] }], {
    ...films,
    clips: [first, second],
    measures: [
      {
        id: 'n',
        kind: 'count',
        what: 'rear heel off the floor',
        set: 'every finish on film',
        cases: [
          { clip: 'c1', holds: true },
          { clip: second.id, holds: true },
        ],
      },
    ],
    ...more,
  })
  return findingsOf(breakdown, new Map([['n', reading('n', '2 of 2', '2 of 2', { kind: 'count' })]]), shared).filter(
    ({ code }) => code === 'counted-twice',
  )
}

it('should say of a count that it takes one bout for two, and hold no film back for it', () => {
  const [finding, ...others] = counted(clip('c2', 'b', 110, 160))
  expect(others).toEqual([])
  expect(finding).toMatchObject({
    problem: '“ringside” and “c2” look like the same pictures, and the count takes them for two',
    holds: false,
    paragraph: 'p1',
  })
})

it('should say nothing of clips of one bout, which count once, nor of films that were said to be unlike', () => {
  expect(
    counted(clip('c2', 'b', 110, 160, { bout: 'final' }), {
      clips: [{ ...first, bout: 'final' }, clip('c2', 'b', 110, 160, { bout: 'final' })],
    }),
  ).toEqual([])
  expect(
    counted(clip('c2', 'b', 110, 160), {
      footage: [
        { id: 'a', file: 'a.mp4' },
        { id: 'b', file: 'b.mp4', unlike: ['a'] },
      ],
    }),
  ).toEqual([])
  expect(counted(clip('c2', 'b', 0, 90))).toEqual([])
})
