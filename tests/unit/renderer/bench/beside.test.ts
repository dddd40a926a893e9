import { expect, it } from 'vitest'
import { evenFrameTable } from '../../../../app/time/frame-table'
import { frameBeside, lockWords, type Lock } from '../../../../renderer/bench/beside'

const clip = (id: string) => ({ id, footage: id, from: 0, to: 200, capture: 'unknown' as const })
const lock: Lock = {
  clip: clip('b'),
  on: { id: 'e1', clip: 'a', name: 'contact', earliest: 100, latest: 100 },
  there: { id: 'e2', clip: 'b', name: 'contact', earliest: 50, latest: 50 },
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
