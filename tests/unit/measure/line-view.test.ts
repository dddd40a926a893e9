import { expect, it } from 'vitest'
import { measureContext } from '../../../app/measure/context'
import { hallView } from '../../../app/measure/hall-view'
import { elevationFromLines, hasLines, linesApart, linesOwner, seenByLines, yawFromLines } from '../../../app/measure/line-view'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Hall } from '../../../app/project/hall'
import { cameraMatrix, putBy, type Turned } from '../../pinhole-matrix'
import { scene, tableSized } from './scene'

/// A mat of 7.2 metres with posts, before a camera on a picture of 1280 × 720.

type Three = readonly [number, number, number]
const usual: Turned = { stands: [-6, -10, 4], heading: 33, elevation: 16, roll: 1.5, focal: 1200, middle: [640, 360] }
const put = (camera: Turned, place: Three): [number, number] => {
  const at = putBy(cameraMatrix(camera), place)!
  return [at[0], at[1]]
}
const lines: Readonly<Record<string, Three>> = {
  'along.1': [-3.6, 3.6, 0],
  'along.2': [3.6, 3.6, 0],
  'along.3': [-3.6, -3.6, 0],
  'along.4': [3.6, -3.6, 0],
  'across.1': [3.6, -3.6, 0],
  'across.2': [3.6, 3.6, 0],
  'across.3': [-3.6, -3.6, 0],
  'across.4': [-3.6, 3.6, 0],
}
const posts: Readonly<Record<string, Three>> = {
  'upright.1': [-3, 3, 0],
  'upright.2': [-3, 3, 1.6],
  'upright.3': [3, 3, 0],
  'upright.4': [3, 3, 1.6],
}
const body: Readonly<Record<string, Three>> = {
  'hip.left': [0.1, 0, 0.95],
  'hip.right': [-0.1, 0, 0.95],
  'facing.1': [-0.4, -0.3, 0],
  'facing.2': [0.4, 0.3, 0],
}

interface Film {
  readonly places?: Readonly<Record<string, Three>>
  readonly camera?: Turned
  readonly hall?: Hall
  readonly frame?: number
  readonly moved?: Readonly<Record<string, readonly [number, number]>>
}
function filmed({ places = { ...lines, ...body }, camera = usual, hall, frame = 460, moved = {} }: Film = {}): {
  film: Breakdown
  context: ReturnType<typeof measureContext>
  clip: Breakdown['clips'][number]
} {
  const film = scene([], {
    points: Object.fromEntries(Object.entries(places).map(([point, at]) => [point, moved[point] ?? put(camera, at)])),
    sample: { sigma: 1 },
    frame,
  })
  const [first, ...rest] = film.clips
  const clip = { ...first!, ...(hall ? { hall } : {}) }
  const whole = { ...film, subjects: [...(film.subjects ?? []), { id: 's2', name: 'Ida Koss' }], clips: [clip, ...rest] }
  return { film: whole, context: measureContext(whole, () => tableSized), clip }
}
const codeOf = (film: Film): string => {
  const { context, clip } = filmed(film)
  const seen = seenByLines(context, clip, 's1', 460)
  return seen.ok ? 'told' : seen.error
}

it('should tell elevation to the hips, roll, lens and yaw from two edges each way', () => {
  const { context, clip } = filmed()
  const seen = seenByLines(context, clip, 's1', 460)
  const elevation = elevationFromLines(context, clip, 's1', 460)
  const yaw = yawFromLines(context, clip, 's1', 460)
  if (!seen.ok || !elevation.ok || !yaw.ok || !seen.value.roll.ok) throw new Error('refused')
  const DEGREES = 180 / Math.PI
  expect(elevation.value.to).toBe('hips')
  expect(elevation.value.angle.deg).toBeCloseTo(Math.atan2(4 - 0.95, Math.hypot(6, 10)) * DEGREES, 1)
  expect(seen.value.roll.value.deg).toBeCloseTo(1.5, 3)
  expect(seen.value.lens.deg).toBeCloseTo(2 * Math.atan(640 / 1200) * DEGREES, 3)
  // It looks east of north: the right end of what lies east and west is further off.
  expect(seen.value.heading.deg).toBeCloseTo(33, 3)
  expect(yaw.value.deg).toBeCloseTo(Math.atan2(0.8 * -6 + 0.6 * -10, 0.8 * 10 + 0.6 * -6) * DEGREES, 3)
  expect(yaw.value.u).toBeGreaterThan(5)
  expect(yaw.value.u).toBeLessThan(7)
})

it('should tell the elevation of a camera that stands overhead, and no yaw', () => {
  const [h, e] = [(33 * Math.PI) / 180, (80 * Math.PI) / 180]
  const camera: Turned = {
    ...usual,
    focal: 650,
    elevation: 80,
    stands: [-11 * Math.cos(e) * Math.sin(h), -11 * Math.cos(e) * Math.cos(h), 0.95 + 11 * Math.sin(e)],
  }
  const { context, clip } = filmed({ places: { ...lines, ...posts, ...body }, camera })
  const elevation = elevationFromLines(context, clip, 's1', 460)
  expect(elevation.ok && Math.abs(elevation.value.angle.deg - 80)).toBeLessThan(0.1)
  expect(elevation.ok && elevation.value.angle.u).toBeGreaterThan(0.5)
  expect(yawFromLines(context, clip, 's1', 460)).toMatchObject({ ok: false, error: 'lines-camera-unknown' })
})

it('should know it better with posts', () => {
  const u = (places: Film['places']): number => {
    const { context, clip } = filmed({ places: { ...places, ...body } })
    const seen = seenByLines(context, clip, 's1', 460)
    return seen.ok ? seen.value.lens.u : NaN
  }
  expect(u({ ...lines, ...posts })).toBeLessThan(0.9 * u(lines))
})

it('should refuse with fewer than two lines a direction, half a line among them, and a line that has no length', () => {
  const { 'across.4': _end, ...half } = lines
  expect(codeOf({ places: half })).toBe('lines-missing')
  expect(codeOf({ places: {} })).toBe('lines-missing')
  expect(codeOf({ moved: { 'along.2': put(usual, lines['along.1']!) } })).toBe('points-coincide')
})

it('should refuse lines of one direction that do not run together, and name no lens for those that run side by side', () => {
  const third: Film['places'] = { ...lines, 'along.5': [-3.6, 0, 0], 'along.6': [3.6, 0, 0] }
  expect(codeOf({ places: third })).toBe('told')
  expect(codeOf({ places: { ...third, 'along.6': [3.6, 0.9, 0] } })).toBe('lines-apart')
  // Of three nobody can say which; of more it is named where no other can be left out in its stead.
  const apart = (film: Film) => {
    const { context, clip } = filmed(film)
    return linesApart(context, clip, 's1', 460)
  }
  expect(apart({ places: third })).toBeNull()
  expect(apart({ places: { ...third, 'along.6': [3.6, 0.9, 0] } })).toEqual({ way: 'along', index: null })
  const fifth: Film['places'] = {
    ...third,
    'along.7': [-3.6, 1.8, 0],
    'along.8': [3.6, 1.8, 0],
    'along.9': [-3.6, -1.8, 0],
    'along.10': [3.6, -1.8, 0],
  }
  for (const index of [0, 1, 2, 3, 4]) {
    const end = `along.${2 * index + 2}`
    expect(
      apart({ places: { ...fifth, [end]: [fifth[end]![0], fifth[end]![1] - 1.5 * Math.sign(fifth[end]![1] + 0.1), 0] } }),
      end,
    ).toEqual({ way: 'along', index })
  }
  // Before the middle of a side: its lines never meet on the picture.
  expect(codeOf({ camera: { ...usual, stands: [0, -12, 4], heading: 0 } })).toBe('lines-camera-unknown')
})

it('should refuse lines that no camera shows at right angles, and a picture cropped to one side where posts tell it', () => {
  // Edges that run less than 60° apart: their vanishing points lie so that f² would be negative.
  const askew: Film['places'] = { ...lines, 'across.2': [3.6 + 6, 3.6, 0], 'across.4': [-3.6 + 6, 3.6, 0] }
  expect(codeOf({ places: askew })).toBe('lines-not-square')
  expect(codeOf({ places: { ...askew, ...posts } })).toBe('lines-not-square')
  const far: Turned = { ...usual, stands: [-7.1, -11.9, 8.8], heading: 31, elevation: 30 }
  expect(codeOf({ places: { ...lines, ...posts }, camera: far })).toBe('told')
  expect(codeOf({ places: { ...lines, ...posts }, camera: { ...far, middle: [640 - 0.22 * 1280, 360] } })).toBe('lines-not-square')
})

it('should find the lines that were drawn with somebody else, and on any frame before a camera that stood still', () => {
  const { film, context, clip } = filmed()
  expect(linesOwner(context, clip, 's2')).toBe('s1')
  expect(hasLines(context, clip, 's2')).toBe(true)
  expect(seenByLines(context, clip, 's2', 460).ok).toBe(true)
  expect(seenByLines(context, clip, 's1', 470)).toMatchObject({ ok: false, error: 'lines-missing' })
  const still = { ...clip, hall: { camera: 'still' as const } }
  const whole = measureContext({ ...film, clips: [still, ...film.clips.slice(1)] }, () => tableSized)
  expect(seenByLines(whole, still, 's1', 470).ok).toBe(true)
})

it('should take the floor’s word before that of the lines, and the lines’ where the floor’s marks do not tell', () => {
  const floor = {
    subject: 's1',
    unit: 'm',
    u: 0.01,
    marks: (['along.1', 'along.2', 'across.1', 'across.3'] as const).map((name, i) => ({
      point: `floor.${i + 1}`,
      at: [lines[name]![0], lines[name]![1]] as [number, number],
    })),
  }
  const marks = Object.fromEntries(
    (['along.1', 'along.2', 'across.1', 'across.3'] as const).map((name, i) => [`floor.${i + 1}`, lines[name]!]),
  )
  const both = filmed({ places: { ...lines, ...body, ...marks }, hall: { floor } })
  const told = hallView(both.context, both.clip, 's1', 460, 460, true)!
  expect([told.elevation.by, told.yaw?.by, told.elevation.found.ok, told.lines?.ok]).toEqual(['floor', 'floor', true, true])
  const { 'floor.4': _mark, ...three } = marks
  const lame = filmed({ places: { ...lines, ...body, ...three }, hall: { floor } })
  const byLines = hallView(lame.context, lame.clip, 's1', 460, 460, true)!
  expect([byLines.elevation.by, byLines.yaw?.by, byLines.elevation.found.ok, byLines.yaw?.found.ok]).toEqual(['lines', 'lines', true, true])
  // Without lines, why the floor does not; with neither, nothing.
  expect(hallView(lame.context, lame.clip, 's1', 460, null, false)).toMatchObject({
    elevation: { by: 'floor', found: { ok: false, error: 'floor-missing' } },
    yaw: null,
    lines: null,
  })
  expect(hallView(filmed({ places: body }).context, filmed({ places: body }).clip, 's1', 460, null, false)).toBeNull()
})
