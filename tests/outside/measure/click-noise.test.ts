import { describe, expect, test } from 'vitest'
import { jointAngle, lean, toRadians } from '../../../app/geometry/angle'
import { clipOf, filmed, type Sample } from './filmed'
import { readingsOf } from '../../../app/measure/readings'
import type { Point } from '../../../app/project/fields'
import { seeded } from './random'

/// A table computed apart from this code: u of four readings for a figure's height and a click σ.
/// Segment lengths as shares of height: Winter's proportions and our own trunk length.
const TABLE = [
  { height: 250, sigma: 4, knee150: 8.9, knee90: 7.5, elbow90: 11.3, trunk: 3.2 },
  { height: 400, sigma: 2, knee150: 2.8, knee90: 2.3, elbow90: 3.5, trunk: 1.0 },
  { height: 400, sigma: 4, knee150: 5.6, knee90: 4.7, elbow90: 7.1, trunk: 2.0 },
  { height: 400, sigma: 8, knee150: 11.2, knee90: 9.3, elbow90: 14.1, trunk: 4.0 },
  { height: 700, sigma: 4, knee150: 3.2, knee90: 2.7, elbow90: 4.0, trunk: 1.1 },
] as const

const DRAWS = 40_000

/// A joint of two limbs at the origin.
const joint = (deg: number, first: number, last: number): [Point, Point, Point] => [
  [0, -first],
  [0, 0],
  [last * Math.sin(toRadians(deg)), -last * Math.cos(toRadians(deg))],
]

const spread = (values: readonly number[]): number => {
  const mean = values.reduce((s, v) => s + v, 0) / values.length
  return Math.sqrt(values.reduce((s, v) => s + (v - mean) ** 2, 0) / (values.length - 1))
}

describe('click noise against a table computed apart from this code, Monte Carlo', () => {
  const random = seeded(22)
  const moved = (p: Point, sigma: number): Point => [p[0] + sigma * random.normal(), p[1] + sigma * random.normal()]

  for (const row of TABLE) {
    const { height: H, sigma } = row
    const cases = [
      { name: 'knee 150°', printed: row.knee150, points: joint(150, 0.245 * H, 0.246 * H) },
      { name: 'knee 90°', printed: row.knee90, points: joint(90, 0.245 * H, 0.246 * H) },
      { name: 'elbow 90°', printed: row.elbow90, points: joint(90, 0.186 * H, 0.146 * H) },
    ]
    for (const { name, printed, points } of cases)
      test(`${name}, ${H} px tall, σ ${sigma} px: formula, simulation and table agree`, () => {
        const formula = sigma * Math.hypot(...jointAngle(...points)!.slopes.flat())
        expect(Math.abs(formula - printed)).toBeLessThanOrEqual(0.0501)
        // Unfolded at 180, so that the spread is that of the angle and not of its fold.
        const simulated = spread(
          Array.from({ length: DRAWS }, () => {
            const [a, b, c] = points.map((p) => moved(p, sigma)) as [Point, Point, Point]
            const angle = jointAngle(a, b, c)!.deg
            const turn = (a[0] - b[0]) * (c[1] - b[1]) - (a[1] - b[1]) * (c[0] - b[0])
            return turn < 0 ? 360 - angle : angle
          }),
        )
        // "Monte Carlo agrees within 1–2 % for σ/L ≤ 0.08"; beyond, the tail of short limbs adds.
        const ratio = sigma / Math.min(...[points[0], points[2]].map((p) => Math.hypot(...p)))
        expect(Math.abs(simulated / formula - 1)).toBeLessThan(ratio <= 0.08 ? 0.02 : 0.06)
      })

    test(`trunk lean, ${H} px tall, σ ${sigma} px: formula, simulation and table agree`, () => {
      const L = 0.288 * H
      const atEnds = sigma / Math.SQRT2
      const formula = atEnds * Math.hypot(...lean([0, 0], [0, -L])!.slopes.flat())
      expect(Math.abs(formula - row.trunk)).toBeLessThanOrEqual(0.0501)
      const simulated = spread(Array.from({ length: DRAWS }, () => lean(moved([0, 0], atEnds), moved([0, -L], atEnds))!.deg))
      expect(Math.abs(simulated / formula - 1)).toBeLessThan(0.02)
    })
  }

  test("a reading carries the table's u: knee 150°, 400 px, σ 4", () => {
    const [hip, knee, ankle] = joint(150, 98, 98.4).map(([x, y]): [number, number] => [x + 500, y + 500]) as [
      [number, number],
      [number, number],
      [number, number],
    ]
    const sample = (at: [number, number]): Sample[] => [{ frame: 0, at, sigma: 4 }]
    const [reading] = readingsOf(
      filmed({
        clips: [clipOf('c')],
        landmarks: [
          { clip: 'c', point: 'hip.left', samples: sample(hip) },
          { clip: 'c', point: 'knee.left', samples: sample(knee) },
          { clip: 'c', point: 'ankle.left', samples: sample(ankle) },
        ],
        measures: [{ id: 'm', kind: 'joint-angle', clip: 'c', subject: 's', frame: 0, points: ['hip.left', 'knee.left', 'ankle.left'] }],
      }),
      () => null,
    )
    expect(reading!.u).toBeCloseTo(5.6, 1)
    expect(reading!.label).toBe('apparent left knee angle, image plane: 150° ± 11°')
  })
})
