import { beforeAll, describe, expect, test } from 'vitest'
import type { Point } from '../../../app/project/fields'
import type { GreyPicture } from '../../../app/track/grey-picture'
import { beginFollowing, followOn, type Followed } from '../../../app/track/follow-point'
import { followedFrom, greysOf, summaryOf, type Found } from '../../track-trial'

/// Patches of a real film (one signer, 640 × 480; sample videos of the intel-iot-devkit collection, CC BY 4.0) cut out, moved,
/// scaled and blurred along known paths over the film's own frames; and the untouched film, of which nothing is known but
/// that there and back again must agree.
const of = { kind: 'mark', figureHeight: null, rate: 30 } as const
let greys: GreyPicture[] = []
beforeAll(async () => {
  greys = await greysOf('tests/data/video/asl_walk.mkv', 640, 480)
}, 60_000)

interface Way {
  readonly at: (frame: number) => Point
  readonly scale: (frame: number) => number
  readonly blur: (frame: number) => number
}
const RADIUS = 34

/// The patch about `from` of frame 0 laid over every frame, its edge feathered over 6 px, blurred along its way by so many px.
function moved(from: Point, way: Way): GreyPicture[] {
  const source = greys[0]!
  const level = (x: number, y: number): number => {
    const [i, j] = [
      Math.max(0, Math.min(source.width - 2, Math.floor(x - 0.5))),
      Math.max(0, Math.min(source.height - 2, Math.floor(y - 0.5))),
    ]
    const [fx, fy] = [x - 0.5 - i, y - 0.5 - j]
    const row = j * source.width + i
    return (
      (1 - fy) * ((1 - fx) * source.data[row]! + fx * source.data[row + 1]!) +
      fy * ((1 - fx) * source.data[row + source.width]! + fx * source.data[row + source.width + 1]!)
    )
  }
  return greys.slice(0, 60).map((grey, frame) => {
    const data = Uint8Array.from(grey.data)
    const [cx, cy] = way.at(frame)
    const [px, py] = way.at(frame + 0.5)
    const step = Math.max(1e-9, Math.hypot(px - cx, py - cy))
    const [bx, by] = [((px - cx) / step) * way.blur(frame), ((py - cy) / step) * way.blur(frame)]
    const scale = way.scale(frame)
    const reach = Math.ceil(RADIUS * scale) + 2
    for (let j = Math.max(0, Math.floor(cy) - reach); j < Math.min(grey.height, cy + reach); j++)
      for (let i = Math.max(0, Math.floor(cx) - reach); i < Math.min(grey.width, cx + reach); i++) {
        const [u, v] = [(i + 0.5 - cx) / scale, (j + 0.5 - cy) / scale]
        const share = Math.max(0, Math.min(1, (RADIUS - Math.hypot(u, v)) / 6))
        if (share === 0) continue
        let sum = 0
        for (let k = -2; k <= 2; k++) sum += level(from[0] + u - (bx * k) / 4 / scale, from[1] + v - (by * k) / 4 / scale)
        data[j * grey.width + i] = Math.round(share * (sum / 5) + (1 - share) * grey.data[j * grey.width + i]!)
      }
    return { width: grey.width, height: grey.height, data }
  })
}

/// Head, lanyard, badge and sleeve of frame 0, and four ways to go.
const patches: readonly Point[] = [
  [292, 210],
  [300, 330],
  [385, 300],
  [205, 400],
]
const ways: readonly { readonly name: string; readonly way: (from: Point) => Way }[] = [
  {
    name: 'slowly',
    way: ([x, y]) => ({ at: (n) => [x + 40 * Math.sin(n / 11), y + 0.9 * n * Math.cos(n / 25)], scale: () => 1, blur: () => 0 }),
  },
  {
    name: 'fast and blurred',
    way: ([x, y]) => ({
      at: (n) => [x + 80 * Math.sin(n / 6), y - 45 * (1 - Math.cos(n / 7))],
      scale: () => 1,
      blur: (n) => 4 + 3 * Math.sin(n / 6),
    }),
  },
  { name: 'growing', way: ([x, y]) => ({ at: (n) => [x + 1.3 * n, y - 0.7 * n], scale: (n) => 1 + n / 150, blur: () => 0 }) },
  {
    name: 'shrinking, blurred',
    way: ([x, y]) => ({
      at: (n) => [x - 1.1 * n, y + 20 * Math.sin(n / 9)],
      scale: (n) => 1 - n / 200,
      blur: (n) => (n % 20 > 12 ? 5 : 1),
    }),
  },
]

describe('patches on known ways', () => {
  test('95 % of kept places lie inside their own 95 % circle, and none lies 6 px off without a flag', async () => {
    const found: Found[] = []
    const stops: string[] = []
    for (const from of patches)
      for (const { way } of ways) {
        const path = way(from)
        const run = await followedFrom(moved(from, path), path.at, 0, 59, of)
        found.push(...run.found)
        stops.push(...run.stops)
      }
    const summary = summaryOf(found)
    console.info(`moved patches: ${JSON.stringify(summary)}, let go: ${stops.join(', ') || 'none'}`)
    expect(summary.kept).toBeGreaterThan(0.6 * patches.length * ways.length * 59)
    expect(summary.inside).toBeGreaterThanOrEqual(0.95)
    expect(summary.farUnflagged).toBe(0)
  })
})

describe('the untouched film', () => {
  test('tells how often it lets go, and how well there and back again agree', () => {
    const backs: number[] = []
    let steps = 0
    let stops = 0
    for (let x = 60; x <= 600; x += 45)
      for (let y = 60; y <= 440; y += 45) {
        let point: ReturnType<typeof followOn> | null = beginFollowing(greys[0]!, [x, y])
        for (let frame = 1; frame < greys.length && point && typeof point !== 'string'; frame++) {
          steps++
          point = followOn(point as Followed, greys[frame]!)
          if (typeof point === 'string') stops++
          else backs.push(point.checks.back)
        }
      }
    backs.sort((a, b) => a - b)
    console.info(
      `untouched film: ${steps} steps, let go at ${((100 * stops) / steps).toFixed(2)} %; there and back: median ${backs[Math.floor(backs.length / 2)]!.toFixed(3)} px, p95 ${backs[Math.floor(backs.length * 0.95)]!.toFixed(3)} px`,
    )
    expect(steps).toBeGreaterThan(1000)
    expect(stops / steps).toBeLessThan(0.1)
    expect(backs[Math.floor(backs.length * 0.95)]!).toBeLessThan(0.3)
  })
})
