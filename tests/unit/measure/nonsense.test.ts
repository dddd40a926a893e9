import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { answerOf, registry } from '../../../app/measure/registry'
import { measureContext } from '../../../app/measure/context'
import { readingsOf } from '../../../app/measure/readings'
import { reasons } from '../../../app/measure/reason'
import type { Reading } from '../../../app/measure/reading'
import { Breakdown } from '../../../app/project/breakdown'
import { Measure, type MeasureKind } from '../../../app/project/question'
import { evenFrameTable, type FrameTable } from '../../../app/time/frame-table'
import { read, scene, standing, table60 } from './scene'

const kinds = Object.keys(registry) as MeasureKind[]

/// A reading that a reader may be shown: a verdict, known reasons, finite numbers or none, no
/// "NaN" or "undefined" in any text.
function expectSound(reading: Reading): void {
  expect(['good', 'warned', 'range', 'refused']).toContain(reading.verdict)
  for (const code of reading.reasons) expect(reasons).toHaveProperty(code)
  for (const x of [reading.value, reading.u, reading.U, reading.low, reading.high]) {
    if (reading.verdict === 'refused') expect(x).toBeNull()
    else expect(Number.isFinite(x)).toBe(true)
  }
  for (const text of [reading.label, reading.plate.value, reading.plate.what, reading.spoken])
    expect(text).not.toMatch(/NaN|undefined|Infinity|null/)
  for (const part of reading.parts) expect(Number.isFinite(part.U)).toBe(true)
  if (reading.verdict !== 'refused') {
    expect(reading.low!).toBeLessThanOrEqual(reading.value! + 1e-9)
    expect(reading.high!).toBeGreaterThanOrEqual(reading.value! - 1e-9)
  }
}

const points = [
  ...Object.keys(standing),
  'hip.mid',
  'knee.lead',
  'ankle.rear',
  'nowhere',
  'back.1',
  'back.2',
  'back.3',
  'back.4',
  'mark.1',
  'mark.2',
  'mark.3',
  'mark.4',
]
const name = fc.constantFrom(...points)
const names = (n: number) => fc.array(name, { minLength: n, maxLength: n })
const frame = fc.oneof(
  { weight: 5, arbitrary: fc.integer({ min: 455, max: 466 }) },
  { weight: 1, arbitrary: fc.constantFrom(0, 399, 400, 829, 830, 100_000_000) },
)
const clip = fc.constantFrom('c1', 'c1', 'c1', 'c2', 'gone')
const event = fc.constantFrom('plant', 'contact', 'landing', 'replayed', 'again', 'gone')
const unit = fc.record({ points: names(2), frame, name: fc.constantFrom('head heights', '', 'thighs') })
const scale = fc.record({
  points: names(2),
  frame,
  metres: fc.double({ min: 1e-300, max: 1000, noNaN: true }),
  u: fc.double({ min: 0, max: 1, noNaN: true }),
})
const camera = fc.constantFrom(
  'still' as const,
  { background: ['back.1', 'back.2'] },
  { background: ['back.1', 'back.2', 'back.3', 'back.4'] },
  { background: ['nowhere', 'back.1'] },
)
const some = { requiredKeys: ['kind'] as ['kind'] }
const onFrame = { clip, subject: fc.constantFrom('s1', 'gone'), frame }
const place = fc.tuple(fc.double({ min: -1e4, max: 1e4, noNaN: true }), fc.double({ min: -1e4, max: 1e4, noNaN: true }))
const floor = fc.record({
  subject: fc.constant('s1'),
  marks: fc.tuple(place, place, place, place).map((at) => at.map((p, i) => ({ point: `mark.${i + 1}`, at: p }))),
  unit: fc.constantFrom('m', ''),
  u: fc.double({ min: 0, max: 1, noNaN: true }),
})
const line = fc.record({
  frame,
  stands: fc.tuple(
    fc.record({ subject: fc.constant('s1'), points: names(2) }),
    fc.record({ subject: fc.constantFrom('s1', 'gone'), points: names(1) }),
  ),
})
const any = fc.double({ noNaN: true, min: -1e9, max: 1e9 })
const turning = { points: fc.oneof(names(2), names(3)) }

/// Any record of each kind; what the schema refuses is left out before it is asked.
const anyOf: { readonly [K in MeasureKind]: fc.Arbitrary<object> } = {
  'joint-angle': fc.record(
    {
      ...onFrame,
      points: names(3),
      plane: fc.record({ deg: fc.double({ min: -360, max: 360, noNaN: true }), u: fc.double({ min: 0, max: 180, noNaN: true }) }),
      event,
      kind: fc.constant('joint-angle'),
    },
    { requiredKeys: ['kind', 'clip', 'subject', 'frame', 'points'] },
  ),
  'line-lean': fc.record(
    { ...onFrame, points: names(2), event, toward: fc.constantFrom('lead', 'right'), kind: fc.constant('line-lean') },
    { requiredKeys: ['kind', 'clip', 'subject', 'frame', 'points'] },
  ),
  'line-angle': fc.record({ ...onFrame, points: names(4), kind: fc.constant('line-angle') }),
  'frame-count': fc.record({ clip, from: event, to: event, kind: fc.constant('frame-count') }),
  'time-between': fc.record({ clip, from: event, to: event, kind: fc.constant('time-between') }),
  order: fc.record({ clip, from: event, to: event, kind: fc.constant('order') }),
  distance: fc.record({ ...onFrame, points: names(2), unit, kind: fc.constant('distance') }),
  separation: fc.record(
    {
      ...onFrame,
      view: fc.constantFrom('side', 'above'),
      widths: fc.record({ hipsFrame: frame, shouldersFrame: frame }),
      near: fc.record({ hips: fc.constantFrom('left', 'right'), shoulders: fc.constantFrom('left', 'right') }),
      kind: fc.constant('separation'),
    },
    { requiredKeys: ['kind', 'clip', 'subject', 'frame', 'view'] },
  ),
  'step-off-line': fc.record({ ...onFrame, points: names(1), floor, line, planted: fc.constant(true), kind: fc.constant('step-off-line') }),
  'foot-heading': fc.record({ ...onFrame, points: names(2), floor, line, planted: fc.constant(true), kind: fc.constant('foot-heading') }),
  displacement: fc.record(
    { ...onFrame, points: names(1), fromFrame: frame, unit, scale, camera, against: name, kind: fc.constant('displacement') },
    { requiredKeys: ['kind', 'clip', 'subject', 'frame', 'points', 'fromFrame'] },
  ),
  'head-displacement': fc.record({ ...onFrame, points: names(1), fromFrame: frame, unit, camera, kind: fc.constant('head-displacement') }),
  path: fc.record({
    clip,
    subject: fc.constant('s1'),
    points: names(1),
    fromFrame: frame,
    toFrame: frame,
    unit,
    camera,
    cutoff: fc.double({ min: 0.5, max: 200, noNaN: true }),
    kind: fc.constant('path'),
  }),
  'centre-of-mass': fc.record({
    ...onFrame,
    fromFrame: frame,
    table: fc.constantFrom('de-leva-female', 'de-leva-male', 'winter', 'hip-midpoint'),
    unit,
    camera,
    kind: fc.constant('centre-of-mass'),
  }),
  speed: fc.record({ ...onFrame, points: names(1), scale, camera, flight: fc.constant(true), kind: fc.constant('speed') }),
  'angular-rate': fc.record(
    { ...onFrame, ...turning, above: fc.constant(true), kind: fc.constant('angular-rate') },
    { requiredKeys: ['kind', 'clip', 'subject', 'frame', 'points'] },
  ),
  'peak-time': fc.record({
    clip,
    subject: fc.constant('s1'),
    ...turning,
    fromFrame: frame,
    toFrame: frame,
    sign: fc.constantFrom('+', '-'),
    kind: fc.constant('peak-time'),
  }),
  'peak-order': fc.record({
    measures: fc.tuple(fc.constantFrom('m0', 'm1', 'gone'), fc.constantFrom('m0', 'm1')),
    kind: fc.constant('peak-order'),
  }),
  count: fc.record({
    what: fc.constantFrom('heel off', ''),
    set: fc.string(),
    cases: fc.array(fc.record({ clip, holds: fc.constantFrom(true, false, null) }), { maxLength: 12 }),
    kind: fc.constant('count'),
  }),
  'by-eye': fc.record(
    {
      clip,
      frame,
      what: fc.constantFrom('knee', ''),
      value: any,
      unit: fc.constantFrom('°', 'm', ''),
      u: fc.double({ min: 0, max: 1e9, noNaN: true }),
      kind: fc.constant('by-eye'),
    },
    some,
  ),
  comparison: fc.record(
    {
      measures: fc.tuple(fc.constantFrom('m0', 'm1', 'gone'), fc.constantFrom('m0', 'm1')),
      margin: fc.record({ delta: fc.double({ min: 1e-6, max: 1e6, noNaN: true }), before: fc.boolean() }),
      kind: fc.constant('comparison'),
    },
    { requiredKeys: ['kind', 'measures'] },
  ),
}

const anyMeasures = fc
  .array(
    fc.constantFrom(...kinds).chain((kind) => anyOf[kind]),
    { minLength: 2, maxLength: 4 },
  )
  .map((list) => list.map((m, i) => ({ ...m, id: `m${i}` })).filter((m) => Measure.safeParse(m).success) as Measure[])

const anyPoint = fc.oneof(
  { weight: 6, arbitrary: fc.tuple(fc.double({ min: -50, max: 1400, noNaN: true }), fc.double({ min: -50, max: 800, noNaN: true })) },
  { weight: 2, arbitrary: fc.constantFrom([600, 300] as [number, number], [100_000, -100_000] as [number, number]) },
)
const anySample = fc.record(
  {
    at: anyPoint,
    sigma: fc.double({ min: 1e-300, max: 10_000, noNaN: true }),
    seen: fc.constantFrom('seen', 'occluded', 'blurred'),
    blur: fc.double({ min: 0, max: 1e9, noNaN: true }),
    origin: fc.constantFrom('placed', 'tracked', 'suggested'),
  },
  { requiredKeys: ['at'] },
)
const stored = [...Object.keys(standing), 'back.1', 'back.2', 'back.3', 'back.4', 'mark.1', 'mark.2', 'mark.3', 'mark.4']
const anyTrack = fc.array(anySample, { minLength: 1, maxLength: 12 }).map((list) => list.map((s, i) => ({ ...s, frame: 455 + i })))
const anyTable = fc.constantFrom<FrameTable | null>(null, table60, evenFrameTable(461, { n: 240, d: 1 }), {
  base: { n: 1, d: 1000 },
  pts: Float64Array.from({ length: 900 }, (_, i) => i * 10 + (i % 3)),
  end: 9000,
  rate: null,
})

describe('any measure on any placing', () => {
  test('has a sound reading for every question, in order, without throwing', () => {
    fc.assert(
      fc.property(anyMeasures, fc.tuple(...stored.map(() => anyTrack)), anyTable, fc.boolean(), (measures, tracks, table, mirrored) => {
        const plain = scene([])
        const breakdown = {
          ...plain,
          clips: plain.clips.map((c) => ({ ...c, mirrored })),
          landmarks: stored.map((point, i) => ({ clip: 'c1', subject: 's1', point, samples: tracks[i]! })),
          measures,
        } as Breakdown
        const readings = readingsOf(breakdown, () => table)
        expect(readings.map((r) => r.id)).toEqual(measures.map((m) => m.id))
        readings.forEach(expectSound)
      }),
      { numRuns: 600, seed: 4 },
    )
  })
})

describe('nonsense', () => {
  const onC1 = { clip: 'c1', subject: 's1', frame: 460 }
  const unitOf = { points: ['hip.left', 'knee.left'], frame: 460, name: 'thighs' }

  test('one sample alone has no rate, no speed, no peak', () => {
    expect(read({ ...onC1, id: 'r', kind: 'angular-rate', points: ['hip.left', 'knee.left', 'ankle.left'] }).reasons).toEqual([
      'too-few-samples',
    ])
    expect(read({ ...onC1, id: 's', kind: 'speed', points: ['wrist.left'], unit: unitOf, camera: 'still' }).verdict).toBe('refused')
    expect(
      read({ clip: 'c1', subject: 's1', id: 'p', kind: 'peak-time', points: ['hip.left', 'hip.right'], fromFrame: 456, toFrame: 464 })
        .verdict,
    ).toBe('refused')
  })

  test('angles around ± 180° are followed without a jump, and a lean past it is wrapped', () => {
    const frames = Array.from({ length: 21 }, (_, i) => 450 + i)
    const at = (deg: number): [number, number] => [600 + 100 * Math.sin((deg * Math.PI) / 180), 300 - 100 * Math.cos((deg * Math.PI) / 180)]
    const more = {
      landmarks: [
        {
          clip: 'c1',
          subject: 's1',
          point: 'hip.left',
          samples: frames.map((frame) => ({ frame, at: [600, 300] as [number, number], sigma: 0.5 })),
        },
        {
          clip: 'c1',
          subject: 's1',
          point: 'knee.left',
          samples: frames.map((frame) => ({ frame, at: at(170 + frame - 450), sigma: 0.5 })),
        },
      ],
      events: [],
    }
    const rate = read({ ...onC1, id: 'r', kind: 'angular-rate', points: ['hip.left', 'knee.left'] }, { more })
    expect(rate.value!).toBeCloseTo(60, 1)
    const lean = read({ ...onC1, frame: 465, id: 'l', kind: 'line-lean', points: ['hip.left', 'knee.left'] }, { more })
    expect(lean.value!).toBeCloseTo(-175, 6)
  })

  test('everything hidden doubles the error and says so; nothing is made up', () => {
    const hidden = read(
      { ...onC1, id: 'k', kind: 'joint-angle', points: ['hip.left', 'knee.left', 'ankle.left'] },
      { sample: { sigma: 2, seen: 'occluded' } },
    )
    expect(hidden.reasons).toContain('occluded')
    expect(hidden.verdict).not.toBe('good')
  })

  test('NaN and negative frames do not pass the schema; were they to come all the same, no NaN reaches a label', () => {
    expect(Measure.safeParse({ ...onC1, id: 'k', kind: 'joint-angle', frame: -1, points: ['a', 'b', 'c'] }).success).toBe(false)
    const broken = scene([{ ...onC1, id: 'k', kind: 'joint-angle', points: ['hip.left', 'knee.left', 'ankle.left'] }])
    const samples = [{ frame: 460, at: [NaN, 1] as [number, number], sigma: 1 }]
    const landmarks = broken.landmarks!.map((l) => (l.point === 'knee.left' ? { ...l, samples } : l))
    expect(Breakdown.safeParse({ ...broken, landmarks }).success).toBe(false)
    readingsOf({ ...broken, landmarks }, () => table60).forEach(expectSound)
  })

  test('a million samples of one landmark are read in seconds', () => {
    const samples = Array.from({ length: 1_000_000 }, (_, i) => ({ frame: i, at: [600 + (i % 7), 300] as [number, number] }))
    const plain = scene([{ ...onC1, id: 'l', kind: 'line-lean', points: ['hip.left', 'knee.left'] }])
    const wide = {
      ...plain,
      clips: [{ ...plain.clips[0]!, from: 0, to: 1_000_000 }],
      landmarks: [{ clip: 'c1', subject: 's1', point: 'hip.left', samples }, ...plain.landmarks!.filter((l) => l.point !== 'hip.left')],
    }
    const started = performance.now()
    readingsOf(wide, () => null).forEach(expectSound)
    expect(performance.now() - started).toBeLessThan(10_000)
  })
})

describe('the registry', () => {
  test('only answers with reasons that the kind declares, or that an event or a comparison adds', () => {
    const added = new Set(['event-elsewhere', 'event-motion-unknown', 'event-missing', 'across-clips', 'event-reversed'])
    fc.assert(
      fc.property(anyMeasures, fc.tuple(...stored.map(() => anyTrack)), anyTable, (measures, tracks, table) => {
        const breakdown = {
          ...scene([]),
          landmarks: stored.map((point, i) => ({ clip: 'c1', subject: 's1', point, samples: tracks[i]! })),
          measures,
        } as Breakdown
        const context = measureContext(breakdown, () => table)
        for (const measure of measures) {
          if (measure.kind === 'comparison' || measure.kind === 'peak-order') continue
          const declared = new Set<string>([...registry[measure.kind].limits, ...added])
          for (const code of answerOf(measure, context).reasons) expect(declared, `${measure.kind} answers ${code}`).toContain(code)
        }
      }),
      { numRuns: 300, seed: 5 },
    )
  })

  test('names a formula, a source, inputs and a wording for every kind', () => {
    for (const kind of kinds)
      for (const text of [registry[kind].formula, registry[kind].source, registry[kind].inputs, registry[kind].wording])
        expect(text.length, kind).toBeGreaterThan(3)
  })
})
