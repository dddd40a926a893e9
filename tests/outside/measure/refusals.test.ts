import { describe, expect, test } from 'vitest'
import { pinhole } from '../../../demo-data/mocap/camera'
import { readingsOf } from '../../../app/measure/readings'
import { onFloor } from '../../../app/measure/floor-plane'
import { jointAngle } from '../../../app/geometry/angle'
import type { Point } from '../../../app/project/fields'
import { jointAngleKind } from '../../../app/measure/joint-angle'
import { lineAngleKind } from '../../../app/measure/line-angle'
import { measureContext } from '../../../app/measure/context'
import { separationKind } from '../../../app/measure/separation'
import type { Kind } from '../../../app/measure/kind'
import type { MeasureKind, Measure } from '../../../app/project/question'
import { DEGREES, turned } from './calibration'
import { quantile } from './coverage'
import { clipOf, EXACT, filmed, placedBy } from './filmed'
import { seeded } from './random'
import { cameraAround, cross3, dot3, minus3, readTrial, type Pose } from './trial'

/// Verdicts earn their keep: what is refused for its geometry would have been at least twice as far
/// off as what is given, at the 95th percentile. The captured boxer (mocap.cs.cmu.edu, 13_18).

const trial = readTrial('cmu_13_18_first_15s')

interface Errors {
  readonly given: number[]
  readonly refused: number[]
}

const ratio = ({ given, refused }: Errors): number => quantile(refused, 0.95) / quantile(given, 0.95)

describe('refusals by geometry', () => {
  test('joint-angle in its plane: beyond 35° the drawn angle is at least twice as far from the angle in space', () => {
    const random = seeded(61)
    const errors: Errors = { given: [], refused: [] }
    for (let n = 0; n < 60; n++) {
      const frame = Math.floor(random.uniform() * trial.poses.length)
      const poses = new Map([[frame, trial.poses[frame]!]])
      const camera = cameraAround(trial, trial.poses[frame]!, {
        azimuth_deg: 360 * random.uniform(),
        elevation_deg: 10 * random.uniform(),
        figure_px: 700,
        distance_m: 10,
      })
      const asked: { measure: Measure; truth: number; drawn: Measure }[] = []
      for (const side of ['left', 'right'])
        for (const points of [
          [`hip.${side}`, `knee.${side}`, `ankle.${side}`],
          [`shoulder.${side}`, `elbow.${side}`, `wrist.${side}`],
        ]) {
          const [a, b, c] = points.map((p) => trial.poses[frame]!.get(p)!) as [
            readonly [number, number, number],
            readonly [number, number, number],
            readonly [number, number, number],
          ]
          const normal = cross3(minus3(a, b), minus3(c, b))
          const view = minus3(camera.position, b)
          const deg = Math.acos(Math.min(1, Math.abs(dot3(normal, view)) / Math.hypot(...normal) / Math.hypot(...view))) * DEGREES
          const base = { clip: 'c', subject: 's', frame, kind: 'joint-angle', points } as const
          asked.push({
            measure: { ...base, points: [...points], id: `p${asked.length}`, plane: { deg, u: 3 } },
            drawn: { ...base, points: [...points], id: `d${asked.length}` },
            truth: Math.atan2(Math.hypot(...normal), dot3(minus3(a, b), minus3(c, b))) * DEGREES,
          })
        }
      const film = filmed({
        clips: [clipOf('c')],
        landmarks: placedBy(camera, poses, { click_px: 2, anatomical_px: 7, stated: false }, random).map((l) => ({ clip: 'c', ...l })),
        measures: asked.flatMap((a) => [a.measure, a.drawn]),
      })
      const context = measureContext(film, () => null)
      readingsOf(film, () => null).forEach((reading, i) => {
        if (i % 2 === 1) return
        const { truth, drawn } = asked[i / 2]!
        const value = jointAngleKind.answer(drawn as never, context).value
        if (value !== null) (reading.verdict === 'refused' ? errors.refused : errors.given).push(Math.abs(value - truth))
      })
    }
    expect(errors.refused.length).toBeGreaterThan(100)
    expect(ratio(errors)).toBeGreaterThanOrEqual(2)
  })

  test.each([
    ['joint-angle', jointAngleKind],
    ['line-angle', lineAngleKind],
  ] as const)('%s: lines too short to say anything are at least twice as far off', (name, kind) => {
    const random = seeded(62)
    const errors: Errors = { given: [], refused: [] }
    for (let n = 0; n < 160; n++) {
      const frames = [...new Set(Array.from({ length: 10 }, () => Math.floor(random.uniform() * trial.poses.length)))].sort((a, b) => a - b)
      const poses = new Map(frames.map((f) => [f, trial.poses[f]!] as const))
      const camera = cameraAround(trial, trial.poses[frames[0]!]!, {
        azimuth_deg: 360 * random.uniform(),
        elevation_deg: 10 * random.uniform(),
        figure_px: 300,
        distance_m: 10,
      })
      const measures = frames.map((frame): Measure => ({
        clip: 'c',
        subject: 's',
        frame,
        id: `m${frame}`,
        ...(name === 'joint-angle'
          ? { kind: 'joint-angle', points: ['shoulder.right', 'elbow.right', 'wrist.right'] }
          : { kind: 'line-angle', points: ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right'] }),
      }))
      const film = (placing: typeof EXACT) =>
        filmed({ clips: [clipOf('c')], landmarks: placedBy(camera, poses, placing, random).map((l) => ({ clip: 'c', ...l })), measures })
      const noisy = film({ click_px: 4, anatomical_px: 0, stated: true })
      const [exact, seen] = [measureContext(film(EXACT), () => null), measureContext(noisy, () => null)]
      readingsOf(noisy, () => null).forEach((reading, i) => {
        const ask = kind as Kind<MeasureKind>
        const [truth, value] = [ask.answer(measures[i]! as never, exact).value, ask.answer(measures[i]! as never, seen).value]
        if (truth !== null && value !== null) (reading.verdict === 'refused' ? errors.refused : errors.given).push(Math.abs(value - truth))
      })
    }
    expect(errors.refused.length).toBeGreaterThan(30)
    expect(ratio(errors)).toBeGreaterThanOrEqual(2)
  })

  test('figures below 150 px: the drawn knee and elbow are at least twice as far off', () => {
    const random = seeded(64)
    const errors: Errors = { given: [], refused: [] }
    for (let n = 0; n < 400; n++) {
      const frame = Math.floor(random.uniform() * trial.poses.length)
      const figure_px = n % 2 === 0 ? 60 + 80 * random.uniform() : 165 + 535 * random.uniform()
      const camera = cameraAround(trial, trial.poses[frame]!, {
        azimuth_deg: 360 * random.uniform(),
        elevation_deg: 10 * random.uniform(),
        figure_px,
        distance_m: 10,
      })
      const poses = new Map([[frame, trial.poses[frame]!]])
      const [exact, drawn] = [
        placedBy(camera, poses, EXACT, random),
        placedBy(camera, poses, { click_px: 2, anatomical_px: 0, stated: true }, random),
      ]
      const points = n % 4 < 2 ? ['hip.right', 'knee.right', 'ankle.right'] : ['shoulder.right', 'elbow.right', 'wrist.right']
      const angle = (landmarks: typeof exact): number => {
        const [a, b, c] = points.map((p): Point => landmarks.find((l) => l.point === p)!.samples[0]!.at)
        return jointAngle(a!, b!, c!)!.deg
      }
      const [reading] = readingsOf(
        filmed({
          clips: [clipOf('c')],
          landmarks: drawn.map((l) => ({ clip: 'c', ...l })),
          measures: [{ id: 'm', kind: 'joint-angle', clip: 'c', subject: 's', frame, points }],
        }),
        () => null,
      )
      if (reading!.verdict !== 'refused') errors.given.push(Math.abs(angle(drawn) - angle(exact)))
      else if (reading!.reasons.includes('figure-too-small')) errors.refused.push(Math.abs(angle(drawn) - angle(exact)))
    }
    expect(errors.refused.length).toBeGreaterThan(150)
    expect(ratio(errors)).toBeGreaterThanOrEqual(2)
  })

  test.each(['step-off-line', 'foot-heading'] as const)(
    '%s: where the floor is seen too flat, the same sum is at least twice as far off',
    (kind) => {
      const random = seeded(65)
      const errors: Errors = { given: [], refused: [] }
      const floorPoints: Readonly<Record<string, readonly [number, number]>> = {
        'm.1': [-2, -2],
        'm.2': [2, -2],
        'm.3': [2, 2],
        'm.4': [-2, 2],
        a: [-0.6, 0.1],
        b: [0.8, -0.2],
      }
      for (let n = 0; n < 1500; n++) {
        const turn = 2 * Math.PI * random.uniform()
        const [x, z] = [0.8 * random.uniform() - 0.4, 0.8 * random.uniform() - 0.4]
        const places: Record<string, readonly [number, number]> = {
          ...floorPoints,
          heel: [x, z],
          toe: [x + 0.27 * Math.cos(turn), z + 0.27 * Math.sin(turn)],
        }
        const elevation = (1 + 39 * random.uniform() ** 2) / DEGREES
        const azimuth = 2 * Math.PI * random.uniform()
        const camera = pinhole({
          position: [10 * Math.cos(elevation) * Math.sin(azimuth), 10 * Math.sin(elevation), 10 * Math.cos(elevation) * Math.cos(azimuth)],
          target: [0, 0, 0],
          focal_px: 2400,
          width: 1920,
          height: 1080,
        })
        const poses = new Map([[1, new Map(Object.entries(places).map(([name, [px, pz]]) => [name, [px, 0, pz] as const]))]])
        const way = [places['b']![0] - places['a']![0], places['b']![1] - places['a']![1]] as const
        const from = (p: readonly [number, number]): readonly [number, number] => [p[0] - places['a']![0], p[1] - places['a']![1]]
        const truth =
          kind === 'step-off-line'
            ? Math.abs(way[0] * from(places['toe']!)[1] - way[1] * from(places['toe']!)[0]) / Math.hypot(...way)
            : Math.abs(turned((turn - Math.atan2(way[1], way[0])) * DEGREES))
        const measure = {
          id: 'm',
          kind,
          clip: 'c',
          subject: 's',
          frame: 1,
          planted: true as const,
          points: kind === 'step-off-line' ? ['toe'] : ['heel', 'toe'],
          floor: {
            subject: 's',
            unit: 'm',
            u: 0,
            marks: ['m.1', 'm.2', 'm.3', 'm.4'].map((point) => ({ point, at: [...floorPoints[point]!] as [number, number] })),
          },
          line: {
            frame: 1,
            stands: [
              { subject: 's', points: ['a'] },
              { subject: 's', points: ['b'] },
            ] as [{ subject: string; points: string[] }, { subject: string; points: string[] }],
          },
        }
        const film = filmed({
          clips: [clipOf('c')],
          landmarks: placedBy(camera, poses, { click_px: 4, anatomical_px: 0, stated: true }, random).map((l) => ({ clip: 'c', ...l })),
          measures: [measure as Measure],
        })
        const [reading] = readingsOf(film, () => null)
        const found = onFloor(
          measureContext(film, () => null),
          film.clips[0]!,
          measure,
        )
        if (!found.ok) continue
        const [a, b] = found.value.line.map((p) => p.at) as [Point, Point]
        const seen = found.value.points.map((p) => p.at)
        const drawn =
          kind === 'step-off-line'
            ? Math.abs((b[0] - a[0]) * (seen[0]![1] - a[1]) - (b[1] - a[1]) * (seen[0]![0] - a[0])) / Math.hypot(b[0] - a[0], b[1] - a[1])
            : Math.abs(
                turned((Math.atan2(seen[1]![1] - seen[0]![1], seen[1]![0] - seen[0]![0]) - Math.atan2(b[1] - a[1], b[0] - a[0])) * DEGREES),
              )
        ;(reading!.verdict === 'refused' ? errors.refused : errors.given).push(Math.abs(drawn - truth))
      }
      expect(errors.refused.length).toBeGreaterThan(40)
      expect(errors.given.length).toBeGreaterThan(100)
      expect(ratio(errors)).toBeGreaterThanOrEqual(2)
    },
  )

  test.each(['displacement', 'head-displacement'] as const)(
    '%s: in a unit too short on the picture the same ratio is at least twice as far off',
    (kind) => {
      const random = seeded(66)
      const errors: Errors = { given: [], refused: [] }
      const [unitPoints, moving] =
        kind === 'displacement' ? ([['elbow.right', 'wrist.right'], 'hip.right'] as const) : ([['chin', 'head.top'], 'head'] as const)
      for (let n = 0; n < 500; n++) {
        const [from, frame, at] = Array.from({ length: 3 }, () => Math.floor(random.uniform() * trial.poses.length)) as [
          number,
          number,
          number,
        ]
        if (new Set([from, frame, at]).size < 3) continue
        const poses = [from, frame, at]
          .sort((a, b) => a - b)
          .map((f) => {
            const pose = trial.poses[f]!
            const [neck, head] = [pose.get('neck')!, pose.get('head')!]
            const along = (share: number): readonly [number, number, number] => [
              neck[0] + share * (head[0] - neck[0]),
              neck[1] + share * (head[1] - neck[1]),
              neck[2] + share * (head[2] - neck[2]),
            ]
            return [f, new Map([...pose, ['chin', along(0.85)], ['head.top', along(4)]])] as const
          })
        const figure_px = 200 + 300 * random.uniform()
        // From above a head height is short.
        const camera = cameraAround(trial, trial.poses[from]!, {
          azimuth_deg: 360 * random.uniform(),
          elevation_deg: 10 + 75 * random.uniform(),
          figure_px,
          distance_m: 14,
        })
        const [exact, drawn] = [
          placedBy(camera, poses, EXACT, random),
          placedBy(camera, poses, { click_px: 2, anatomical_px: 0.01 * figure_px, stated: false }, random),
        ]
        const ratioIn = (landmarks: typeof exact): number => {
          const place = (point: string, f: number): Point =>
            landmarks.find((l) => l.point === point)!.samples.find((s) => s.frame === f)!.at
          const apart = (p: Point, q: Point): number => Math.hypot(p[0] - q[0], p[1] - q[1])
          return apart(place(moving, frame), place(moving, from)) / apart(place(unitPoints[0], at), place(unitPoints[1], at))
        }
        const measure = {
          id: 'm',
          kind,
          clip: 'c',
          subject: 's',
          frame,
          fromFrame: from,
          points: [moving],
          unit: { points: [...unitPoints], frame: at, name: 'units' },
          camera: 'still',
        } as Measure
        const [reading] = readingsOf(
          filmed({ clips: [clipOf('c')], landmarks: drawn.map((l) => ({ clip: 'c', ...l })), measures: [measure] }),
          () => null,
        )
        if (reading!.verdict !== 'refused') errors.given.push(Math.abs(ratioIn(drawn) - ratioIn(exact)))
        else if (reading!.reasons.includes('unit-too-short')) errors.refused.push(Math.abs(ratioIn(drawn) - ratioIn(exact)))
      }
      expect(errors.refused.length).toBeGreaterThan(30)
      expect(errors.given.length).toBeGreaterThan(100)
      expect(ratio(errors)).toBeGreaterThanOrEqual(2)
    },
  )

  test('separation from above: from a camera below 45° the same sum would be at least twice as far off', () => {
    const random = seeded(63)
    const errors: Errors = { given: [], refused: [] }
    const heading = (pose: Pose, place: string): number => {
      const [a, b] = [pose.get(`${place}.right`)!, pose.get(`${place}.left`)!]
      return Math.atan2(a[2] - b[2], b[0] - a[0]) * DEGREES
    }
    for (let n = 0; n < 700; n++) {
      const frame = Math.floor(random.uniform() * trial.poses.length)
      const pose = trial.poses[frame]!
      const elevation_deg = n % 2 === 0 ? 45 + 40 * random.uniform() : 3 + 41 * random.uniform()
      const camera = cameraAround(trial, pose, { azimuth_deg: 360 * random.uniform(), elevation_deg, figure_px: 700, distance_m: 12 })
      const measure: Measure = { clip: 'c', subject: 's', frame, id: 'm', kind: 'separation', view: 'above' }
      const film = (deg: number) =>
        filmed({
          clips: [clipOf('c')],
          views: [{ clip: 'c', subject: 's', from: 0, to: 10_000, elevation: { deg, u: 3 } }],
          landmarks: placedBy(camera, new Map([[frame, pose]]), { click_px: 2, anatomical_px: 7, stated: false }, seeded(n)).map((l) => ({
            clip: 'c',
            ...l,
          })),
          measures: [measure],
        })
      const stated = film(elevation_deg)
      const [reading] = readingsOf(stated, () => null)
      // What the refused one would have said: the same drawn lines, depth rescaled all the same.
      const value = reading!.value ?? overheadValue(stated, elevation_deg)
      ;(reading!.verdict === 'refused' ? errors.refused : errors.given).push(
        Math.abs(turned(value - turned(heading(pose, 'shoulder') - heading(pose, 'hip')))),
      )
    }
    expect(errors.refused.length).toBeGreaterThan(300)
    expect(ratio(errors)).toBeGreaterThanOrEqual(2)
    expect(separationKind.limits).toContain('camera-not-high')
  })
})

/// Difference of the two drawn headings with depth rescaled by 1/sin ε, worked here apart from the kind.
function overheadValue(film: ReturnType<typeof filmed>, elevation_deg: number): number {
  const at = (point: string): readonly [number, number] => film.landmarks!.find((l) => l.point === point)!.samples[0]!.at
  const heading = (place: string): number => {
    const [a, b] = [at(`${place}.right`), at(`${place}.left`)]
    return Math.atan2((a[1] - b[1]) / Math.sin(elevation_deg / DEGREES), b[0] - a[0]) * DEGREES
  }
  return turned(heading('shoulder') - heading('hip'))
}

describe('refusals by rule', () => {
  const events = [
    { id: 'a', clip: 'c', name: 'a', earliest: 10, latest: 10 },
    { id: 'b', clip: 'c', name: 'b', earliest: 40, latest: 40 },
    { id: 'x', clip: 'd', name: 'x', earliest: 240, latest: 240 },
  ]
  const read = (measures: Measure[], capture: 'unknown' | { factor: string; u: number }) =>
    readingsOf(
      filmed({ clips: [clipOf('c', { to: 200, capture }), clipOf('d', { from: 200, to: 400, capture })], events, landmarks: [], measures }),
      () => null,
    )

  test('unknown rate: times, speeds, rates and peak times are all refused, frame counts and orders given', () => {
    const on = { clip: 'c', subject: 's' }
    const unit = { points: ['hip.left', 'knee.left'], frame: 10, name: 'thigh lengths' }
    const readings = read(
      [
        { id: '1', kind: 'time-between', clip: 'c', from: 'a', to: 'b' },
        { ...on, id: '2', kind: 'speed', frame: 10, points: ['wrist.left'], unit },
        { ...on, id: '3', kind: 'angular-rate', frame: 10, points: ['hip.left', 'knee.left', 'ankle.left'] },
        { ...on, id: '4', kind: 'peak-time', fromFrame: 5, toFrame: 30, points: ['hip.left', 'hip.right'] },
        { id: '5', kind: 'frame-count', clip: 'c', from: 'a', to: 'b' },
        { id: '6', kind: 'order', clip: 'c', from: 'a', to: 'b' },
      ],
      'unknown',
    )
    expect(readings.map((r) => r.verdict)).toEqual(['refused', 'refused', 'refused', 'refused', 'good', 'good'])
    for (const r of readings.slice(0, 4)) expect(r.reasons).toContain('capture-unknown')
  })

  test('across a cut: every kind of two instants is refused', () => {
    const readings = read(
      (['time-between', 'frame-count', 'order'] as const).map((kind): Measure => ({ id: kind, kind, clip: 'c', from: 'a', to: 'x' })),
      { factor: '1', u: 0 },
    )
    for (const r of readings) expect(r).toMatchObject({ verdict: 'refused', value: null })
  })

  test('force, torque, power, muscle stretch, concussion: there is no kind that could be asked', () => {
    for (const kind of [
      'force',
      'torque',
      'power',
      'angular-acceleration',
      'muscle-stretch',
      'concussion-risk',
      'head-acceleration',
      'hip-rotation',
    ])
      expect(() =>
        filmed({
          clips: [clipOf('c')],
          landmarks: [],
          measures: [{ id: 'm', kind, clip: 'c', subject: 's', frame: 1, points: ['hip.left', 'knee.left'] } as never],
        }),
      ).toThrow()
  })
})
