import { expect, it } from 'vitest'
import type { Reading } from '../../../../app/measure/reading'
import type { Point } from '../../../../app/project/fields'
import { edgePlaces } from '../../../../renderer/bench/edge-places'

const stage = { width: 1348, height: 660 }
const wanted = (id: string, joint: Point, tall?: number) => ({ reading: { id } as Reading, joint, tall })

it('should lay readings of one side below each other without one upon the next, however many lines they take', () => {
  const places = edgePlaces([wanted('a', [900, 200], 170), wanted('b', [901, 210], 96), wanted('c', [400, 300], 60)], stage)
  const right = places.filter(({ side }) => side === 'right')
  expect(right.map(({ reading }) => reading.id)).toEqual(['a', 'b'])
  expect(right[1]!.top - right[0]!.top).toBeGreaterThanOrEqual(170)
})

it('should keep the last of them above the guide, and leave out what finds no room', () => {
  const places = edgePlaces(
    ['a', 'b', 'c', 'd', 'e'].map((id, i) => wanted(id, [900 + i, 640], 220)),
    stage,
  )
  expect(places.map(({ reading }) => reading.id).toSorted()).toHaveLength(4)
  for (const { top } of places) expect(top + 220).toBeLessThanOrEqual(stage.height - 96)
})
