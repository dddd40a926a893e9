import { describe, expect, it } from 'vitest'
import { curveFigure } from '../../../app/marks/curve-figure'
import { measureContext, type MeasureContext } from '../../../app/measure/context'
import { curveOf, mayHaveCurve, MOST_FRAMES, readingOfCurve, type CurvePoint } from '../../../app/measure/curve'
import { curveBeside } from '../../../app/measure/curve-beside'
import type { MeasureOf } from '../../../app/measure/kind'
import { readingOf } from '../../../app/measure/readings'
import { overFrames } from '../../../app/measure/registry'
import { peaksOf, smoothCurve, stretchesOf } from '../../../app/measure/smooth-curve'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Event, Sample } from '../../../app/project/film'
import type { Measure } from '../../../app/project/question'
import { evenFrameTable } from '../../../app/time/frame-table'
import { scene, standing } from './scene'

/// The curves of the kinds whose frames are not those of one point.

type At = (frame: number) => readonly [number, number]
const table = evenFrameTable(4000, { n: 120, d: 1 })
const followed = (
  ways: Readonly<Record<string, At>>,
  from: number,
  to: number,
  but: (point: string, frame: number) => boolean = () => false,
): NonNullable<Breakdown['landmarks']> =>
  Object.entries(ways).map(([point, at]) => ({
    clip: 'c1',
    subject: 's1',
    point,
    samples: Array.from({ length: to - from }, (_, i) => from + i)
      .filter((frame) => !but(point, frame))
      .map((frame): Sample => ({ frame, at: [...at(frame)] as [number, number], sigma: 1 })),
  }))
const still = Object.fromEntries(Object.entries(standing).map(([point, at]): [string, At] => [point, () => at]))
const contextOf = (
  measures: readonly Measure[],
  landmarks: NonNullable<Breakdown['landmarks']>,
  more: Partial<Breakdown> = {},
): MeasureContext =>
  measureContext(
    scene(measures, {
      more: {
        events: [],
        clips: [{ id: 'c1', footage: 'f1', from: 0, to: 4000, capture: { factor: '1', u: 0 }, hall: { camera: 'still' } }],
        views: [{ clip: 'c1', subject: 's1', from: 0, to: 4000, lead: 'left', yaw: { deg: 0, u: 5 }, elevation: { deg: 60, u: 2 } }],
        landmarks,
        ...more,
      },
    }),
    () => table,
  )
const event = (name: string, earliest: number, latest = earliest): Event => ({ id: name, clip: 'c1', name, earliest, latest })
const framesOf = (curve: readonly CurvePoint[]): number[] => curve.map(({ frame }) => frame)
const rangeOf = (from: number, to: number): number[] => Array.from({ length: to - from }, (_, i) => from + i)

describe('the curve of a path', () => {
  const unit = { points: ['hip.left', 'knee.left'], frame: 460, name: 'thigh lengths' }
  const path: MeasureOf['path'] = {
    id: 'm1',
    kind: 'path',
    clip: 'c1',
    subject: 's1',
    points: ['wrist.right'],
    unit,
    fromFrame: 430,
    toFrame: 500,
  }
  const ways = { ...still, 'wrist.right': (frame: number) => [700 + 60 * Math.sin(frame / 9), 180 + 25 * Math.cos(frame / 5)] as const }
  const context = contextOf([path], followed(ways, 380, 560))
  const curve = curveOf(path, context)

  it('is the length up to each frame: it never falls, its error grows, and it ends in the measure’s own value', () => {
    expect(framesOf(curve)).toEqual(rangeOf(431, 501))
    curve.slice(1).forEach(({ value, high, low }, i) => {
      expect(value).toBeGreaterThanOrEqual(curve[i]!.value)
      if (i > 5) expect(high - low).toBeGreaterThan(0.99 * (curve[i]!.high - curve[i]!.low))
    })
    const own = readingOf(path, context)
    const last = curve.at(-1)!
    expect([last.value, last.low, last.high]).toEqual([own.value, own.low, own.high].map((each) => expect.closeTo(each!, 9)))
  })

  it('is on each frame what the kind itself answers of a path that ends there', () => {
    for (const toFrame of [440, 463, 487]) {
      const own = readingOf({ ...path, toFrame }, context)
      const here = curve.find(({ frame }) => frame === toFrame)!
      // What follows after three periods of the cut-off is not felt: they differ by far less than their error.
      for (const [a, b] of [
        [here.value, own.value],
        [here.low, own.low],
        [here.high, own.high],
      ] as const)
        expect(Math.abs(a - b!)).toBeLessThan(0.02 * own.U!)
    }
  })

  it('ends at contact and at a frame without a placing, and is not smoothed a second time', () => {
    const ends = (landmarks: NonNullable<Breakdown['landmarks']>, events: Event[]): number | undefined =>
      curveOf(path, contextOf([path], landmarks, { events })).at(-1)?.frame
    expect(ends(followed(ways, 380, 560), [event('contact', 470)])).toBe(470)
    expect(
      ends(
        followed(ways, 380, 560, (point, frame) => point === 'wrist.right' && frame === 480),
        [],
      ),
    ).toBe(479)
    const [piece] = smoothCurve(curve, [], table, 1)
    expect(piece!.map(({ value }) => value)).toEqual(curve.map(({ value }) => value))
    const lower = curveOf({ ...path, cutoff: 7 }, context)
    // The kind's own answer at a cut-off 30 % lower.
    piece!.forEach((point, i) => expect(point.lower).toBeCloseTo(lower[i]!.value, 3))
    expect(peaksOf(curve, [piece!])).toEqual([])
  })

  it('of 1,500 frames is there within seconds', () => {
    const long: Measure = { ...path, fromFrame: 100, toFrame: 100 + MOST_FRAMES }
    const whole = contextOf([long], followed(ways, 40, 1700))
    const began = performance.now()
    expect(curveOf(long, whole)).toHaveLength(MOST_FRAMES)
    // Measured: 3 s, most of it the filter that its own reading makes as well; asked frame by frame it would be many minutes.
    expect(performance.now() - began).toBeLessThan(30_000)
  })
})

describe('the curve of a separation', () => {
  const turned = (deg: number, half: number, [x, y]: readonly [number, number]): { left: [number, number]; right: [number, number] } => {
    const [dx, dy] = [half * Math.cos((deg * Math.PI) / 180), half * 0.05]
    return { left: [x + dx, y + dy], right: [x - dx, y - dy] }
  }
  /// Hips `hips(frame)` and shoulders `shoulders(frame)` degrees out of the picture's plane, from the side.
  const ways = (hips: (frame: number) => number, shoulders: (frame: number) => number): Readonly<Record<string, At>> => ({
    ...still,
    'hip.left': (frame) => turned(hips(frame), 60, [600, 300]).left,
    'hip.right': (frame) => turned(hips(frame), 60, [600, 300]).right,
    'shoulder.left': (frame) => turned(shoulders(frame), 80, [610, 180]).left,
    'shoulder.right': (frame) => turned(shoulders(frame), 80, [610, 180]).right,
  })
  const side: MeasureOf['separation'] = {
    id: 'm1',
    kind: 'separation',
    clip: 'c1',
    subject: 's1',
    view: 'side',
    frame: 460,
    widths: { hipsFrame: 400, shouldersFrame: 400 },
  }
  const near: MeasureOf['separation'] = { ...side, near: { hips: 'left', shoulders: 'left' } }
  const square = (frame: number): boolean => frame === 400
  const oblique = ways(
    (frame) => (square(frame) ? 0 : 40),
    (frame) => (square(frame) ? 0 : 65),
  )

  it('from above has a value on every frame with its four points, and none where one is missing', () => {
    const above: MeasureOf['separation'] = { id: 'm1', kind: 'separation', clip: 'c1', subject: 's1', view: 'above', frame: 460 }
    const landmarks = followed(still, 440, 481, (point, frame) => point === 'shoulder.right' && frame === 466)
    const context = contextOf([above], landmarks)
    const curve = curveOf(above, context)
    expect(framesOf(curve)).toEqual(rangeOf(440, 481).filter((frame) => frame !== 466))
    expect(curve.some(({ range }) => range)).toBe(false)
    expect(curve.find(({ frame }) => frame === 460)!.value).toBe(readingOf(above, context).value)
  })

  it('from the side is a band without a line: nothing of it is smoothed, and it has no peak', () => {
    const curve = curveOf(near, contextOf([near], followed(oblique, 400, 500)))
    expect(curve.length).toBeGreaterThan(90)
    expect(curve.every(({ range }) => range)).toBe(true)
    expect(smoothCurve(curve, [], table, 1)).toEqual([])
  })

  it('takes the nearer ends as stated only as far as no line can have come through square', () => {
    // The hips come to square about frame 470 and go on the same way, or back.
    const through = ways(
      (frame) => (square(frame) ? 0 : Math.abs(470 - frame) * 2 + 10),
      (frame) => (square(frame) ? 0 : 65),
    )
    const frames = framesOf(curveOf(near, contextOf([near], followed(through, 400, 500))))
    expect(frames).toContain(455)
    expect(frames.at(-1)).toBeGreaterThanOrEqual(460)
    expect(frames.at(-1)).toBeLessThan(470)
    // Nor across a frame that is not placed, nor where the film is too slow to have seen it.
    const gap = framesOf(
      curveOf(
        near,
        contextOf(
          [near],
          followed(oblique, 400, 500, (_, frame) => frame === 480),
        ),
      ),
    )
    expect(gap.at(-1)).toBe(479)
    const slow = measureContext(contextOf([near], followed(oblique, 400, 500)).breakdown, () => evenFrameTable(4000, { n: 10, d: 1 }))
    expect(framesOf(curveOf(near, slow))).toEqual([460])
    // Where no end is stated, both solutions stand on every frame.
    expect(framesOf(curveOf(side, contextOf([side], followed(through, 400, 500)))).at(-1)).toBe(499)
  })
})

describe('the curve of a balance point', () => {
  const unit = { points: ['hip.left', 'knee.left'], frame: 460, name: 'thigh lengths' }
  const balance: MeasureOf['centre-of-mass'] = {
    id: 'm1',
    kind: 'centre-of-mass',
    clip: 'c1',
    subject: 's1',
    table: 'de-leva-male',
    unit,
    fromFrame: 430,
    frame: 460,
  }
  const body: Readonly<Record<string, At>> = { ...still, 'head.top': () => [610, 90], neck: () => [620, 160] }
  const moving = Object.fromEntries(
    Object.entries(body).map(([point, at]): [string, At] => [point, (frame) => [at(frame)[0]! + (frame - 430), at(frame)[1]!]]),
  )

  it('is its way since the first frame, on every frame that shows the same segments', () => {
    const landmarks = followed(moving, 420, 500, (point, frame) => point === 'wrist.right' && frame >= 480)
    const context = contextOf([balance], landmarks)
    const curve = curveOf(balance, context)
    expect(framesOf(curve)).toEqual(rangeOf(420, 480))
    const perFrame = curve.find(({ frame }) => frame === 440)!.value / 10
    for (const { frame, value } of curve) expect(value).toBeCloseTo(perFrame * Math.abs(frame - 430), 9)
    expect(curve.find(({ frame }) => frame === 460)!.value).toBe(readingOf(balance, context).value)
  })

  it('of the hips’ middle is there where both hips are', () => {
    const hips: MeasureOf['centre-of-mass'] = { ...balance, table: 'hip-midpoint' }
    expect(
      framesOf(
        curveOf(
          hips,
          contextOf(
            [hips],
            followed(moving, 420, 500, (point, frame) => point === 'hip.right' && frame === 470),
          ),
        ),
      ),
    ).toEqual(rangeOf(420, 500).filter((frame) => frame !== 470))
  })
})

describe('the curve of a peak’s time', () => {
  const peak: MeasureOf['peak-time'] = {
    id: 'm1',
    kind: 'peak-time',
    clip: 'c1',
    subject: 's1',
    points: ['elbow.right', 'wrist.right'],
    fromFrame: 430,
    toFrame: 490,
    label: 'the fastest of it',
  }
  const turning = (frame: number): readonly [number, number] => {
    const deg = 90 / (1 + Math.exp(-(frame - 460) / 6))
    return [700 + 90 * Math.sin((deg * Math.PI) / 180), 240 - 90 * Math.cos((deg * Math.PI) / 180)]
  }
  const landmarks = followed({ ...still, 'wrist.right': turning }, 380, 560)
  const context = contextOf([peak], landmarks)

  it('is the rate over its span, by the rate’s own name and unit, with the peak in its bracket where the curve is highest', () => {
    const curve = curveOf(peak, context)
    expect(framesOf(curve)).toEqual(rangeOf(430, 491))
    const rate = readingOf({ id: 'r', kind: 'angular-rate', clip: 'c1', subject: 's1', points: peak.points, frame: 445 }, context)
    expect(curve.find(({ frame }) => frame === 445)!.value).toBe(rate.value)
    const reading = readingOf(peak, context)
    expect(readingOfCurve(peak, reading, curve, context)).toMatchObject({ unit: '°/s', plate: { what: rate.plate.what } })
    const figure = curveFigure(peak, context, reading)!
    expect(figure.instant!.name).toBe('turns fastest')
    expect(figure.instant!.at).toBeCloseTo(430 + reading.value! * 120, 9)
    expect(Math.abs(figure.instant!.at - 460)).toBeLessThan(1)
    expect(figure.instant!.earliest).toBeLessThan(figure.instant!.at)
    expect(figure.instant!.latest).toBeGreaterThan(figure.instant!.at)
    expect(figure.instant!.words).toBe(`turns fastest ${reading.plate.value} after frame 430`)
    // The peak's rate is told with the error that the rate has on its frame, for the cut-offs are in it.
    const highest = figure.peaks.find(({ way }) => way === 'highest')!
    const there = curve.find(({ frame }) => frame === highest.frame)!
    expect([highest.value, highest.half]).toEqual([there.value, (there.high - there.low) / 2])
  })

  it('is told in the film’s frames of a replay as well', () => {
    const slow = contextOf([peak], landmarks, { clips: [{ id: 'c1', footage: 'f1', from: 0, to: 4000, capture: { factor: '2', u: 0 } }] })
    const reading = readingOf(peak, slow)
    expect(overFrames(peak)!.instant!(reading, slow)!.at).toBeCloseTo(430 + 2 * reading.value! * 120, 9)
  })

  it('is broken at contact, and so is any rate’s: nothing joins the frames around it', () => {
    const struck = contextOf([peak], landmarks, { events: [event('contact', 450)] })
    const curve = curveOf(peak, struck)
    expect(stretchesOf(curve, ({ frame }) => frame).map((run) => [run[0]!.frame, run.at(-1)!.frame])).toEqual([
      [430, 450],
      [451, 490],
    ])
  })
})

it('should lay two ways over one another without a decision, for a way’s end has no event of its own', () => {
  const unit = { points: ['hip.left', 'knee.left'], frame: 460, name: 'thigh lengths' }
  const path = (id: string, clip: string): MeasureOf['path'] => ({
    id,
    kind: 'path',
    clip,
    subject: 's1',
    points: ['wrist.right'],
    unit,
    fromFrame: 430,
    toFrame: 490,
  })
  const ways = followed({ ...still, 'wrist.right': (frame) => [700 + frame, 180] }, 380, 560)
  const clips = ['c1', 'c2'].map((id) => ({ id, footage: 'f1', from: 0, to: 4000, capture: { factor: '1', u: 0 } }))
  const context = contextOf([path('m1', 'c1'), path('m2', 'c2')], [...ways, ...ways.map((each) => ({ ...each, clip: 'c2' }))], {
    clips,
    events: [event('load', 460), { ...event('there', 470), clip: 'c2', name: 'load' }],
  })
  const beside = curveBeside(path('m1', 'c1'), path('m2', 'c2'), 'load', context)
  expect(beside.points).toHaveLength(60)
  expect(beside.words).toBe('at load: no decision, it does not stand for an event')
})

it('should give no curve to what stands on no single frame, or on a foot that is stated as planted on its own frame', () => {
  const line = {
    frame: 460,
    stands: [
      { subject: 's1', points: ['ankle.left'] },
      { subject: 's2', points: ['ankle.left'] },
    ],
  } satisfies MeasureOf['foot-heading']['line']
  const none: Measure[] = [
    { id: 'm1', kind: 'step-off-line', clip: 'c1', subject: 's1', frame: 460, points: ['toe.left'], line, planted: true },
    { id: 'm1', kind: 'foot-heading', clip: 'c1', subject: 's1', frame: 460, points: ['heel.left', 'toe.left'], line, planted: true },
    { id: 'm1', kind: 'time-between', clip: 'c1', from: 'plant', to: 'contact' },
    { id: 'm1', kind: 'frame-count', clip: 'c1', from: 'plant', to: 'contact' },
    { id: 'm1', kind: 'order', clip: 'c1', from: 'plant', to: 'contact' },
    { id: 'm1', kind: 'peak-order', measures: ['a', 'b'] },
    { id: 'm1', kind: 'comparison', measures: ['a', 'b'] },
    { id: 'm1', kind: 'count', what: 'x', set: 'y', cases: [] },
    { id: 'm1', kind: 'by-eye', clip: 'c1', frame: 460, what: 'lean', value: 3, unit: '°' },
  ]
  for (const measure of none) {
    expect(mayHaveCurve(measure), measure.kind).toBe(false)
    expect(curveOf(measure, contextOf([], []))).toEqual([])
  }
})
