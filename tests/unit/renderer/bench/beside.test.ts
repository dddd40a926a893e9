import { expect, it } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import { evenFrameTable } from '../../../../app/time/frame-table'
import { measureContext } from '../../../../app/measure/context'
import { frameBeside, locksOf, lockWords, offsetHolding, type Lock } from '../../../../renderer/bench/beside'

const clip = (id: string) => ({ id, footage: id, from: 0, to: 200, capture: 'unknown' as const })
const lock: Lock = {
  clip: clip('b'),
  on: { id: 'e1', clip: 'a', name: 'contact', earliest: 100, latest: 100 },
  there: { id: 'e2', clip: 'b', name: 'contact', earliest: 50, latest: 50 },
  shared: ['contact'],
  tables: [evenFrameTable(200, { n: 120, d: 1 }), evenFrameTable(200, { n: 30, d: 1 })],
  factors: [1, 4],
}

it('should show both events at once, and run at one real rate: a fourfold replay frame by frame with 120 a second', () => {
  expect([100, 101, 97].map((frame) => frameBeside(lock, frame, 0))).toEqual([50, 51, 47])
  expect([100, 104, 96].map((frame) => frameBeside({ ...lock, factors: [1, 1] }, frame, 0))).toEqual([50, 51, 49])
})

it('should step alone, and stay within its clip', () => {
  expect(frameBeside(lock, 100, -2)).toBe(48)
  expect(frameBeside(lock, 0, 0)).toBe(0)
})

it('should say that the speed is not matched where a capture factor is not known', () => {
  expect(lockWords({ ...lock, factors: null }, 1)).toBe('locked on contact, speed not matched, 1 frame on')
  expect(frameBeside({ ...lock, factors: null }, 103, 0)).toBe(53)
})

it('should step the own clip alone: the other stays on its frame', () => {
  for (const factors of [[1, 4], [1, 1], null] as const)
    for (const frame of [90, 99, 101, 110])
      expect(frameBeside({ ...lock, factors }, frame, offsetHolding({ ...lock, factors }, frame, 50))).toBe(50)
})

it('should lock on contact unless another shared event is asked for', () => {
  const at = (id: string, clip: string, name: string, frame: number) => ({ id, clip, name, earliest: frame, latest: frame })
  const breakdown: Breakdown = {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Two',
    output: { width: 320, height: 180, rate: '30/1' },
    footage: [
      { id: 'a', file: 'a.mp4' },
      { id: 'b', file: 'b.mp4' },
    ],
    subjects: [],
    clips: [clip('a'), clip('b')],
    events: [
      at('e1', 'a', 'plant', 80),
      at('e2', 'a', 'contact', 100),
      at('e3', 'b', 'plant', 30),
      at('e4', 'b', 'contact', 50),
      at('e5', 'b', 'load', 10),
    ],
    script: [],
  }
  const context = measureContext(breakdown, () => evenFrameTable(200, { n: 30, d: 1 }))
  const on = (asked: string | null) =>
    locksOf(breakdown.clips[0]!, context, asked).map((each) => [each.clip.id, each.on.id, each.there.id, each.shared])
  expect(on(null)).toEqual([['b', 'e2', 'e4', ['plant', 'contact']]])
  expect(on('plant')).toEqual([['b', 'e1', 'e3', ['plant', 'contact']]])
  expect(on('load')).toEqual(on(null))
})
