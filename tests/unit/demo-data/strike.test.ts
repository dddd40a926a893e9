import { gunzipSync } from 'node:zlib'
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { press } from '../../../demo-data/film/bag'
import { castOf, fistOf, placeCast, strikeOf, type Strike } from '../../../demo-data/film/cast'
import { truePoints } from '../../../demo-data/film/landmarks'
import { poseAt } from '../../../demo-data/film/pose'
import { distance } from '../../../demo-data/film/quaternion'
import { boutA, boutB, films, type Bout } from '../../../demo-data/film/recipes'
import { jointPositions, readBvh } from '../../../demo-data/mocap/bvh'

const CAPTURE = 'demo-data/mocap/cmu_13_18_first_15s.bvh.gz'

const strikeFor = (bout: Bout, from: number, to: number): Strike =>
  strikeOf(castOf(CAPTURE, from, to, bout.lift), bout.bag, (from + 8) / 120, (to - 8) / 120, bout.near_s)
const a = strikeFor(boutA, 1150, 1260)
const b = strikeFor(boutB, 1380, 1470)

describe('the drawn boxer', () => {
  it('turns every limb as the capture does', () => {
    const bvh = readBvh(gunzipSync(readFileSync(CAPTURE)).toString('latin1'))
    for (const frame of [1150, 1215, 1229, 1250]) {
      const captured = jointPositions(bvh, frame)
      const pose = poseAt(a.cast.figure, frame)
      for (const [from, to] of [
        ['rForeArm', 'rHand'],
        ['lThigh', 'lShin'],
        ['rShin', 'rFoot'],
        ['chest', 'neck'],
        ['neck', 'head'],
      ] as const) {
        const p = captured.get(from)!
        const q = captured.get(to)!
        const drawn = [from, to].map((n) => pose.places[a.cast.figure.index.get(n)!]!)
        const along = distance(p, q)
        const length = distance(drawn[0]!, drawn[1]!)
        for (const i of [0, 1, 2] as const) expect((drawn[1]![i] - drawn[0]![i]) / length).toBeCloseTo((q[i] - p[i]) / along, 9)
      }
    }
  })

  it('keeps its flesh about its joints: each landmark lies inside or near the drawn surface', () => {
    const points = new Float32Array(a.cast.count * 3)
    placeCast(a, a.contact_s, points, new Float32Array(a.cast.count * 3))
    for (const point of truePoints(a, a.contact_s)) {
      let nearest = Infinity
      for (let v = 0; v < points.length; v += 3)
        nearest = Math.min(nearest, Math.hypot(points[v]! - point.at[0], points[v + 1]! - point.at[1], points[v + 2]! - point.at[2]))
      expect(nearest, point.name).toBeLessThan(0.16)
    }
  })
})

describe('contact', () => {
  it.each([
    ['a', a],
    ['b', b],
  ] as const)('is the instant at which glove meets bag, and the gap closes until then: bout %s', (_, strike) => {
    const depth = (t: number): number =>
      press(strike.bag.home, strike.bag.at(t), fistOf(strike.cast.figure, poseAt(strike.cast.figure, t * 120), 'r')).depth
    expect(Math.abs(depth(strike.contact_s))).toBeLessThan(1e-4)
    expect(depth(strike.contact_s - 1 / 120)).toBeLessThan(-0.02)
    expect(depth(strike.contact_s + 1 / 240)).toBeGreaterThan(0)
  })

  it('leaves the bag at rest before, and moves it after', () => {
    for (const strike of [a, b]) {
      expect(Math.hypot(strike.bag.at(strike.contact_s - 0.001).x, strike.bag.at(strike.contact_s - 0.001).z)).toBe(0)
      expect(Math.hypot(strike.bag.at(strike.contact_s + 0.05).x, strike.bag.at(strike.contact_s + 0.05).z)).toBeGreaterThan(0.002)
    }
  })

  it('lies within every film of its bout', () => {
    for (const film of films) {
      const frame = ((film.bout.id === 'a' ? a : b).contact_s - film.first / 120) * film.captureRate
      expect(frame).toBeGreaterThan(0.2 * film.frames)
      expect(frame).toBeLessThan(0.9 * film.frames)
    }
  })
})
