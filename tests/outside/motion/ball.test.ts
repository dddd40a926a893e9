import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { freeFlight, scaleAlong } from '../../../app/motion/free-flight'
import { readingsOf } from '../../../app/measure/readings'
import type { Point } from '../../../app/project/fields'
import { evenFrameTable } from '../../../app/time/frame-table'
import { clipOf, filmed, type Sample } from '../measure/filmed'

/// A ball in free flight, 120.018 frames a second: centroid of the largest bright blob (BMC
/// notebooks, M. Duarte and co-authors, CC BY 4.0). It moves away from the camera after frame 60.
const RATE = 120.018
const track = readFileSync('tests/data/video/bmc_projetil_blob_track_px.csv', 'utf8')
  .trim()
  .split(/\r?\n/)
  .filter((l) => !l.startsWith('#'))
  .map((line) => {
    const [frame, , x, y] = line.split(',').map(Number) as [number, number, number, number]
    return { frame, at: [x, y] as [number, number] }
  })
const times = track.map((s) => s.frame / RATE)
const points = track.map((s): Point => s.at)

describe('the ball', () => {
  test('falls on one parabola within 0.5 px over its first 60 frames, at the stored 6437 px/s²', () => {
    const fit = freeFlight(times.slice(0, 60), points.slice(0, 60))!
    expect(fit.rms).toBeLessThan(0.5)
    expect(Math.abs(fit.acceleration - 6437)).toBeLessThan(10)
  })

  test('falls at the stored 4813 px/s² from frame 60 on, so that one scale does not hold', () => {
    const flight = scaleAlong(times, points, 60)!
    expect(Math.abs(flight.last.acceleration - 4813)).toBeLessThan(25)
    expect(flight.holds).toBe(false)
    expect(scaleAlong(times.slice(0, 60), points.slice(0, 60))!.holds).toBe(true)
  })

  test('its speed is given early on, and warned of where the scale no longer holds', () => {
    const samples: Sample[] = track.map((s) => ({ ...s, sigma: 0.5 }))
    const unit = { points: ['ball.top', 'ball.bottom'], frame: 20, name: 'ball widths' }
    const end = (dy: number): Sample[] => [{ frame: 20, at: [points[20]![0], points[20]![1] + dy], sigma: 0.5 }]
    const [early, late] = readingsOf(
      filmed({
        clips: [clipOf('c', { to: 138 })],
        landmarks: [
          { clip: 'c', point: 'ball', samples },
          { clip: 'c', point: 'ball.top', samples: end(-14) },
          { clip: 'c', point: 'ball.bottom', samples: end(14) },
        ],
        measures: [15, 62].map((frame) => ({
          id: `v${frame}`,
          kind: 'speed' as const,
          clip: 'c',
          subject: 's',
          frame,
          points: ['ball'],
          unit,
          camera: 'still' as const,
          flight: true as const,
        })),
      }),
      () => evenFrameTable(138, { n: 120018, d: 1000 }),
    )
    expect(early!.value).not.toBeNull()
    expect(early!.reasons).not.toContain('scale-changes')
    expect(late!.reasons).toContain('scale-changes')
  })
})
