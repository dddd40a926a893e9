import { describe, expect, test } from 'vitest'
import { measureContext } from '../../../app/measure/context'
import { elevationFromFloor, yawFromFloor } from '../../../app/measure/floor-view'
import type { FrameTable } from '../../../app/time/frame-table'
import { evenFrameTable } from '../../../app/time/frame-table'
import { pinhole } from '../../../demo-data/mocap/camera'
import { DEGREES, turned } from './calibration'
import { clipOf, filmed } from './filmed'
import { seeded } from './random'

/// Elevation and yaw from a floor's marks, before cameras all around it whose axis meets the picture beside its middle by 2 % of its
/// width (1 σ), with clicks of 2 px and people who face 5° (1 σ) beside the line. Truth: the camera's own place.

const PLACES: readonly (readonly [number, number])[] = [
  [-3, -3],
  [3, -3],
  [3, 3],
  [-3, 3],
  [0, -3],
  [0, 3],
  [-3, 0],
  [3, 0],
]
const [WIDTH, HEIGHT] = [1920, 1080]
const table: FrameTable = { ...evenFrameTable(10, { n: 30, d: 1 }), picture: { width: WIDTH, height: HEIGHT } }

interface Setup {
  readonly marks: number
  readonly least: number
  readonly most: number
  readonly focal: number
  /// How far the picture was cropped to one side: its middle lies so far from the axis, as a share of its width.
  readonly crop?: number
}

function run({ marks, least, most, focal, crop = 0 }: Setup, rounds: number) {
  const random = seeded(9 * marks + Math.round(least))
  const tally = {
    elevation: { inside: 0, given: 0, refused: 0, u: [] as number[] },
    yaw: { inside: 0, given: 0, refused: 0, u: [] as number[] },
    reasons: new Map<string, number>(),
  }
  for (let n = 0; n < rounds; n++) {
    const elevation = (least + (most - least) * random.uniform()) / DEGREES
    const azimuth = 2 * Math.PI * random.uniform()
    const away = (13 + 3 * random.uniform()) * (focal / 1500) * (1 + 2 * crop)
    const position = [
      away * Math.cos(elevation) * Math.sin(azimuth),
      away * Math.sin(elevation),
      away * Math.cos(elevation) * Math.cos(azimuth),
    ] as const
    const camera = pinhole({
      position,
      target: [random.uniform() - 0.5, 0.3, random.uniform() - 0.5],
      focal_px: focal,
      width: WIDTH,
      height: HEIGHT,
      roll_deg: 3 * random.normal(),
    })
    const [ox, oy] = [0.02 * WIDTH * random.normal(), 0.02 * WIDTH * random.normal()]
    const clicked = (at: readonly [number, number, number]): [number, number] => {
      const { x, y } = camera.project(at)
      return [x + ox + crop * WIDTH + 2 * random.normal(), y + oy + 2 * random.normal()]
    }
    const [x, z] = [2 * random.uniform() - 1, 2 * random.uniform() - 1]
    const hips = [x, 0.95, z] as const
    const faces = 2 * Math.PI * random.uniform()
    const line = faces + (5 / DEGREES) * random.normal()
    const placed = (point: string, at: readonly [number, number, number]) => ({
      clip: 'c',
      point,
      samples: [{ frame: 1, at: clicked(at), sigma: 2 }],
    })
    const floor = {
      subject: 's',
      unit: 'm',
      u: 0,
      marks: PLACES.slice(0, marks).map(([mx, mz], i) => ({ point: `floor.${i + 1}`, at: [mx, mz] as [number, number] })),
    }
    const film = filmed({
      clips: [clipOf('c', { hall: { camera: 'still', floor } })],
      measures: [],
      landmarks: [
        ...PLACES.slice(0, marks).map(([mx, mz], i) => placed(`floor.${i + 1}`, [mx, 0, mz])),
        placed('hip.mid', hips),
        placed('facing.1', [x - 0.6 * Math.cos(line), 0, z - 0.6 * Math.sin(line)]),
        placed('facing.2', [x + 0.6 * Math.cos(line), 0, z + 0.6 * Math.sin(line)]),
      ],
    })
    const context = measureContext(film, () => table)
    // Above the horizon of the hips; and which way they face against the way to the camera: right of the picture 0, towards it 90.
    const [cx, cz] = [position[0] - x, position[2] - z]
    const right = [camera.right[0], camera.right[2]] as const
    const square = Math.sign(-cz * right[0] + cx * right[1])
    const truth = {
      elevation: Math.atan2(position[1] - 0.95, Math.hypot(cx, cz)) * DEGREES,
      yaw: Math.atan2(Math.cos(faces) * cx + Math.sin(faces) * cz, square * (Math.cos(faces) * -cz + Math.sin(faces) * cx)) * DEGREES,
    }
    const found = elevationFromFloor(context, film.clips[0]!, 's', 1)
    const yaw = yawFromFloor(context, film.clips[0]!, 's', 1)
    for (const [name, angle] of [
      ['elevation', found.ok ? found.value.angle : null],
      ['yaw', yaw.ok ? yaw.value : null],
    ] as const) {
      const noted = tally[name]
      if (!angle) noted.refused++
      else {
        noted.given++
        noted.u.push(angle.u)
        if (Math.abs(turned(angle.deg - truth[name])) <= 1.96 * angle.u) noted.inside++
      }
    }
    if (!found.ok) tally.reasons.set(found.error, (tally.reasons.get(found.error) ?? 0) + 1)
  }
  const share = ({ inside, given }: { inside: number; given: number }): number => inside / given
  const median = (u: number[]): number => u.sort((a, b) => a - b)[u.length >> 1] ?? NaN
  return { tally, elevation: share(tally.elevation), yaw: share(tally.yaw), u: [median(tally.elevation.u), median(tally.yaw.u)] as const }
}

describe('from the floor', () => {
  test.each([
    { marks: 4, least: 10, most: 65 },
    { marks: 8, least: 10, most: 65 },
  ])('of $marks marks elevation and yaw hold the truth as often as they claim', (setup) => {
    const { elevation, yaw, u, tally } = run({ ...setup, focal: 1500 }, 350)
    const log = `elevation ${elevation} of ${tally.elevation.given}, u ${u[0]}; yaw ${yaw} of ${tally.yaw.given}, u ${u[1]}; ${JSON.stringify([...tally.reasons])}`
    console.info(log)
    expect(tally.elevation.given, log).toBeGreaterThan(310)
    expect(tally.yaw.given, log).toBeGreaterThan(310)
    for (const inside of [elevation, yaw]) {
      expect(inside, log).toBeGreaterThan(0.91)
      expect(inside, log).toBeLessThan(0.99)
    }
    expect(u[0], log).toBeLessThan(3)
  })

  test('straight from above the elevation is told within its error, and no yaw', () => {
    const { elevation, tally } = run({ marks: 8, least: 84, most: 90, focal: 1500 }, 50)
    expect(tally.yaw.given).toBe(0)
    expect(tally.elevation.given).toBeGreaterThan(25)
    expect(elevation).toBeGreaterThan(0.9)
  })

  test('a picture that was cropped far to one side is refused for it oftener than not', () => {
    const { tally } = run({ marks: 8, least: 25, most: 55, focal: 1500, crop: 0.22 }, 40)
    expect(tally.reasons.get('picture-cropped') ?? 0, JSON.stringify([...tally.reasons])).toBeGreaterThan(20)
  })
})
