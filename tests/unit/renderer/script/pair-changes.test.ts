import { describe, expect, it } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { Pair } from '../../../../app/project/picture'
import { laidAs, layable, lyingOn, withMemberAdded, withMemberChanged, withMemberTaken } from '../../../../renderer/script/pair-changes'

/// Five clips with a contact each; hips and knees placed on it, in the last of the left knee alone. The second shows two people.
const ids = ['a', 'b', 'c', 'd', 'e']
const points = ['hip.left', 'hip.right', 'knee.left'] as const
const placed = (
  clip: string,
  subject: string,
  names: readonly (typeof points)[number][],
  frame = 10,
): NonNullable<Breakdown['landmarks']> => names.map((point) => ({ clip, subject, point, samples: [{ frame, at: [5, 5], sigma: 1 }] }))
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Five views',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }],
  subjects: [
    { id: 's1', name: 'Nela Varga' },
    { id: 's2', name: 'Ida Brandt' },
  ],
  clips: ids.map((id) => ({ id, footage: 'f1', from: 0, to: 20, capture: 'unknown' })),
  events: [
    ...ids.map((clip) => ({ id: `e${clip}`, clip, name: 'contact', earliest: 10, latest: 10 })),
    { id: 'late', clip: 'b', name: 'landing', earliest: 15, latest: 15 },
  ],
  landmarks: [
    ...placed('a', 's1', points),
    ...placed('b', 's2', points),
    ...placed('b', 's1', ['hip.left', 'knee.left']),
    ...placed('c', 's1', points),
    ...placed('d', 's1', points),
    ...placed('e', 's1', ['knee.left']),
  ],
  script: [],
}
const member = (clip: string) => ({ clip, event: `e${clip}` })
const pair: Pair = { pair: [member('a'), member('b')], before: '1/2', after: '1/2', speed: '1/4', layout: 'beside' }

describe('the clips of a pair', () => {
  it('become three and four, no more, and no fewer than two', () => {
    const four = withMemberAdded(withMemberAdded(pair, 'ec', breakdown), 'ed', breakdown)
    expect(four.pair.map(({ clip }) => clip)).toEqual(['a', 'b', 'c', 'd'])
    expect(withMemberAdded(four, 'ee', breakdown)).toBe(four)
    expect(withMemberAdded(pair, 'gone', breakdown)).toBe(pair)
    expect(withMemberTaken(four, 1, breakdown).pair.map(({ clip }) => clip)).toEqual(['a', 'c', 'd'])
    expect(withMemberTaken(pair, 0, breakdown)).toBe(pair)
  })
  it('stay as they are where the one that is to change has gone', () => {
    expect(withMemberChanged(pair, 2, 'ec', breakdown)).toBe(pair)
    const over = laidAs(pair, 'over', breakdown)!
    expect(lyingOn(over, { subject: 's1', of: 2 }, breakdown)).toBe(over)
  })
  it('take their marks with them, and the marks behind them go on with their own', () => {
    const three: Pair = {
      ...withMemberAdded(pair, 'ec', breakdown),
      marks: ['m1', { ring: [1, 1], radius: 4 }, { ring: [2, 2], radius: 4, panel: 1 }, { ring: [3, 3], radius: 4, panel: 2 }],
    }
    expect(withMemberTaken(three, 1, breakdown).marks).toEqual(['m1', { ring: [1, 1], radius: 4 }, { ring: [3, 3], radius: 4, panel: 1 }])
    expect(withMemberTaken(three, 0, breakdown).marks).toEqual([
      'm1',
      { ring: [2, 2], radius: 4, panel: 0 },
      { ring: [3, 3], radius: 4, panel: 1 },
    ])
  })
  it('keep their own framing, and lose it with their clip', () => {
    const framed: Pair = { ...pair, pair: [{ ...member('a'), frame: [0, 0, 100, 60] }, member('b')] }
    expect(withMemberChanged(framed, 1, 'ec', breakdown).pair).toEqual([framed.pair[0], member('c')])
    expect(withMemberChanged(framed, 0, 'ec', breakdown).pair).toEqual([member('c'), member('b')])
  })
})

describe('a pair laid over each other', () => {
  const over = laidAs(pair, 'over', breakdown)!
  it('lies on two points that are placed in each of its clips on the frame of its event', () => {
    expect(over).toMatchObject({ layout: 'over', over: { subjects: ['s1', 's2'], points: ['hip.left', 'hip.right'] } })
    expect(layable(over, breakdown)).toEqual({ subjects: [['s1'], ['s2', 's1']], points: ['hip.left', 'hip.right', 'knee.left'] })
    expect(laidAs({ ...pair, pair: [member('a'), { clip: 'b', event: 'late' }] }, 'over', breakdown)).toBeNull()
  })
  it('names as many subjects as it has clips, whoever comes and goes', () => {
    const three = withMemberAdded(over, 'ec', breakdown)
    expect(three.over).toEqual({ subjects: ['s1', 's2', 's1'], points: ['hip.left', 'hip.right'] })
    expect(withMemberTaken(three, 0, breakdown).over).toEqual({ subjects: ['s2', 's1'], points: ['hip.left', 'hip.right'] })
    expect(withMemberAdded(over, 'ee', breakdown)).toMatchObject({ layout: 'beside', pair: { length: 3 } })
    expect(withMemberAdded(over, 'ee', breakdown)).not.toHaveProperty('over')
  })
  it('lies on other points and people, never twice on one', () => {
    expect(lyingOn(over, { point: 'knee.left', of: 1 }, breakdown).over?.points).toEqual(['hip.left', 'knee.left'])
    expect(lyingOn(over, { point: 'hip.right', of: 0 }, breakdown).over?.points).toEqual(['hip.right', 'hip.left'])
    // The other person has no right hip placed: what both have takes its place.
    expect(lyingOn(over, { subject: 's1', of: 1 }, breakdown).over).toEqual({ subjects: ['s1', 's1'], points: ['hip.left', 'knee.left'] })
  })
  it('lies on nothing once it lies otherwise', () => expect(laidAs(over, 'above', breakdown)).toEqual({ ...pair, layout: 'above' }))
})
