import { describe, expect, it, test } from 'vitest'
import { lineCamera, type LineKnowledge, type LinePose, type LineWay, type SeenLine } from '../../../app/geometry/line-camera'
import type { Point } from '../../../app/project/fields'
import { seeded, type Random } from '../../outside/measure/random'
import { cameraMatrix, putBy, type Turned } from '../../pinhole-matrix'

/// A ring of six metres with four ropes a side, a mat about it and four posts, before cameras all around it. The pictures are made by
/// a matrix; what the lines tell is held against the angles that the matrix was made from.

const [WIDTH, HEIGHT] = [1920, 1080]
const MIDDLE: Point = [WIDTH / 2, HEIGHT / 2]
type Three = readonly [number, number, number]
type Straight = readonly [LineWay, Three, Three]
const ropes: readonly Straight[] = [0.45, 0.75, 1.05, 1.35].flatMap((up): Straight[] => [
  ['along', [-3, 3, up], [3, 3, up]],
  ['along', [-3, -3, up], [3, -3, up]],
  ['across', [3, -3, up], [3, 3, up]],
  ['across', [-3, -3, up], [-3, 3, up]],
])
const mat: readonly Straight[] = [
  ['along', [-3.6, 3.6, 0], [3.6, 3.6, 0]],
  ['along', [-3.6, -3.6, 0], [3.6, -3.6, 0]],
  ['across', [3.6, -3.6, 0], [3.6, 3.6, 0]],
  ['across', [-3.6, -3.6, 0], [-3.6, 3.6, 0]],
]
const posts: readonly Straight[] = [
  [-3, -3],
  [3, -3],
  [3, 3],
  [-3, 3],
].map(([x, y]): Straight => ['upright', [x!, y!, -0.3], [x!, y!, 1.5]])

const DEGREES = 180 / Math.PI
const KNOWN: LineKnowledge = {
  middleShare: 0.02,
  trueness: { along: 0.25 / DEGREES, across: 0.25 / DEGREES, upright: 0.5 / DEGREES },
  squareness: 0.5 / DEGREES,
}

/// The straight things as the camera shows them: those across askew, each turned about its middle by what lines are untrue by, their
/// ends placed with σ px. Without chance: as they are.
function shown(camera: Turned, things: readonly Straight[], sigma: number, random: Random | null): SeenLine[] {
  const matrix = cameraMatrix(camera)
  const noise = (size: number): number => (random ? size * random.normal() : 0)
  const skew = noise(KNOWN.squareness)
  return things.flatMap(([way, from, to]): SeenLine[] => {
    const half = [0, 1, 2].map((k) => (to[k]! - from[k]!) / 2) as unknown as Three
    const long = Math.hypot(...half)
    const askew: Three = way === 'across' ? [half[0] - skew * half[1], half[1], half[2]] : half
    const leant = askew.map((v) => v + noise(KNOWN.trueness[way] * long))
    const place = (sign: number): Three => [0, 1, 2].map((k) => (from[k]! + to[k]!) / 2 + sign * leant[k]!) as unknown as Three
    const ends = [putBy(matrix, place(-1)), putBy(matrix, place(1))]
    if (!ends[0] || !ends[1]) return []
    const placed = ends.map((end): Point => [end![0] + noise(sigma), end![1] + noise(sigma)]) as [Point, Point]
    return [{ way, ends: placed, sigmas: [sigma, sigma] }]
  })
}

const elevation = ({ up }: LinePose): number => -DEGREES * Math.asin(up[2])
const roll = ({ up }: LinePose): number => DEGREES * Math.atan2(-up[0], -up[1])
/// How far the lines along are turned from square to where the camera looks, anticlockwise seen from above; a line has no sign.
const heading = ({ along, up }: LinePose): number => {
  const ahead: Three = [-up[2] * up[0], -up[2] * up[1], 1 - up[2] * up[2]]
  const right: Three = [ahead[1] * up[2] - ahead[2] * up[1], ahead[2] * up[0] - ahead[0] * up[2], ahead[0] * up[1] - ahead[1] * up[0]]
  const by = (a: Three): number => a[0] * along[0] + a[1] * along[1] + a[2] * along[2]
  return DEGREES * Math.atan2(by(ahead), by(right))
}
const turned = (deg: number, by: number): number => deg - by * Math.round(deg / by)

interface Draw {
  readonly least: number
  readonly most: number
  readonly things: readonly Straight[]
}

/// Cameras at the ring's height of view and above, looking at it from anywhere around, the ring as wide as the picture or so.
function drawn(random: Random, { least, most, things }: Draw): { camera: Turned; lines: SeenLine[] } {
  const heading = 360 * random.uniform()
  const elevation = least + (most - least) * random.uniform()
  const away = 9 + 6 * random.uniform()
  const [h, e] = [heading / DEGREES, elevation / DEGREES]
  const camera: Turned = {
    stands: [-away * Math.cos(e) * Math.sin(h), -away * Math.cos(e) * Math.cos(h), 0.8 + away * Math.sin(e)],
    heading,
    elevation,
    roll: 3 * random.normal(),
    focal: WIDTH * (away / 9) * (0.7 + 0.3 * random.uniform()),
    middle: [MIDDLE[0] + 0.02 * WIDTH * random.normal(), MIDDLE[1] + 0.02 * WIDTH * random.normal()],
  }
  return { camera, lines: shown(camera, things, 1.2, random) }
}

function coverage(draw: Draw, draws: number, seed: number) {
  const random = seeded(seed)
  const tally: Record<string, { inside: number; given: number; u: number[] }> = {}
  let open = 0
  for (let n = 0; n < draws; n++) {
    const { camera, lines } = drawn(random, draw)
    const found = lineCamera(lines, { width: WIDTH, height: HEIGHT }, KNOWN)
    if (!found || found.focalShare > 0.15 || found.turnSigma > 5 / DEGREES) {
      open++
      continue
    }
    const values: Record<string, readonly [number, number, (pose: LinePose) => number]> = {
      elevation: [camera.elevation, 360, elevation],
      roll: [camera.roll, 360, roll],
      heading: [camera.heading, 180, heading],
      focal: [Math.log(camera.focal), 0, ({ focal }) => Math.log(focal)],
    }
    for (const [name, [truth, period, value]] of Object.entries(values)) {
      const at = found.tell(value)
      const { sigma } = found.tell((pose) => (period > 0 ? turned(value(pose) - at.value, period) : value(pose)))
      const off = period > 0 ? turned(at.value - truth, period) : at.value - truth
      const noted = (tally[name] ??= { inside: 0, given: 0, u: [] })
      noted.given++
      noted.u.push(sigma)
      if (Math.abs(off) <= 1.96 * sigma) noted.inside++
    }
  }
  const share = Object.fromEntries(Object.entries(tally).map(([name, { inside, given }]) => [name, inside / given]))
  const median = Object.fromEntries(Object.entries(tally).map(([name, { u }]) => [name, u.sort((a, b) => a - b)[u.length >> 1]!]))
  return { share, median, given: tally['elevation']?.given ?? 0, open }
}

test('a ring’s lines tell lens, elevation, roll and heading as often within their errors as they claim', () => {
  const found = coverage({ things: [...mat, ...posts.slice(0, 2)], least: 8, most: 70 }, 1200, 5)
  const log = JSON.stringify(found)
  console.info(log)
  expect(found.given, log).toBeGreaterThan(1100)
  for (const inside of Object.values(found.share)) {
    expect(inside, log).toBeGreaterThan(0.925)
    expect(inside, log).toBeLessThan(0.975)
  }
})

const seenFrom = (camera: Partial<Turned>, things: readonly Straight[]): SeenLine[] =>
  shown({ stands: [-5, -9, 4], heading: 32, elevation: 17, roll: 2, focal: 1700, middle: MIDDLE, ...camera }, things, 1, null)

describe('without any chance', () => {
  it.each([17, 40, 72])('should find the very camera that the matrix was made from, looking down by %d°', (deg) => {
    const [h, e] = [32 / DEGREES, deg / DEGREES]
    const camera = lineCamera(
      seenFrom({ elevation: deg, stands: [-11 * Math.cos(e) * Math.sin(h), -11 * Math.cos(e) * Math.cos(h), 0.8 + 11 * Math.sin(e)] }, [
        ...ropes,
        ...mat,
        ...posts,
      ]),
      { width: WIDTH, height: HEIGHT },
      KNOWN,
    )!
    expect(camera.pose.focal).toBeCloseTo(1700, 2)
    expect(elevation(camera.pose)).toBeCloseTo(deg, 5)
    expect(roll(camera.pose)).toBeCloseTo(2, 5)
    expect(turned(heading(camera.pose) - 32, 180)).toBeCloseTo(0, 5)
    expect(camera.misfit).toBeLessThan(1e-6)
  })

  it('should be the same whichever end of a line was placed first, and for either name of the two directions', () => {
    const lines = seenFrom({}, mat)
    const flipped = lines.map((line, i): SeenLine => ({ ...line, ends: i % 2 === 0 ? [line.ends[1], line.ends[0]] : line.ends }))
    const renamed = lines.map((line): SeenLine => ({ ...line, way: line.way === 'along' ? 'across' : 'along' }))
    for (const other of [flipped, renamed]) {
      const camera = lineCamera(other, { width: WIDTH, height: HEIGHT }, KNOWN)!
      expect([camera.pose.focal / 1700, elevation(camera.pose), roll(camera.pose)].map((v) => Number(v.toFixed(5)))).toEqual([1, 17, 2])
    }
  })

  it('should say that the lens is open before a side that is square to the view', () => {
    const camera = lineCamera(seenFrom({ heading: 0, stands: [0, -12, 4], roll: 0 }, mat), { width: WIDTH, height: HEIGHT }, KNOWN)!
    expect(camera.focalShare).toBeGreaterThan(0.5)
  })

  it('should name the kind of which one line runs elsewhere', () => {
    const lines = seenFrom({}, [...ropes.slice(0, 8), ...mat])
    const [x, y] = lines[0]!.ends[1]
    const amiss = lineCamera(
      [{ ...lines[0]!, ends: [lines[0]!.ends[0], [x, y + 60]] }, ...lines.slice(1)],
      { width: WIDTH, height: HEIGHT },
      KNOWN,
    )!
    const by = Object.fromEntries(amiss.ways.map(({ way, misfit, freedom }) => [way, misfit / freedom]))
    expect(by['along']).toBeGreaterThan(10)
    expect(by['across']).toBeLessThan(0.1)
  })

  it('should fit nothing to one line of a kind', () => {
    expect(lineCamera(seenFrom({}, mat.slice(0, 3)), { width: WIDTH, height: HEIGHT }, KNOWN)).toBeNull()
  })
})

/// In closed form, of two lines each way: v = l₁ × l₂, f² = −v₁·v₂ about the picture's middle, the horizon v₁ × v₂ (Hartley and
/// Zisserman 2003 §8.6, §8.8; Caprile and Torre 1990).
it('should come to what two vanishing points tell in closed form, where two lines each way are all there is', () => {
  const random = seeded(4)
  for (let n = 0; n < 20; n++) {
    const lines = shown(
      {
        stands: [-5, -9, 4],
        heading: 30 + 20 * random.uniform(),
        elevation: 17,
        roll: 2,
        focal: 1700,
        middle: [MIDDLE[0] + 20, MIDDLE[1] - 30],
      },
      mat,
      1.5,
      random,
    )
    const cross = (a: Three, b: Three): Three => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
    const line = ({ ends: [[x, y], [u, v]] }: SeenLine): Three =>
      cross([x - MIDDLE[0], y - MIDDLE[1], 1], [u - MIDDLE[0], v - MIDDLE[1], 1])
    const [one, other] = (['along', 'across'] as const).map((way) => {
      const [p, q] = lines.filter((each) => each.way === way).map(line) as [Three, Three]
      const v = cross(p, q)
      return [v[0] / v[2], v[1] / v[2]] as const
    }) as [Point, Point]
    const focal = Math.sqrt(-(one[0] * other[0] + one[1] * other[1]))
    const up = cross([one[0], one[1], focal], [other[0], other[1], focal])
    const size = Math.hypot(...up) * (up[1] > 0 ? -1 : 1)
    const camera = lineCamera(lines, { width: WIDTH, height: HEIGHT }, KNOWN)!
    expect(camera.pose.focal / focal).toBeCloseTo(1, 5)
    camera.pose.up.forEach((v, k) => expect(v).toBeCloseTo(up[k]! / size, 5))
    expect(camera.misfit).toBeLessThan(1e-6)
  }
})
