import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { clearance, distanceToBox, type Box, type Obstacle } from '../../../app/marks/box'
import { choosePlace, placeAnyway, placesOf, type Ground, type Placed, type Size } from '../../../app/marks/place-plate'
import type { Point } from '../../../app/project/fields'

const area: Box = { x: 40, y: 160, width: 1840, height: 650 }
const sizes = [
  { width: 560, height: 190 },
  { width: 380, height: 260 },
]
const within = (box: Box, of: Box): boolean =>
  box.x >= of.x - 1 && box.y >= of.y - 1 && box.x + box.width <= of.x + of.width + 1 && box.y + box.height <= of.y + of.height + 1
const point = fc.tuple(fc.integer({ min: 0, max: 1920 }), fc.integer({ min: 0, max: 1080 }))
const obstacle: fc.Arbitrary<Obstacle> = fc.oneof(
  fc.record({ kind: fc.constant('disc' as const), at: point, radius: fc.integer({ min: 5, max: 60 }) }),
  fc.record({ kind: fc.constant('segment' as const), from: point, to: point, radius: fc.integer({ min: 3, max: 12 }) }),
  fc.record({
    kind: fc.constant('box' as const),
    box: point.chain(([x, y]) =>
      fc.record({
        x: fc.constant(x),
        y: fc.constant(y),
        width: fc.integer({ min: 20, max: 500 }),
        height: fc.integer({ min: 20, max: 300 }),
      }),
    ),
  }),
)

/// A plate that is placed by itself.
const placePlate = (plate: readonly Size[], anchor: Point | null, ground: Ground): Placed | null =>
  choosePlace(placesOf(plate, anchor, ground), [])

describe('a plate is placed', () => {
  it('clear of everything by its margin, inside its area, or not at all', () => {
    fc.assert(
      fc.property(fc.array(obstacle, { maxLength: 25 }), point, (obstacles, anchor: Point) => {
        const ground: Ground = { areas: [area], obstacles, bodies: [], margin: 14 }
        const placed = placePlate(sizes, anchor, ground)
        if (!placed) return
        expect(within(placed.box, area)).toBe(true)
        for (const o of obstacles) expect(clearance(placed.box, o)).toBeGreaterThanOrEqual(14 - 1e-9)
      }),
      { numRuns: 150 },
    )
  })

  it('at the same place every time', () => {
    const ground: Ground = {
      areas: [area],
      obstacles: [{ kind: 'disc', at: [900, 400], radius: 40 }],
      bodies: [{ x: 700, y: 200, width: 400, height: 600 }],
      margin: 14,
    }
    expect(placePlate(sizes, [900, 400], ground)).toEqual(placePlate(sizes, [900, 400], ground))
  })

  it('near its joint, beside the body rather than on it', () => {
    const body: Box = { x: 760, y: 180, width: 300, height: 620 }
    const placed = placePlate(sizes, [900, 500], {
      areas: [area],
      obstacles: [{ kind: 'disc', at: [900, 500], radius: 60 }],
      bodies: [body],
      margin: 14,
    })
    expect(clearance(placed!.box, { kind: 'box', box: body })).toBeGreaterThan(-60)
    expect(distanceToBox(placed!.box, [900, 500])).toBeLessThan(260)
  })

  it('in the next area only where the first has no room', () => {
    const first: Box = { x: 0, y: 200, width: 700, height: 200 }
    const blocked: Obstacle = { kind: 'box', box: { x: 0, y: 200, width: 700, height: 200 } }
    const ground: Ground = { areas: [first, area], obstacles: [], bodies: [], margin: 10 }
    expect(within(placePlate(sizes, [300, 300], ground)!.box, first)).toBe(true)
    const moved = placePlate(sizes, [300, 300], { ...ground, obstacles: [blocked] })!
    expect(within(moved.box, area)).toBe(true)
    expect(clearance(moved.box, blocked)).toBeGreaterThanOrEqual(10)
  })

  it('where it reaches least into anything, where it must be placed and nothing keeps clear', () => {
    const wall: Obstacle = { kind: 'box', box: { x: 0, y: 0, width: 1920, height: 790 } }
    const ground: Ground = { areas: [area], obstacles: [wall], bodies: [], margin: 10 }
    expect(placePlate(sizes, null, ground)).toBeNull()
    const placed = placeAnyway(sizes, null, ground)
    expect(within(placed.box, area)).toBe(true)
    expect(placed.box.y + placed.box.height).toBeCloseTo(area.y + area.height, -1)
  })
})

describe('room between a box and an obstacle', () => {
  const box: Box = { x: 100, y: 100, width: 50, height: 20 }
  it('is what a ruler says', () => {
    expect(clearance(box, { kind: 'disc', at: [180, 110], radius: 10 })).toBeCloseTo(20, 9)
    expect(clearance(box, { kind: 'disc', at: [153, 124], radius: 2 })).toBeCloseTo(3, 9)
    expect(clearance(box, { kind: 'segment', from: [90, 80], to: [200, 80], radius: 5 })).toBeCloseTo(15, 9)
    expect(clearance(box, { kind: 'segment', from: [160, 90], to: [160, 200], radius: 1 })).toBeCloseTo(9, 9)
    expect(clearance(box, { kind: 'box', box: { x: 153, y: 124, width: 5, height: 5 } })).toBeCloseTo(5, 9)
  })

  it('is below zero wherever they overlap', () => {
    expect(clearance(box, { kind: 'disc', at: [120, 110], radius: 3 })).toBeLessThan(0)
    expect(clearance(box, { kind: 'segment', from: [0, 110], to: [300, 110], radius: 1 })).toBeLessThan(0)
    expect(clearance(box, { kind: 'segment', from: [110, 0], to: [110, 300], radius: 0 })).toBeLessThan(0)
    expect(clearance(box, { kind: 'box', box: { x: 140, y: 110, width: 100, height: 100 } })).toBeLessThan(0)
  })
})
