import { describe, expect, test } from 'vitest'
import { jointAngle } from '../../../app/geometry/angle'
import { readingsOf } from '../../../app/measure/readings'
import type { Reading } from '../../../app/measure/reading'
import type { Point } from '../../../app/project/fields'
import type { Measure } from '../../../app/project/question'
import { evenFrameTable } from '../../../app/time/frame-table'
import { DEGREES, turned } from './calibration'
import { clipOf, filmed, placedBy } from './filmed'
import { seeded } from './random'
import { smoothed } from './smooth-trial'
import { addedFrames, cameraAround, cross3, dot3, minus3, readTrial, type Pose } from './trial'

/// The two hard right punches of the captured boxer (mocap.cs.cmu.edu, 13_18), from a
/// camera 70° above, 700 px tall, 2 px of click noise.

const trial = smoothed(readTrial('cmu_13_18_first_15s'))
const frameAt = (seconds: number): number => Math.round(seconds * 120) - addedFrames
const secondsAt = (frame: number): number => (frame + addedFrames) / 120

/// Heading from right to left, counter-clockwise as from above.
const heading = (pose: Pose, place: string): number => {
  const [a, b] = [pose.get(`${place}.right`)!, pose.get(`${place}.left`)!]
  return Math.atan2(a[2] - b[2], b[0] - a[0]) * DEGREES
}
const elbowInSpace = (pose: Pose): number => {
  const [u, v] = [minus3(pose.get('shoulder.right')!, pose.get('elbow.right')!), minus3(pose.get('wrist.right')!, pose.get('elbow.right')!)]
  return Math.atan2(Math.hypot(...cross3(u, v)), dot3(u, v)) * DEGREES
}

/// Time (s) and height (°/s) of the highest rate between two instants, to the parabola's peak.
function peak(angle: (frame: number) => number, from: number, to: number): { at: number; rate: number; frame: number } {
  const rate = (f: number): number => turned(angle(f + 1) - angle(f - 1)) * 60
  let best = frameAt(from)
  for (let f = frameAt(from); f <= frameAt(to); f++) if (rate(f) > rate(best)) best = f
  const [a, b, c] = [rate(best - 1), rate(best), rate(best + 1)]
  return { at: secondsAt(best + Math.max(-0.5, Math.min(0.5, (a - c) / (2 * (a - 2 * b + c))))), rate: b, frame: best }
}

const PUNCHES = [
  { from: 9.95, to: 10.33, pelvis: [10.058, 377], shoulder: [10.125, 382], elbow: [10.242, 1333] },
  { from: 11.75, to: 12.1, pelvis: [11.867, 332], shoulder: [11.883, 485], elbow: [11.992, 1270] },
] as const

const PARTS = ['pelvis', 'shoulder', 'elbow'] as const

test('the capture, read by our own reader, has the stored peak times to a frame and rates within 1 %, as computed apart from this code', () => {
  for (const punch of PUNCHES) {
    const found = {
      pelvis: peak((f) => heading(trial.poses[f]!, 'hip'), punch.from, punch.to),
      shoulder: peak((f) => heading(trial.poses[f]!, 'shoulder'), punch.from, punch.to),
      elbow: peak((f) => elbowInSpace(trial.poses[f]!), punch.from, punch.to),
    }
    for (const part of PARTS) {
      expect(secondsAt(found[part].frame)).toBeCloseTo(punch[part][0], 3)
      expect(Math.abs(found[part].rate / punch[part][1] - 1)).toBeLessThan(0.01)
    }
  }
})

interface Tally {
  inside: number
  given: number
  right: number
  wrong: number
  draws: number
}

function draw(punch: (typeof PUNCHES)[number], fps: number, draws: number, seed: number): Record<(typeof PARTS)[number] | 'order', Tally> {
  const random = seeded(seed)
  const camera = cameraAround(trial, trial.poses[frameAt((punch.from + punch.to) / 2)]!, {
    azimuth_deg: 200,
    elevation_deg: 70,
    figure_px: 700,
    distance_m: 10,
  })
  const arm = (f: number): number => {
    const at = (name: string): Point => {
      const { x, y } = camera.project(trial.poses[f]!.get(name)!)
      return [x, y]
    }
    return jointAngle(at('shoulder.right'), at('elbow.right'), at('wrist.right'))!.deg
  }
  const truth = {
    pelvis: peak((f) => heading(trial.poses[f]!, 'hip'), punch.from, punch.to).at,
    shoulder: peak((f) => heading(trial.poses[f]!, 'shoulder'), punch.from, punch.to).at,
    elbow: peak(arm, punch.from, punch.to).at,
  }
  const tally = (): Tally => ({ inside: 0, given: 0, right: 0, wrong: 0, draws })
  const tallies = { pelvis: tally(), shoulder: tally(), elbow: tally(), order: tally() }
  const step = 120 / fps
  for (let d = 0; d < draws; d++) {
    const poses = new Map<number, Pose>()
    const seconds: number[] = []
    for (let f = frameAt(punch.from) - 60 + Math.floor(step * random.uniform()); f < frameAt(punch.to) + 60; f += step) {
      poses.set(seconds.length, trial.poses[f]!)
      seconds.push(secondsAt(f))
    }
    const span = {
      clip: 'c',
      subject: 's',
      fromFrame: seconds.findIndex((t) => t >= punch.from),
      toFrame: seconds.findIndex((t) => t >= punch.to),
      cutoff: 12,
      sign: '+',
    } as const
    const measures: Measure[] = [
      { ...span, id: 'pelvis', kind: 'peak-time', points: ['hip.right', 'hip.left'], above: true },
      { ...span, id: 'shoulder', kind: 'peak-time', points: ['shoulder.right', 'shoulder.left'], above: true },
      { ...span, id: 'elbow', kind: 'peak-time', points: ['shoulder.right', 'elbow.right', 'wrist.right'] },
      { id: 'order', kind: 'peak-order', measures: ['pelvis', 'elbow'] },
      { id: 'lines', kind: 'peak-order', measures: ['pelvis', 'shoulder'] },
    ]
    const film = filmed({
      clips: [clipOf('c', { to: seconds.length })],
      views: [{ clip: 'c', subject: 's', from: 0, to: seconds.length, elevation: { deg: 70, u: 3 } }],
      landmarks: placedBy(camera, poses, { click_px: 2, anatomical_px: 0, stated: true }, random).map((l) => ({ clip: 'c', ...l })),
      measures,
    })
    const readings = new Map<string, Reading>(
      readingsOf(film, () => evenFrameTable(seconds.length, { n: fps, d: 1 })).map((r) => [r.id, r]),
    )
    const start = seconds[span.fromFrame]!
    for (const part of PARTS) {
      const { low, high } = readings.get(part)!
      if (low === null || high === null) continue
      tallies[part].given++
      if (truth[part] >= start + low && truth[part] <= start + high) tallies[part].inside++
    }
    for (const [id, right] of [
      ['order', Math.sign(truth.elbow - truth.pelvis)],
      ['lines', Math.sign(truth.shoulder - truth.pelvis)],
    ] as const) {
      const { value } = readings.get(id)!
      if (value === null || value === 0) continue
      if (value !== right) tallies.order.wrong++
      else if (id === 'order') tallies.order.right++
    }
  }
  return tallies
}

describe('peak times of two punches at 120 frames a second, 200 draws each', () => {
  test.each([0, 1])('punch %i: 93–99 % of the intervals hold the truth', (n) => {
    const tallies = draw(PUNCHES[n]!, 120, 200, 31 + n)
    for (const part of PARTS) {
      expect(tallies[part].given, part).toBeGreaterThanOrEqual(190)
      const inside = tallies[part].inside / tallies[part].given
      expect(inside, part).toBeGreaterThanOrEqual(0.93)
      expect(inside, part).toBeLessThanOrEqual(0.99)
    }
    expect(tallies.order.wrong / 200).toBeLessThanOrEqual(0.025)
    if (n === 0) expect(tallies.order.right / 200).toBeGreaterThanOrEqual(0.95)
  })

  test.each([60, 30])('at %i frames a second no more than 2.5 % of orders are resolved wrongly', (fps) => {
    for (const [n, punch] of PUNCHES.entries()) {
      const tallies = draw(punch, fps, 80, 50 + n)
      expect(tallies.order.wrong / 80).toBeLessThanOrEqual(0.025)
      for (const part of PARTS)
        expect(tallies[part].inside / Math.max(1, tallies[part].given), `${part} at ${fps}`).toBeGreaterThanOrEqual(0.93)
    }
  })
})
