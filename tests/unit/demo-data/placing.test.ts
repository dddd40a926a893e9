import { describe, expect, it } from 'vitest'
import { HAND_PX, placePoints } from '../../../demo-data/breakdown/placing'
import { arriving, fitted, inTicks } from '../../../demo-data/breakdown/timing'
import type { Truth } from '../../../demo-data/film/truth'
import type { Shot } from '../../../app/project/picture'

const still: Truth = {
  film: 'still',
  note: '',
  camera: { position: [0, 1, -5], target: [0, 1, 0], focal_px: 1000, width: 1280, height: 720 },
  fileRate: '120/1',
  captureRate: '120/1',
  captureFactor: '1',
  shutter_s: 0,
  frames: 400,
  contact: { seconds: 1, frame: 120 },
  turns: { hips: 1, shoulders: 2 },
  separation_deg: 0,
  points: [
    {
      name: 'knee.left',
      px: Array.from({ length: 400 }, () => [500, 300] as const),
      metres: [],
      seen: 's'.repeat(200) + 'o'.repeat(200),
      blur: Array.from({ length: 400 }, () => 0),
    },
  ],
}
const spread = (values: readonly number[]): number => {
  const mean = values.reduce((s, v) => s + v, 0) / values.length
  return Math.sqrt(values.reduce((s, v) => s + (v - mean) ** 2, 0) / (values.length - 1))
}

describe('the simulated hand', () => {
  const frames = Array.from({ length: 400 }, (_, i) => i)
  const [landmark] = placePoints(
    [{ film: 'still', clip: 'c', subject: 's', point: 'knee.left', frames, repeats: 3 }],
    new Map([['still', still]]),
    5,
  )
  const seen = landmark!.samples.filter((s) => s.seen === undefined)
  const hidden = landmark!.samples.filter((s) => s.seen === 'occluded')

  it('wobbles about the truth by its stated spread, more where the point is hidden', () => {
    expect(seen).toHaveLength(600)
    expect(hidden).toHaveLength(600)
    expect(spread(seen.map((s) => s.at[0])) / HAND_PX).toBeGreaterThan(0.9)
    expect(spread(seen.map((s) => s.at[0])) / HAND_PX).toBeLessThan(1.1)
    expect(spread(hidden.map((s) => s.at[1])) / HAND_PX).toBeGreaterThan(1.6)
    expect(Math.abs(seen.reduce((sum, s) => sum + s.at[1] - 300, 0) / seen.length)).toBeLessThan(0.3)
  })

  it('places the same way for the same seed and another for another', () => {
    const wish = { film: 'still', clip: 'c', subject: 's', point: 'knee.left', frames: [7] }
    const at = (seed: number): unknown => placePoints([wish], new Map([['still', still]]), seed)
    expect(at(5)).toEqual(at(5))
    expect(at(5)).not.toEqual(at(6))
  })

  it('refuses a point that the film does not have', () => {
    expect(() =>
      placePoints([{ film: 'still', clip: 'c', subject: 's', point: 'elbow.left', frames: [1] }], new Map([['still', still]]), 1),
    ).toThrow(RangeError)
  })
})

describe('fitting shots to words', () => {
  const seconds = (shot: Shot): number =>
    'hold' in shot
      ? Number(shot.seconds.split('/')[0]) / Number(shot.seconds.split('/')[1] ?? 1)
      : 'run' in shot
        ? (shot.to - shot.from) / 30
        : 0

  it('stretches the elastic hold until the words and a breath are over', () => {
    const shots = fitted(
      [
        { run: 'c1', from: 0, to: 60, speed: '1/4' },
        { hold: 'c1', at: 60, seconds: 'rest' },
      ],
      7,
      seconds,
    )
    expect(shots.reduce((s, shot) => s + seconds(shot), 0)).toBeCloseTo(7.45, 1)
  })

  it('keeps a hold long enough to be read where the words are short', () => {
    const [, hold] = fitted(
      [
        { run: 'c1', from: 0, to: 60, speed: '1/4' },
        { hold: 'c1', at: 60, seconds: 'rest' },
      ],
      1,
      seconds,
    )
    expect(seconds(hold!)).toBeCloseTo(1.5, 1)
  })

  it('reaches an event as its word is said, standing first where the clip is too short', () => {
    const near = arriving({ run: 'c1', speed: '1/4' }, 156, 0, 2, 30)
    expect(near).toEqual([{ run: 'c1', from: 96, to: 156, speed: '1/4' }])
    const far = arriving({ run: 'c1', speed: '1/4', frameTo: [0, 0, 640, 360] }, 30, 0, 3, 30)
    expect(far).toEqual([
      { hold: 'c1', at: 0, seconds: '60/30' },
      { run: 'c1', from: 0, to: 30, speed: '1/4', frameTo: [0, 0, 640, 360] },
    ])
  })

  it('writes seconds as thirtieths', () => {
    expect(inTicks(1.5)).toBe('45/30')
  })
})
