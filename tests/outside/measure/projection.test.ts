import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { jointAngle, lean, toRadians } from '../../../app/geometry/angle'
import { unsqueezed } from '../../../app/measure/limb-plane'
import { readingsOf } from '../../../app/measure/readings'
import type { Point } from '../../../app/project/fields'
import type { Measure } from '../../../app/project/question'
import { clipOf, EXACT, filmed, placedBy } from './filmed'
import { seeded } from './random'
import { cameraAround, cross3, dot3, minus3, readTrial } from './trial'

interface Projection {
  segment_in_vertical_plane_rotated_by_yaw_from_image_plane: {
    rows: { segment_angle_to_horizontal_deg: number; plane_yaw_deg: number; apparent_deg: number }[]
  }
  joint_bisected_by_vertical: { rows: { joint_angle_deg: number; bisector_vertical_yaw_deg: number; apparent_deg: number }[] }
  digitising_noise_first_order: {
    rows: { segment_px: number; sigma_px: number; segment_angle_sd_deg: number; joint_angle_sd_deg_equal_segments_90: number }[]
  }
}
/// Exact projections and first-order noise, computed (tests/data/numeric).
const projection = JSON.parse(readFileSync('tests/data/numeric/projection.json', 'utf8')) as Projection

/// A point of a plane seen with that plane turned by yaw about the vertical, from far away.
const seen = (angle_deg: number, yaw_deg: number): Point => [
  100 * Math.cos(toRadians(angle_deg)) * Math.cos(toRadians(yaw_deg)),
  -100 * Math.sin(toRadians(angle_deg)),
]

describe('angles against exact projections (projection.json)', () => {
  test('a segment turned from the picture shows the stored apparent angle', () => {
    const rows = projection.segment_in_vertical_plane_rotated_by_yaw_from_image_plane.rows
    expect(rows.length).toBeGreaterThan(10)
    for (const row of rows) {
      const measured = 90 - lean([0, 0], seen(row.segment_angle_to_horizontal_deg, row.plane_yaw_deg))!.deg
      expect(measured).toBeCloseTo(row.apparent_deg, 9)
    }
  })

  test('a joint bisected by the vertical shows the stored apparent angle, and unsqueezing gives the true one back', () => {
    const rows = projection.joint_bisected_by_vertical.rows
    expect(rows.length).toBeGreaterThan(10)
    for (const { joint_angle_deg: joint, bisector_vertical_yaw_deg: yaw, apparent_deg } of rows) {
      const points = [seen(90 - joint / 2, yaw), [0, 0], seen(90 + joint / 2, yaw)] as const
      expect(jointAngle(...points)!.deg).toBeCloseTo(apparent_deg, 9)
      // The squeeze runs across the vertical axis, which is 90° from image right.
      expect(unsqueezed([...points], toRadians(yaw), Math.PI / 2)).toBeCloseTo(joint, 9)
    }
  })

  test('click noise moves segments and right-angled joints by the stored standard deviations', () => {
    for (const { segment_px: L, sigma_px: sigma, segment_angle_sd_deg, joint_angle_sd_deg_equal_segments_90 } of projection
      .digitising_noise_first_order.rows) {
      const sdOf = (slopes: readonly Point[]): number => sigma * Math.hypot(...slopes.flat())
      expect(sdOf(lean([0, 0], [0, -L])!.slopes)).toBeCloseTo(segment_angle_sd_deg, 9)
      expect(sdOf(jointAngle([L, 0], [0, 0], [0, L])!.slopes)).toBeCloseTo(joint_angle_sd_deg_equal_segments_90, 9)
    }
  })

  test('apparent kinds read the captured boxer within 0.05° of the exact projection when clicks carry no error', () => {
    const trial = readTrial('cmu_13_18_first_15s')
    const random = seeded(11)
    let compared = 0
    for (let azimuth_deg = 0; azimuth_deg < 360; azimuth_deg += 30) {
      const frames = Array.from({ length: 10 }, () => Math.floor(random.uniform() * trial.poses.length))
      const poses = new Map(frames.map((f) => [f, trial.poses[f]!] as const))
      const camera = cameraAround(trial, trial.poses[600]!, { azimuth_deg, elevation_deg: 8, figure_px: 700, distance_m: 9 })
      const measures: Measure[] = [...poses.keys()].flatMap((frame): Measure[] => {
        const on = { clip: 'c', subject: 's', frame }
        return [
          { ...on, id: `knee${frame}`, kind: 'joint-angle', points: ['hip.right', 'knee.right', 'ankle.right'] },
          { ...on, id: `trunk${frame}`, kind: 'line-lean', points: ['hip.mid', 'shoulder.mid'] },
          { ...on, id: `lines${frame}`, kind: 'line-angle', points: ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right'] },
        ]
      })
      const readings = readingsOf(
        filmed({ clips: [clipOf('c')], landmarks: placedBy(camera, poses, EXACT, random).map((l) => ({ clip: 'c', ...l })), measures }),
        () => null,
      )
      // The truth by another road: each image line spans a plane with the camera's centre, and
      // the drawn directions come from the dot products of rays, not from pixels.
      const direction = (frame: number, from: readonly string[], to: readonly string[]): Point => {
        const at = (names: readonly string[]): Point => {
          const rays = names.map((n) => {
            const d = minus3(poses.get(frame)!.get(n)!, camera.position)
            const depth = dot3(d, camera.forward)
            return [dot3(d, camera.right) / depth, dot3(d, cross3(camera.forward, camera.right)) / depth] as const
          })
          return [rays.reduce((s, r) => s + r[0], 0) / rays.length, rays.reduce((s, r) => s + r[1], 0) / rays.length]
        }
        const [a, b] = [at(from), at(to)]
        return [b[0] - a[0], b[1] - a[1]]
      }
      const angleBetween = (u: Point, v: Point): number =>
        (Math.acos((u[0] * v[0] + u[1] * v[1]) / Math.hypot(...u) / Math.hypot(...v)) * 180) / Math.PI
      for (const reading of readings) {
        if (reading.value === null) continue
        const frame = reading.frame!
        const truth =
          reading.kind === 'joint-angle'
            ? angleBetween(direction(frame, ['knee.right'], ['hip.right']), direction(frame, ['knee.right'], ['ankle.right']))
            : reading.kind === 'line-angle'
              ? angleBetween(direction(frame, ['hip.left'], ['hip.right']), direction(frame, ['shoulder.left'], ['shoulder.right']))
              : angleBetween(direction(frame, ['hip.left', 'hip.right'], ['shoulder.left', 'shoulder.right']), [0, -1]) *
                Math.sign(direction(frame, ['hip.left', 'hip.right'], ['shoulder.left', 'shoulder.right'])[0])
        expect(Math.abs(reading.value - truth)).toBeLessThan(0.05)
        compared++
      }
    }
    expect(compared).toBeGreaterThan(250)
  })
})
