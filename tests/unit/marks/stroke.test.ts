import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { distanceToSegment } from '../../../app/marks/box'
import { clipRing } from '../../../app/marks/clip-shape'
import { arcPoints, boxRing, circleRings, discRing, roundedBoxRing, squareRing, strokeRings, type Ring } from '../../../app/marks/stroke'
import type { Point } from '../../../app/project/fields'

const area = (ring: Ring): number =>
  ring.reduce((sum, [x, y], i) => sum + x * ring[(i + 1) % ring.length]![1] - ring[(i + 1) % ring.length]![0] * y, 0) / 2
const areaOf = (rings: readonly Ring[]): number => rings.reduce((sum, ring) => sum + area(ring), 0)

/// Winding number of rings about a point.
function winding(rings: readonly Ring[], [px, py]: Point): number {
  let turns = 0
  for (const ring of rings)
    ring.forEach(([x, y], i) => {
      const [nx, ny] = ring[(i + 1) % ring.length]!
      const side = (nx - x) * (py - y) - (px - x) * (ny - y)
      if (y <= py && ny > py && side > 0) turns++
      if (y > py && ny <= py && side < 0) turns--
    })
  return turns
}

describe('strokes', () => {
  it('have the area of their line and caps', () => {
    const line: Point[] = [
      [10, 10],
      [110, 10],
    ]
    expect(areaOf(strokeRings(line, { width: 8, cap: 'butt' }))).toBeCloseTo(800, 6)
    expect(areaOf(strokeRings(line, { width: 8, cap: 'square' }))).toBeCloseTo(864, 6)
    expect(areaOf(strokeRings(line, { width: 8, cap: 'round' }))).toBeCloseTo(800 + Math.PI * 16, -1)
  })

  it('and every solid shape wind the same way, so that what overlaps adds up', () => {
    const solids: Ring[] = [
      discRing([0, 0], 5),
      squareRing([3, 3], 4, 0.7),
      boxRing(0, 0, 4, 4),
      roundedBoxRing(0, 0, 40, 20, 5),
      ...strokeRings(
        [
          [0, 0],
          [30, 4],
          [20, 40],
        ],
        { width: 3, cap: 'round' },
      ),
      ...strokeRings(
        [
          [0, 0],
          [-30, 4],
        ],
        { width: 3, cap: 'square', dash: [4, 3] },
      ),
    ]
    for (const ring of solids) expect(area(ring)).toBeGreaterThan(0)
    const [outer, hole] = circleRings([0, 0], 20, 4) as [Ring, Ring]
    expect(area(outer)).toBeGreaterThan(0)
    expect(area(hole)).toBeLessThan(0)
    expect(areaOf([outer, hole])).toBeCloseTo(Math.PI * (22 ** 2 - 18 ** 2), -1)
  })

  it('fill what is nearer to the line than half its width and nothing else, at any bend', () => {
    const point = fc.tuple(fc.integer({ min: 0, max: 100 }), fc.integer({ min: 0, max: 100 }))
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 2, maxLength: 5 }),
        fc.tuple(fc.double({ min: -20, max: 120, noNaN: true }), fc.double({ min: -20, max: 120, noNaN: true })),
        fc.integer({ min: 3, max: 20 }),
        (way, probe, width) => {
          const rings = strokeRings(way, { width, cap: 'round' })
          const distance = Math.min(...way.map((p, i) => distanceToSegment(probe, p, way[i + 1] ?? p)))
          if (Math.abs(distance - width / 2) < 0.35) return
          if (distance < width / 2) expect(winding(rings, probe)).not.toBe(0)
          else expect(winding(rings, probe)).toBe(0)
        },
      ),
      { numRuns: 3000 },
    )
  })

  it('are dashed from their beginning, dash and gap as asked between inked ends', () => {
    const dashes = strokeRings(
      [
        [0, 0],
        [100, 0],
      ],
      { width: 10, cap: 'round', dash: [30, 10] },
    )
    const spans = dashes.map((ring) => [Math.min(...ring.map((p) => p[0])), Math.max(...ring.map((p) => p[0]))])
    expect(spans[0]![0]).toBeCloseTo(-5, 1)
    expect(spans[0]![1]! - spans[0]![0]!).toBeCloseTo(30, 1)
    expect(spans[1]![0]! - spans[0]![1]!).toBeCloseTo(10, 1)
    expect(dashes).toHaveLength(3)
  })

  it('of a single point are a dot, of none nothing, and repeated points count once', () => {
    expect(strokeRings([], { width: 4, cap: 'round' })).toEqual([])
    expect(areaOf(strokeRings([[5, 5]], { width: 4, cap: 'square' }))).toBeCloseTo(16, 6)
    expect(
      strokeRings(
        [
          [5, 5],
          [5, 5],
        ],
        { width: 4, cap: 'butt' },
      ),
    ).toEqual([])
    expect(
      areaOf(
        strokeRings(
          [
            [0, 0],
            [0, 0],
            [10, 0],
            [10, 0],
          ],
          { width: 2, cap: 'butt' },
        ),
      ),
    ).toBeCloseTo(20, 6)
  })

  it('of arcs stray less than a tenth of a pixel from the circle', () => {
    for (const radius of [3, 40, 900]) {
      const points = arcPoints([0, 0], radius, 0.3, 4)
      points.slice(1).forEach(([x, y], i) => {
        const [bx, by] = points[i]!
        expect(radius - Math.hypot((x + bx) / 2, (y + by) / 2)).toBeLessThan(0.1)
      })
      expect(points.at(-1)![0]).toBeCloseTo(radius * Math.cos(4), 9)
    }
  })
})

describe('clipping', () => {
  const box = { x: 20, y: 10, width: 50, height: 40 }

  it('leaves what is inside, drops what is outside, cuts the rest at the edge', () => {
    const inside = boxRing(30, 20, 10, 10)
    expect(clipRing(inside, box)).toBe(inside)
    expect(clipRing(boxRing(100, 100, 5, 5), box)).toEqual([])
    expect(area(clipRing(boxRing(0, 0, 30, 30), box))).toBeCloseTo(10 * 20, 9)
    expect(area(clipRing([...boxRing(0, 0, 30, 30)].reverse(), box))).toBeCloseTo(-200, 9)
  })

  it('keeps exactly the part in the box of any stroke', () => {
    const point = fc.tuple(fc.integer({ min: -50, max: 150 }), fc.integer({ min: -50, max: 150 }))
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 2, maxLength: 4 }),
        fc.tuple(fc.double({ min: 0, max: 90, noNaN: true }), fc.double({ min: 0, max: 70, noNaN: true })),
        (way, probe) => {
          const rings = strokeRings(way, { width: 12, cap: 'square' })
          const clipped = rings.map((ring) => clipRing(ring, box)).filter((ring) => ring.length > 2)
          const [x, y] = probe
          if (Math.min(Math.abs(x - 20), Math.abs(x - 70), Math.abs(y - 10), Math.abs(y - 50)) < 1e-6) return
          const within = x > 20 && x < 70 && y > 10 && y < 50
          expect(winding(clipped, probe) !== 0).toBe(within && winding(rings, probe) !== 0)
        },
      ),
      { numRuns: 1500 },
    )
  })
})
