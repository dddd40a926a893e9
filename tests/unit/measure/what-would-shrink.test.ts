import { describe, expect, it } from 'vitest'
import { whatWouldShrink } from '../../../app/measure/what-would-shrink'
import type { Measure } from '../../../app/project/question'
import { readingsOf } from '../../../app/measure/readings'
import { read, scene, table60 } from './scene'

const eye = (unit: string, more: object = {}): Measure => ({
  id: 'e',
  kind: 'by-eye',
  clip: 'c1',
  frame: 460,
  what: 'rear knee',
  value: 140,
  unit,
  ...more,
})

describe('what would help a value judged by eye', () => {
  it.each([
    ['°', 'place its points and measure the angle, or look at it again without seeing this value'],
    ['s', 'mark both events and measure the time between them, or look at it again without seeing this value'],
    ['frames', 'mark both events and count the frames between them, or look at it again without seeing this value'],
    ['trunk lengths', 'place its points and measure the distance, or look at it again without seeing this value'],
    ['%', 'look at it again without seeing this value'],
    ['constructor', 'look at it again without seeing this value'],
  ])('should be measuring it where %s can be, or looking again blind', (unit, advice) =>
    expect(whatWouldShrink(read(eye(unit)))).toMatchObject({ part: 'judging', advice }),
  )

  it('should be so of two of them held against each other', () => {
    const two = [
      { ...eye('°', { u: 2 }), id: 'e1' },
      { ...eye('°', { u: 2 }), id: 'e2', frame: 470 },
      { id: 'd', kind: 'comparison', measures: ['e1', 'e2'] },
    ] as Measure[]
    expect(whatWouldShrink(readingsOf(scene(two), () => table60)[2]!)?.advice).toMatch(/^place its points and measure the angle/)
  })

  it('should never be to place more of the body, nor of a turn told from widths', () => {
    expect(whatWouldShrink({ ...read(eye('°')), kind: 'separation', parts: [{ name: 'model', U: 9 }] })?.advice).toBe(
      'measure it from a camera that looks down from above',
    )
    expect(whatWouldShrink({ ...read(eye('°')), kind: 'centre-of-mass', parts: [{ name: 'model', U: 9 }] })?.advice).toBe(
      'place more of the body',
    )
  })
})
