import { expect, it } from 'vitest'
import { cameraRoll } from '../../../app/measure/camera-roll'
import { measureContext } from '../../../app/measure/context'
import type { Sample, View } from '../../../app/project/film'
import { scene, tableSized } from './scene'

/// A hall seen by a camera turned about its axis by `roll` (clockwise) and looking down by `pitch`: points in metres across, up and
/// away, on a picture of 1280 × 720 whose focal length is 1.3 widths.

const rad = Math.PI / 180
function onPicture([x, y, z]: readonly [number, number, number], roll: number, pitch: number): [number, number] {
  const [c, s] = [Math.cos(pitch * rad), Math.sin(pitch * rad)]
  // Camera axes: right, down, forward; looking down by `pitch`.
  const [right, down, forward] = [x, -y * c - z * s, z * c - y * s]
  const f = 1.3 * 1280
  const [px, py] = [(f * right) / forward, (f * down) / forward]
  // A camera turned clockwise shows the hall turned the other way.
  const [cr, sr] = [Math.cos(-roll * rad), Math.sin(-roll * rad)]
  return [640 + cr * px - sr * py, 360 + sr * px + cr * py]
}
const rollOf = (
  points: Readonly<Record<string, readonly [number, number]>>,
  kind: 'upright' | 'level',
  { elevation, sample = { sigma: 1 } }: { readonly elevation?: View['elevation']; readonly sample?: Partial<Sample> } = {},
) => {
  const breakdown = scene([], {
    points,
    sample,
    more: { views: [{ clip: 'c1', subject: 's1', from: 400, to: 830, ...(elevation ? { elevation } : {}) }] },
  })
  return cameraRoll(
    measureContext(breakdown, () => tableSized),
    breakdown.clips[0]!,
    's1',
    kind,
    460,
  )
}

it.each([-7, 0, 3.5])('should find a roll of %f° from a post, whichever end was placed first', (roll) => {
  const [foot, top] = [onPicture([0, -1, 8], roll, 0), onPicture([0, 1.5, 8], roll, 0)]
  for (const ends of [
    [foot, top],
    [top, foot],
  ]) {
    const found = rollOf({ 'upright.1': ends[0]!, 'upright.2': ends[1]! }, 'upright')
    expect(found.ok && found.value.deg).toBeCloseTo(roll, 6)
  }
  // And from a level line, across the picture.
  const rope = rollOf({ 'level.1': onPicture([2, 1, 9], roll, 0), 'level.2': onPicture([-2, 1, 9], roll, 0) }, 'level')
  expect(rope.ok && rope.value.deg).toBeCloseTo(roll, 6)
})

it('should take out what a camera that looks down makes a post lean away from the picture’s middle, where its elevation is stated', () => {
  const points = { 'upright.1': onPicture([2, -3, 8], 2, 15), 'upright.2': onPicture([2, -1, 8], 2, 15) }
  const [stated, unstated] = [rollOf(points, 'upright', { elevation: { deg: 15, u: 3 } }), rollOf(points, 'upright')]
  if (!stated.ok || !unstated.ok) throw new Error('refused')
  expect(Math.abs(stated.value.deg - 2)).toBeLessThan(0.3)
  // Unstated, the lean stays in the value, and its u says so.
  expect(Math.abs(unstated.value.deg - 2)).toBeGreaterThan(2)
  expect(Math.abs(unstated.value.deg - 2)).toBeLessThan(2 * unstated.value.u)
})

it('should give the ends’ own errors over the line’s length, and half a degree for how true a post is', () => {
  const found = rollOf({ 'upright.1': [640, 500], 'upright.2': [640, 200] }, 'upright', { sample: { sigma: 3 } })
  expect(found.ok && found.value.u).toBeCloseTo(Math.hypot((Math.SQRT2 * 3) / 300 / rad, 0.5), 6)
})

it('should refuse a line whose ends are not both placed, or lie too near each other', () => {
  expect(rollOf({ 'upright.1': [640, 500] }, 'upright')).toMatchObject({ ok: false, error: 'landmark-missing' })
  expect(rollOf({ 'level.1': [640, 500], 'level.2': [648, 500] }, 'level')).toMatchObject({ ok: false, error: 'unit-too-short' })
})
