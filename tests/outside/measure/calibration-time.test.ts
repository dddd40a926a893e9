import { describe, expect, test } from 'vitest'
import { readingsOf } from '../../../app/measure/readings'
import type { Event } from '../../../app/project/film'
import type { Measure } from '../../../app/project/question'
import type { FrameTable } from '../../../app/time/frame-table'
import { countLowerBound } from '../../../app/measure/distribution'
import { expectCalibrated } from './calibration'
import { Coverage } from './coverage'
import { clipOf, EXACT, filmed, placedBy } from './filmed'
import { seeded, type Random } from './random'
import { cameraAround, readTrial } from './trial'

/// Calibration of what rests on events: exact instants drawn on films of even and of uneven frames,
/// marked by an analyst who takes the nearest frame, or the two frames around it, or a wider bracket.

/// A film of `frames` frames at about `rate` a second; uneven: every interval drawn within ± 30 %.
function film(frames: number, rate: number, uneven: boolean, random: Random): FrameTable {
  const pts = new Float64Array(frames)
  for (let i = 1; i < frames; i++) pts[i] = pts[i - 1]! + Math.round((1e6 / rate) * (uneven ? 0.7 + 0.6 * random.uniform() : 1))
  return {
    base: { n: 1, d: 1_000_000 },
    pts,
    end: pts[frames - 1]! + Math.round(1e6 / rate),
    rate: uneven ? null : { n: Math.round(1000 * rate), d: 1000 },
  }
}

function mark(id: string, clip: string, seconds: number, table: FrameTable, style: number): Event {
  const t = seconds * 1e6
  let after = 0
  while (after < table.pts.length && table.pts[after]! <= t) after++
  const before = after - 1
  const nearest = t - table.pts[before]! < table.pts[after]! - t ? before : after
  if (style === 0) return { id, clip, name: id, earliest: nearest, latest: nearest }
  const wider = style === 2 ? 1 : 0
  return { id, clip, name: id, earliest: Math.max(0, before - wider), latest: after + wider }
}

function runTimes(): Coverage {
  const random = seeded(77)
  const coverage = new Coverage()
  for (let n = 0; n < 12400; n++) {
    const rate = [25, 29.97, 50, 59.94, 120, 240][n % 6]!
    const uneven = n % 4 === 3
    const table = film(400, rate, uneven, random)
    const second = (table.pts[399]! - table.pts[0]!) / 1e6
    const [a, b] = [second * (0.05 + 0.4 * random.uniform()), second * (0.5 + 0.4 * random.uniform())]
    const k = [1, 1, 4, 8][n % 4]!
    const u = random.uniform() < 0.5 ? 0 : 0.05 * k
    const real = k + u * random.normal()
    const events = [mark('a', 'c', a, table, n % 3), mark('b', 'c', b, table, (n >> 2) % 3)]
    const measures: Measure[] = [
      { id: 't', kind: 'time-between', clip: 'c', from: 'a', to: 'b' },
      { id: 'f', kind: 'frame-count', clip: 'c', from: 'a', to: 'b' },
    ]
    const [time, count] = readingsOf(
      filmed({ clips: [clipOf('c', { to: 400, capture: { factor: String(k), u } })], events, landmarks: [], measures }),
      () => table,
    )
    coverage.note(u === 0 ? 'time-between, bounded' : 'time-between, with k', time!, (b - a) / real)
    // In frames, an instant lies where it lies between the frames around it.
    const frameAt = (t: number): number => {
      let i = 0
      while (table.pts[i + 1]! <= t * 1e6) i++
      return i + (t * 1e6 - table.pts[i]!) / (table.pts[i + 1]! - table.pts[i]!)
    }
    if (!uneven) coverage.note('frame-count', count!, frameAt(b) - frameAt(a))
  }
  return coverage
}

describe('95 % intervals of times and counts', () => {
  const coverage = runTimes()

  test('times of known rate keep to their bound; with an uncertain capture factor 93–98 % hold the truth', () => {
    expectCalibrated(coverage, 'time-between, bounded', 'bounded')
    expectCalibrated(coverage, 'time-between, with k', 'normal')
  })

  test("a frame count's bound always holds", () => {
    expect(coverage.score('frame-count').inside).toBe(1)
    expect(coverage.score('frame-count').given).toBeGreaterThanOrEqual(2000)
  })

  test('an order is never given wrong, at 25 frames a second and instants a millisecond to 80 apart', () => {
    const random = seeded(78)
    let [resolved, wrong] = [0, 0]
    for (let n = 0; n < 2000; n++) {
      const table = film(100, 25, false, random)
      const a = 1 + random.uniform()
      const b = a + 0.08 * (2 * random.uniform() - 1)
      const events = [mark('a', 'c', a, table, n % 3), mark('b', 'c', b, table, (n >> 1) % 3)]
      const [reading] = readingsOf(
        filmed({
          clips: [clipOf('c', { to: 100, capture: 'unknown' })],
          events,
          landmarks: [],
          measures: [{ id: 'o', kind: 'order', clip: 'c', from: 'a', to: 'b' }],
        }),
        () => table,
      )
      if (reading!.value === 0) continue
      resolved++
      if (reading!.value !== Math.sign(b - a)) wrong++
    }
    expect(resolved).toBeGreaterThan(300)
    expect(wrong).toBe(0)
  })

  test('k of n: the bound lies below the rate behind the cases in at least 95 % of draws', () => {
    const random = seeded(79)
    let below = 0
    const draws = 4000
    for (let i = 0; i < draws; i++) {
      const rate = random.uniform()
      const n = 1 + Math.floor(12 * random.uniform())
      let k = 0
      for (let j = 0; j < n; j++) if (random.uniform() < rate) k++
      if (countLowerBound(k, n) <= rate) below++
    }
    expect(below / draws).toBeGreaterThanOrEqual(0.95)
  })

  test('a linked capture factor: 93–98 % of times measured through it hold the truth', () => {
    const random = seeded(80)
    const linked = new Coverage()
    for (let n = 0; n < 2500; n++) {
      const live = film(200, 30, false, random)
      const replay = film(900, 30, false, random)
      const k = 2 + 4 * random.uniform()
      const start = 1 + random.uniform()
      const instants = [start, start + 0.3 + 0.4 * random.uniform(), start + 1 + 0.5 * random.uniform()]
      const inReplay = (t: number): number => (t - start) * k + 1.3
      const [p, q] = [start + 0.4 * random.uniform(), start + 0.5 + 0.5 * random.uniform()]
      const events = [
        ...instants.map((t, i) => mark(`live${i}`, 'live', t, live, 0)),
        ...instants.map((t, i) => mark(`slow${i}`, 'slow', inReplay(t), replay, 0)),
        mark('p', 'slow', inReplay(p), replay, 0),
        mark('q', 'slow', inReplay(q), replay, 0),
      ]
      const breakdown = filmed({
        clips: [
          clipOf('live', { footage: 'f', to: 200 }),
          clipOf('slow', {
            footage: 'g',
            to: 900,
            capture: {
              factor: '1',
              u: 0,
              link: {
                shared: 'live',
                pairs: [
                  ['slow0', 'live0'],
                  ['slow1', 'live1'],
                  ['slow2', 'live2'],
                ],
              },
            },
          }),
        ],
        events,
        landmarks: [],
        measures: [{ id: 't', kind: 'time-between', clip: 'slow', from: 'p', to: 'q' }],
        more: {
          footage: [
            { id: 'f', file: 'live.mp4' },
            { id: 'g', file: 'slow.mp4' },
          ],
        },
      })
      linked.note('time through a link', readingsOf(breakdown, (id) => (id === 'f' ? live : replay))[0]!, q - p)
    }
    // Six ramp tests of ten at 2 σ turn a steady replay down now and then; never most of them.
    expect(linked.score('time through a link').refused).toBeLessThan(500)
    expectCalibrated(linked, 'time through a link', 'normal')
  })

  test('differences of two readings of one clip take out the offset they share, and still hold the truth', () => {
    const trial = readTrial('cmu_10_05')
    const random = seeded(81)
    const coverage = new Coverage()
    let [shared, apart] = [0, 0]
    for (let n = 0; n < 240; n++) {
      const frames = Array.from({ length: 10 }, () => Math.floor(random.uniform() * trial.poses.length))
      const poses = new Map([...new Set(frames)].sort((a, b) => a - b).map((f) => [f, trial.poses[f]!] as const))
      const camera = cameraAround(trial, trial.poses[200]!, {
        azimuth_deg: 360 * random.uniform(),
        elevation_deg: 5,
        figure_px: 400,
        distance_m: 12,
      })
      const measures = [...poses.keys()].map((frame): Measure => ({
        id: `k${frame}`,
        kind: 'line-lean',
        clip: 'c',
        subject: 's',
        frame,
        points: ['hip.left', 'knee.left'],
      }))
      const pairs = measures.slice(1).map((m, i): Measure => ({ id: `d${i}`, kind: 'comparison', measures: [measures[i]!.id, m.id] }))
      const film = (placing: { click_px: number; anatomical_px: number; stated: boolean }) =>
        readingsOf(
          filmed({
            clips: [clipOf('c', { roll: { deg: 0, u: 1 } })],
            landmarks: placedBy(camera, poses, placing, random).map((l) => ({ clip: 'c', ...l })),
            measures: [...measures, ...pairs],
          }),
          () => null,
        )
      const exact = film(EXACT)
      const noisy = film({ click_px: 2, anatomical_px: 4, stated: false })
      noisy.forEach((reading, i) => {
        if (reading.kind !== 'comparison' || reading.U === null) return
        coverage.note('difference of leans', reading, exact[i]!.value!, 360)
        const j = i - measures.length
        shared += reading.u! ** 2
        apart += (noisy[j]!.u ?? 0) ** 2 + (noisy[j + 1]!.u ?? 0) ** 2
      })
    }
    expectCalibrated(coverage, 'difference of leans', 'normal')
    // Roll and the landmarks' offsets are most of each; much of that is common.
    expect(Math.sqrt(shared / apart)).toBeLessThan(0.85)
  })
})
