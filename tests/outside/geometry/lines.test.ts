import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { lineCamera, type LinePose, type LineWay } from '../../../app/geometry/line-camera'
import type { Point } from '../../../app/project/fields'

/// Ropes, edges and posts of a ring before known cameras: SciPy 1.17's `least_squares` over the whole likelihood, in which every line
/// has its own true ends and leans by its own untruth. Ours has none of these numbers: it takes them out to first order.
interface Scene {
  true: { elevation_deg: number; roll_deg: number; focal_px: number }
  sigma_px: number
  lines: { way: LineWay; ends: [Point, Point] }[]
  /// Value and σ.
  scipy: { elevation_deg: [number, number]; roll_deg: [number, number]; focal_px: [number, number]; cost: number }
}
const data = JSON.parse(readFileSync('tests/data/numeric/lines_scipy.json', 'utf8')) as {
  size: [number, number]
  middle_share: number
  square_u_deg: number
  true_u_deg: Record<LineWay, number>
  scenes: Scene[]
}

const DEGREES = 180 / Math.PI
const values: Record<'elevation_deg' | 'roll_deg' | 'focal_px', (pose: LinePose) => number> = {
  elevation_deg: ({ up }) => -DEGREES * Math.asin(up[2]),
  roll_deg: ({ up }) => DEGREES * Math.atan2(-up[0], -up[1]),
  focal_px: ({ focal }) => focal,
}

describe('the camera of lines at right angles against SciPy', () => {
  test.each(data.scenes.map((scene) => ({ ...scene, name: `${scene.lines.length} lines from ${scene.true.elevation_deg}°` })))(
    'of $name',
    ({ true: truth, sigma_px, lines, scipy }) => {
      const { along, across, upright } = data.true_u_deg
      const camera = lineCamera(
        lines.map((line) => ({ ...line, sigmas: [sigma_px, sigma_px] as const })),
        { width: data.size[0], height: data.size[1] },
        {
          middleShare: data.middle_share,
          squareness: data.square_u_deg / DEGREES,
          trueness: { along: along / DEGREES, across: across / DEGREES, upright: upright / DEGREES },
        },
      )!
      for (const name of ['elevation_deg', 'roll_deg', 'focal_px'] as const) {
        const told = camera.tell(values[name])
        const [value, sigma] = scipy[name]
        // To first order: a fiftieth of σ apart, and σ within two hundredths of its own.
        expect(Math.abs(told.value - value), name).toBeLessThan(0.02 * sigma)
        expect(Math.abs(told.sigma / sigma - 1), name).toBeLessThan(0.02)
        expect(Math.abs(told.value - truth[name]), name).toBeLessThan(3 * told.sigma)
      }
      expect(Math.abs(camera.misfit - scipy.cost)).toBeLessThan(0.02)
      expect(camera.freedom).toBe(lines.length - 4)
    },
  )
})
