import { describe, expect, test } from 'vitest'
import { measureContext } from '../../../app/measure/context'
import { elevationFromLines, seenByLines, yawFromLines } from '../../../app/measure/line-view'
import type { FrameTable } from '../../../app/time/frame-table'
import { evenFrameTable } from '../../../app/time/frame-table'
import { cameraMatrix, putBy } from '../../pinhole-matrix'
import { DEGREES, turned } from './calibration'
import { clipOf, filmed } from './filmed'
import { seeded } from './random'

/// Elevation, roll, lens and yaw from ropes, edges and posts, before cameras all around a ring: the axis beside the picture's middle
/// by 2 % of its width, lines untrue, a ring not quite square that lies not quite level, clicks of 2 px, and people who face 5° beside
/// their line (each 1 σ). The pictures are a matrix's; truth is the angles that the matrix was made from, and the camera's place.

const [WIDTH, HEIGHT] = [1920, 1080]
const table: FrameTable = { ...evenFrameTable(10, { n: 30, d: 1 }), picture: { width: WIDTH, height: HEIGHT } }
type Three = readonly [number, number, number]
type Straight = readonly [string, Three, Three]
const side = (up: number, half: number): Straight[] => [
  ['along', [-half, half, up], [half, half, up]],
  ['across', [half, -half, up], [half, half, up]],
  ['along', [-half, -half, up], [half, -half, up]],
  ['across', [-half, -half, up], [-half, half, up]],
]
const ropes = [0.45, 0.75, 1.05, 1.35].flatMap((up) => side(up, 3))
const mat = side(0, 3.6)
const posts: readonly Straight[] = [
  [-3, 3],
  [3, 3],
].map(([x, y]): Straight => ['upright', [x!, y!, -0.3], [x!, y!, 1.5]])

interface Setup {
  readonly things: readonly Straight[]
  readonly least: number
  readonly most: number
  /// How far the picture was cropped to one side: its middle lies so far from the axis, as a share of its width.
  readonly crop?: number
}

function run({ things, least, most, crop = 0 }: Setup, draws: number) {
  const random = seeded(3 * things.length + Math.round(least))
  const names = ['elevation', 'roll', 'lens', 'yaw'] as const
  const tally = Object.fromEntries(names.map((name) => [name, { inside: 0, given: 0, u: [] as number[] }])) as Record<
    (typeof names)[number],
    { inside: number; given: number; u: number[] }
  >
  const reasons = new Map<string, number>()
  for (let n = 0; n < draws; n++) {
    const [heading, elevation, away] = [360 * random.uniform(), least + (most - least) * random.uniform(), 9 + 6 * random.uniform()]
    const [h, e] = [heading / DEGREES, elevation / DEGREES]
    const camera = {
      stands: [-away * Math.cos(e) * Math.sin(h), -away * Math.cos(e) * Math.cos(h), 0.8 + away * Math.sin(e)] as const,
      heading,
      elevation,
      roll: 3 * random.normal(),
      focal: WIDTH * (away / 9) * (0.7 + 0.3 * random.uniform()),
      middle: [WIDTH * (0.5 + crop + 0.02 * random.normal()), HEIGHT / 2 + 0.02 * WIDTH * random.normal()] as const,
    }
    const matrix = cameraMatrix(camera)
    // The hall is askew, and leans as a whole.
    const [skew, east, north] = [(0.5 / DEGREES) * random.normal(), (0.3 / DEGREES) * random.normal(), (0.3 / DEGREES) * random.normal()]
    const lies = ([x, y, z]: Three): Three => [x, y, z + east * x + north * y]
    const clicked = (at: Three): [number, number] => {
      const put = putBy(matrix, at)!
      return [put[0] + 2 * random.normal(), put[1] + 2 * random.normal()]
    }
    const counts: Record<string, number> = {}
    const placed = (point: string, at: [number, number]) => ({ clip: 'c', point, samples: [{ frame: 1, at, sigma: 2 }] })
    const landmarks = things.flatMap(([way, from, to]) => {
      const half = [0, 1, 2].map((k) => (to[k]! - from[k]!) / 2) as unknown as Three
      const untrue = ((way === 'upright' ? 0.5 : 0.25) / DEGREES) * Math.hypot(...half)
      const along: Three =
        way === 'upright'
          ? [half[0] - east * half[2], half[1] - north * half[2], half[2]]
          : lies(way === 'across' ? [half[0] - skew * half[1], half[1], 0] : half)
      const leant = along.map((v) => v + untrue * random.normal())
      const mid = lies([0, 1, 2].map((k) => (from[k]! + to[k]!) / 2) as unknown as Three)
      const at = (t: number): Three => mid.map((v, k) => v + t * leant[k]!) as unknown as Three
      // What the picture shows of it, from one edge to the other.
      const inside = Array.from({ length: 101 }, (_, i) => i / 50 - 1).filter((t) => {
        const put = putBy(matrix, at(t))
        return put && put[0] > 8 && put[0] < WIDTH - 8 && put[1] > 8 && put[1] < HEIGHT - 8
      })
      if (inside.length < 25) return []
      counts[way] = (counts[way] ?? 0) + 2
      return [inside[0]!, inside.at(-1)!].map((t, i) => placed(`${way}.${counts[way]! - 1 + i}`, clicked(at(t))))
    })
    const [x, y, faces] = [2 * random.uniform() - 1, 2 * random.uniform() - 1, 2 * Math.PI * random.uniform()]
    const line = faces + (5 / DEGREES) * random.normal()
    const film = filmed({
      clips: [clipOf('c', { hall: { camera: 'still' } })],
      measures: [],
      landmarks: [
        ...landmarks,
        placed('hip.mid', clicked([x, y, 0.95])),
        placed('facing.1', clicked([x - 0.6 * Math.cos(line), y - 0.6 * Math.sin(line), 0])),
        placed('facing.2', clicked([x + 0.6 * Math.cos(line), y + 0.6 * Math.sin(line), 0])),
      ],
    })
    const context = measureContext(film, () => table)
    const [cx, cy] = [camera.stands[0] - x, camera.stands[1] - y]
    const seen = seenByLines(context, film.clips[0]!, 's', 1)
    if (!seen.ok) reasons.set(seen.error, (reasons.get(seen.error) ?? 0) + 1)
    const raised = elevationFromLines(context, film.clips[0]!, 's', 1, seen)
    const yaw = yawFromLines(context, film.clips[0]!, 's', 1, seen)
    const told = {
      elevation: raised.ok ? raised.value.angle : null,
      roll: seen.ok && seen.value.roll.ok ? seen.value.roll.value : null,
      lens: seen.ok ? seen.value.lens : null,
      yaw: yaw.ok ? yaw.value : null,
    }
    const truth = {
      elevation: Math.atan2(camera.stands[2] - 0.95, Math.hypot(cx, cy)) * DEGREES,
      roll: camera.roll,
      lens: 2 * Math.atan(WIDTH / 2 / camera.focal) * DEGREES,
      // Towards the camera 90; who faces to its right as it looks from there, 0.
      yaw: Math.atan2(Math.cos(faces) * cx + Math.sin(faces) * cy, Math.cos(faces) * -cy + Math.sin(faces) * cx) * DEGREES,
    }
    for (const name of names) {
      const angle = told[name]
      if (!angle) continue
      tally[name].given++
      tally[name].u.push(angle.u)
      if (Math.abs(turned(angle.deg - truth[name])) <= 1.96 * angle.u) tally[name].inside++
    }
  }
  const found = Object.fromEntries(
    names.map((name) => {
      const { inside, given, u } = tally[name]
      return [name, { inside: inside / given, given, u: u.sort((a, b) => a - b)[u.length >> 1] ?? NaN }]
    }),
  ) as Record<(typeof names)[number], { inside: number; given: number; u: number }>
  return { found, reasons: Object.fromEntries(reasons) }
}

describe('from lines at right angles', () => {
  test.each([
    { name: 'two edges of a mat each way', things: mat, least: 8, most: 60, draws: 1700 },
    {
      name: 'the ropes of two sides and a post at each end',
      things: [...ropes.filter((_, i) => i % 4 < 2), ...posts],
      least: 5,
      most: 60,
      draws: 1700,
    },
    { name: 'a ring’s ropes, its mat and two posts', things: [...ropes, ...mat, ...posts], least: 5, most: 70, draws: 1100 },
  ])('of $name elevation, roll, lens and yaw hold the truth as often as they claim', (setup) => {
    const { found, reasons } = run(setup, setup.draws)
    const log = `${setup.name}: ${JSON.stringify(found)} ${JSON.stringify(reasons)}`
    console.info(log)
    for (const [name, { inside, given, u }] of Object.entries(found)) {
      expect(given, `${name}, ${log}`).toBeGreaterThan(1000)
      expect(inside, `${name}, ${log}`).toBeGreaterThan(0.925)
      expect(inside, `${name}, ${log}`).toBeLessThan(0.975)
      expect(u, `${name}, ${log}`).toBeLessThan(name === 'yaw' ? 7 : name === 'lens' ? 5 : 2)
    }
  })

  test('a picture that was cropped far to one side is not told as if it were whole where there are posts', () => {
    const { reasons } = run({ things: [...ropes, ...mat, ...posts], least: 25, most: 55, crop: 0.22 }, 60)
    console.info(JSON.stringify(reasons))
    expect(reasons['lines-not-square'] ?? 0, JSON.stringify(reasons)).toBeGreaterThan(30)
  })
})
