import { describe, expect, test } from 'vitest'
import { countCases } from '../../../app/measure/count'
import { leastMargin, stateMargin } from '../../../app/measure/margin'
import { mayCallHabit, phraseFor } from '../../../app/measure/phrase-ladder'
import { readingsOf } from '../../../app/measure/readings'
import { captureFactor } from '../../../app/measure/capture-factor'
import { measureContext } from '../../../app/measure/context'
import { Breakdown } from '../../../app/project/breakdown'
import type { Measure } from '../../../app/project/question'
import { usesOfMeasure } from '../../../app/release/where-used'
import { evenFrameTable } from '../../../app/time/frame-table'
import { clipOf, filmed } from './filmed'
import { cameraAround, readTrial } from './trial'
import { EXACT, placedBy } from './filmed'
import { seeded } from './random'

/// Scenes of an analyst's work, each with the figure that must come out.

const table30 = evenFrameTable(3000, { n: 30, d: 1 })
const eye = (id: string, value: number, U: number, clip = 'a'): Measure => ({
  id,
  kind: 'by-eye',
  clip,
  frame: 10,
  what: 'rear knee',
  value,
  unit: '°',
  u: U / 1.959963984540054,
})
const pair = (U: number, margin?: Extract<Measure, { kind: 'comparison' }>['margin']) =>
  readingsOf(
    filmed({
      clips: [clipOf('a'), clipOf('b')],
      landmarks: [],
      measures: [
        eye('x', 42, U),
        eye('y', 51, U, 'b'),
        { id: 'd', kind: 'comparison', measures: ['x', 'y'], ...(margin ? { margin } : {}) },
      ],
    }),
    () => null,
  )[2]!

describe('one landmark moves: the knee goes from 145° to 131°', () => {
  const film = (deg: number): Breakdown => {
    const turn = (deg * Math.PI) / 180
    const at: Record<string, [number, number]> = {
      'hip.left': [500, 300],
      'knee.left': [500, 400],
      'ankle.left': [500 + 100 * Math.sin(turn), 400 - 100 * Math.cos(turn)],
      'hip.right': [530, 300],
      'knee.right': [530, 400],
      'ankle.right': [530, 500],
    }
    const base = filmed({
      clips: [clipOf('c')],
      landmarks: Object.entries(at).map(([point, p]) => ({ clip: 'c', point, samples: [{ frame: 10, at: p, sigma: 2 }] })),
      measures: [
        { id: 'left', kind: 'joint-angle', clip: 'c', subject: 's', frame: 10, points: ['hip.left', 'knee.left', 'ankle.left'] },
        { id: 'right', kind: 'joint-angle', clip: 'c', subject: 's', frame: 10, points: ['hip.right', 'knee.right', 'ankle.right'] },
        { id: 'both', kind: 'comparison', measures: ['left', 'right'] },
      ],
    })
    return Breakdown.parse({
      ...base,
      script: [
        { chapter: 'The load' },
        {
          id: 'p1',
          text: ['The knee is at ', { value: 'left' }, '.'],
          shots: [
            { hold: 'c', at: 10, seconds: '2', marks: ['left', 'right'] },
            { hold: 'c', at: 10, seconds: '2', marks: ['right'] },
          ],
        },
        { id: 'p2', text: ['The other is at ', { value: 'right' }, '.'] },
        {
          id: 'p3',
          text: ['They differ: ', { value: 'both' }, '.'],
          shots: [{ run: 'c', from: 1, to: 9, speed: '1/4', marks: [{ plate: 'both' }] }],
        },
      ],
    })
  }

  test('exactly its own reading and what builds on it change, and exactly their users go stale', () => {
    const [before, after] = [readingsOf(film(145), () => null), readingsOf(film(131), () => null)]
    expect(before[0]!.label).toContain('145°')
    expect(after[0]!.label).toContain('131°')
    expect(after.filter(({ label }, i) => label !== before[i]!.label).map(({ id }) => id)).toEqual(['left', 'both'])
    const uses = usesOfMeasure('left', film(131), new Map(after.map((reading) => [reading.id, reading])))
    expect(uses.map(({ as, place }) => `${as} ${place}`)).toEqual([
      'sentence script[1].text',
      'caption script[1].text',
      'label script[1].shots[0]',
      'measure measures[2]',
      'sentence script[3].text',
      'caption script[3].text',
      'label script[3].shots[0]',
    ])
  })
})

describe('a replay of unknown rate', () => {
  const events = (slow: readonly number[]) => [
    { id: 'l0', clip: 'live', name: 'load', earliest: 100, latest: 100 },
    { id: 'l1', clip: 'live', name: 'plant', earliest: 104, latest: 104 },
    { id: 'l2', clip: 'live', name: 'contact', earliest: 109, latest: 109 },
    ...slow.map((frame, i) => ({ id: `r${i}`, clip: 'replay', name: 'x', earliest: frame, latest: frame })),
  ]
  const film = (slow: readonly number[], pairs: [string, string][] | null) =>
    filmed({
      clips: [
        clipOf('live', { to: 400 }),
        clipOf('replay', { from: 400, to: 900, capture: pairs ? { factor: '4', u: 0.19, link: { shared: 'live', pairs } } : 'unknown' }),
      ],
      events: events(slow),
      landmarks: [],
      measures: [
        { id: 't', kind: 'time-between', clip: 'replay', from: 'r0', to: 'r1' },
        { id: 'f', kind: 'frame-count', clip: 'replay', from: 'r0', to: 'r1' },
      ],
    })

  test('refuses seconds until it is linked; frames are counted all along', () => {
    const [time, frames] = readingsOf(film([500, 536], null), () => table30)
    expect(time!.verdict).toBe('refused')
    expect(frames!.value).toBe(36)
    expect(
      readingsOf(
        film(
          [500, 536],
          [
            ['r0', 'l0'],
            ['r1', 'l2'],
          ],
        ),
        () => table30,
      )[0]!.verdict,
    ).toBe('warned')
  })

  test('0.30 s live and 1.20 s in the replay, both at 30 frames a second: k = 4.0, u 4.7 %, U 9.2 %', () => {
    const linked = film(
      [500, 536],
      [
        ['r0', 'l0'],
        ['r1', 'l2'],
      ],
    )
    const factor = captureFactor(
      measureContext(linked, () => table30),
      linked.clips[1]!,
    )
    expect(factor.ok).toBe(true)
    if (!factor.ok) return
    expect(factor.value.k).toBeCloseTo(4, 10)
    expect((100 * factor.value.u) / factor.value.k).toBeCloseTo(4.7, 1)
    expect(((100 * factor.value.u) / factor.value.k) * 1.959963984540054).toBeCloseTo(9.2, 1)
  })

  test('that slows from 4× to 2× on the way is refused as ramped, a steady one is not', () => {
    const pairs: [string, string][] = [
      ['r0', 'l0'],
      ['r1', 'l1'],
      ['r2', 'l2'],
    ]
    const read = (live: readonly number[], slow: readonly number[]) => {
      const base = film(slow, pairs)
      return readingsOf(
        {
          ...base,
          events: base.events!.map((e) => {
            const i = ['l0', 'l1', 'l2'].indexOf(e.id)
            return i < 0 ? e : { ...e, earliest: live[i]!, latest: live[i]! }
          }),
        },
        () => table30,
      )[0]!
    }
    expect(read([100, 115, 130], [500, 560, 590]).reasons).toContain('capture-ramped')
    expect(read([100, 115, 130], [500, 560, 620])).toMatchObject({ verdict: 'good' })
  })

  test('cannot be linked to itself, round in a ring, or to a shot of unknown rate', () => {
    const ring = film(
      [500, 536],
      [
        ['r0', 'l0'],
        ['r1', 'l2'],
      ],
    )
    const [live, replay] = ring.clips
    const back = {
      ...live!,
      capture: {
        factor: '1',
        u: 0,
        link: {
          shared: 'replay',
          pairs: [
            ['l0', 'r0'],
            ['l2', 'r1'],
          ] as [string, string][],
        },
      },
    }
    expect(readingsOf({ ...ring, clips: [back, replay!] }, () => table30)[0]!.reasons).toContain('capture-link-broken')
    expect(readingsOf({ ...ring, clips: [{ ...live!, capture: 'unknown' }, replay!] }, () => table30)[0]!.reasons).toContain(
      'capture-link-broken',
    )
  })
})

test('36 intervals of a film whose frames last 25 and 42 ms in turn are 1.206 s', () => {
  const pts = Float64Array.from({ length: 100 }, (_, i) => Math.floor(i / 2) * 67 + (i % 2) * 25)
  const table = { base: { n: 1, d: 1000 }, pts, end: 100 * 33.5, rate: null }
  const [reading] = readingsOf(
    filmed({
      clips: [clipOf('c', { to: 100 })],
      events: [
        { id: 'a', clip: 'c', name: 'a', earliest: 20, latest: 20 },
        { id: 'b', clip: 'c', name: 'b', earliest: 56, latest: 56 },
      ],
      landmarks: [],
      measures: [{ id: 't', kind: 'time-between', clip: 'c', from: 'a', to: 'b' }],
    }),
    () => table,
  )
  expect(reading!.value).toBeCloseTo(1.206, 10)
})

test('a southpaw in the mirror of an orthodox boxer reads the same within 0.1°, and mirrored twice to the bit', () => {
  const trial = readTrial('cmu_13_18_first_15s')
  const frames = [200, 600, 1207, 1400]
  const camera = cameraAround(trial, trial.poses[600]!, { azimuth_deg: 40, elevation_deg: 5, figure_px: 400, distance_m: 10 })
  const placed = placedBy(camera, new Map(frames.map((f) => [f, trial.poses[f]!] as const)), EXACT, seeded(1)).map((l) => ({
    clip: 'c',
    ...l,
  }))
  const swap = (name: string): string => (name.endsWith('.left') ? name.replace('.left', '.right') : name.replace('.right', '.left'))
  const flip = (landmarks: typeof placed): typeof placed =>
    landmarks.map((l) => ({
      ...l,
      point: swap(l.point),
      samples: l.samples.map((s) => ({ ...s, at: [1920 - s.at[0], s.at[1]] as [number, number] })),
    }))
  const read = (landmarks: typeof placed, lead: 'left' | 'right', mirrored: boolean) =>
    readingsOf(
      filmed({
        clips: [clipOf('c', { mirrored })],
        views: [{ clip: 'c', subject: 's', from: 0, to: 10_000, lead, elevation: { deg: 70, u: 3 } }],
        landmarks,
        measures: frames.flatMap((frame): Measure[] => [
          { id: `k${frame}`, kind: 'joint-angle', clip: 'c', subject: 's', frame, points: ['hip.rear', 'knee.rear', 'ankle.rear'] },
          { id: `t${frame}`, kind: 'line-lean', clip: 'c', subject: 's', frame, points: ['hip.mid', 'shoulder.mid'], toward: 'lead' },
          {
            id: `l${frame}`,
            kind: 'line-angle',
            clip: 'c',
            subject: 's',
            frame,
            points: ['hip.rear', 'hip.lead', 'shoulder.rear', 'shoulder.lead'],
          },
          { id: `s${frame}`, kind: 'separation', clip: 'c', subject: 's', frame, view: 'above' },
        ]),
      }),
      () => null,
    )
  const [orthodox, southpaw] = [read(placed, 'left', false), read(flip(placed), 'right', true)]
  orthodox.forEach((reading, i) => {
    expect(southpaw[i]!.verdict).toBe(reading.verdict)
    if (reading.value !== null) expect(Math.abs(southpaw[i]!.value! - reading.value)).toBeLessThan(0.1)
    expect(southpaw[i]!.label).toBe(reading.label)
  })
  expect(orthodox.filter((r) => r.value !== null).length).toBeGreaterThan(10)
  expect(read(placed, 'left', true)).toEqual(orthodox)
})

describe('two values', () => {
  test('42° ± 12° and 51° ± 12° cannot be told apart; 42° ± 6° and 51° ± 6° differ', () => {
    expect(pair(12)).toMatchObject({ label: 'rear knee, first − second: −9° ± 17°, cannot tell apart at this precision' })
    expect(pair(12).reasons).toContain('cannot-tell')
    expect(pair(6).reasons).toContain('differs')
    expect(pair(6).label).toBe('rear knee, first − second: −9° ± 9°, differs (beyond our error)')
  })

  test('MDC for equal u: 2° → 5.5, 4 → 11, 6 → 17, 8 → 22, 10 → 28, 15 → 42, as computed by hand', () => {
    for (const [u, mdc] of [
      [2, 5.5],
      [4, 11],
      [6, 17],
      [8, 22],
      [10, 28],
      [15, 42],
    ] as const) {
      const reading = readingsOf(
        filmed({
          clips: [clipOf('a'), clipOf('b')],
          landmarks: [],
          measures: [eye('x', 42, 1.96 * u), eye('y', 51, 1.96 * u, 'b'), { id: 'd', kind: 'comparison', measures: ['x', 'y'] }],
        }),
        () => null,
      )[2]!
      if (reading.U !== null) expect(Math.abs(reading.U - mdc)).toBeLessThan(0.55)
    }
  })

  test('least margins at no difference: u 4 → 9°, 6 → 14°, 10 → 23°, as computed by hand', () => {
    expect([4, 6, 10].map((u) => Math.round(leastMargin(u)))).toEqual([9, 14, 23])
  })

  test('are similar within a margin written down before, and a margin set afterwards is shown as such', () => {
    expect(pair(4, { delta: 15, before: true }).label).toContain('differs')
    const near = (margin: { delta: number; before: boolean }) =>
      readingsOf(
        filmed({
          clips: [clipOf('a'), clipOf('b')],
          landmarks: [],
          measures: [eye('x', 42, 8), eye('y', 43, 8, 'b'), { id: 'd', kind: 'comparison', measures: ['x', 'y'], margin }],
        }),
        () => null,
      )[2]!
    expect(near({ delta: 12, before: true }).reasons).toContain('similar')
    expect(near({ delta: 12, before: false }).reasons).toEqual(expect.arrayContaining(['similar', 'margin-changed']))
    expect(near({ delta: 5, before: true }).reasons).toContain('margin-too-small')
  })

  test('a margin below what the precision can show is refused when it is written down; a later change is kept on record', () => {
    const comparison: Extract<Measure, { kind: 'comparison' }> = { id: 'd', kind: 'comparison', measures: ['x', 'y'] }
    expect(stateMargin(comparison, 10, { u1: 6, u2: null })).toMatchObject({ ok: false, error: { code: 'margin-too-small' } })
    const first = stateMargin(comparison, 15, { u1: 6, u2: null })
    if (!first.ok) throw new Error('refused')
    expect(first.value.margin).toEqual({ delta: 15, before: true })
    const changed = stateMargin(first.value, 20, { u1: 6, u2: 6 })
    expect(changed).toMatchObject({ ok: true, value: { margin: { delta: 20, before: false, earlier: [15] } } })
  })

  test('of an apparent and a true kind, of two units, or from views 30° apart are not compared; from 15° apart with the bound in the error', () => {
    const samples = (dx: number) =>
      Object.entries({ 'hip.left': [500, 300], 'knee.left': [500 + dx, 400], 'ankle.left': [500, 500] }).map(([point, at]) => ({
        point,
        samples: [{ frame: 10, at: at as [number, number], sigma: 2 }],
      }))
    const read = (yaw: number, plane?: { deg: number; u: number }) =>
      readingsOf(
        filmed({
          clips: [clipOf('a'), clipOf('b')],
          views: [
            { clip: 'a', subject: 's', from: 0, to: 100, yaw: { deg: 0, u: 2 } },
            { clip: 'b', subject: 's', from: 0, to: 100, yaw: { deg: yaw, u: 2 } },
          ],
          landmarks: [...samples(50).map((l) => ({ clip: 'a', ...l })), ...samples(40).map((l) => ({ clip: 'b', ...l }))],
          measures: [
            { id: 'x', kind: 'joint-angle', clip: 'a', subject: 's', frame: 10, points: ['hip.left', 'knee.left', 'ankle.left'] },
            {
              id: 'y',
              kind: 'joint-angle',
              clip: 'b',
              subject: 's',
              frame: 10,
              points: ['hip.left', 'knee.left', 'ankle.left'],
              ...(plane ? { plane } : {}),
            },
            { id: 'd', kind: 'comparison', measures: ['x', 'y'] },
          ],
        }),
        () => null,
      )[2]!
    expect(read(5).verdict).toBe('good')
    expect(read(30)).toMatchObject({ verdict: 'refused', reasons: ['views-differ'] })
    expect(read(15).reasons).toContain('views-10-to-25')
    expect(read(15).U!).toBeGreaterThan(read(5).U!)
    expect(read(5, { deg: 10, u: 2 }).reasons).toContain('kinds-differ')
  })
})

describe('counts', () => {
  test('2 of 2 leaves a bound of 22 %, as computed by hand', () => {
    const [reading] = readingsOf(
      filmed({
        clips: [clipOf('a'), clipOf('b')],
        landmarks: [],
        measures: [
          {
            id: 'n',
            kind: 'count',
            what: 'rear heel off the floor',
            set: 'every finish of the season',
            cases: [
              { clip: 'a', holds: true },
              { clip: 'b', holds: true },
            ],
          },
        ],
      }),
      () => null,
    )
    expect(reading).toMatchObject({ value: 1, high: 1, label: 'rear heel off the floor: 2 of 2 (rate behind it at least 22 %)' })
    expect(reading!.low).toBeCloseTo(0.2236, 4)
  })

  test('two angles of one bout count once, as seen only if both show it', () => {
    const bout = (id: string) => clipOf(id, { bout: 'Varga – Lindt' })
    const clips = new Map([bout('a'), bout('b'), clipOf('c')].map((c) => [c.id, c]))
    const context = { clip: (id: string) => clips.get(id) ?? null }
    expect(
      countCases(
        [
          { clip: 'a', holds: true },
          { clip: 'b', holds: true },
        ],
        context,
      ),
    ).toMatchObject({ k: 1, n: 1 })
    expect(
      countCases(
        [
          { clip: 'a', holds: true },
          { clip: 'b', holds: false },
          { clip: 'c', holds: true },
        ],
        context,
      ),
    ).toMatchObject({ k: 1, n: 2 })
    expect(
      countCases(
        [
          { clip: 'a', holds: null },
          { clip: 'b', holds: true },
          { clip: 'c', holds: null },
        ],
        context,
      ),
    ).toMatchObject({ k: 1, n: 1, unusable: 1 })
  })

  test('the phrase ladder says no more than the cases carry', () => {
    const say = (k: number, n: number, unusable = 0, selectionStated = false) => phraseFor({ k, n, unusable, selectionStated })
    expect(say(1, 1)).toBe('here')
    expect(say(2, 2)).toBe('again in a second clip')
    expect(say(3, 3)).toBe('in all 3 clips I checked')
    expect(say(5, 6, 2)).toBe('in 5 of the 6 I could see well (of 8)')
    expect(say(11, 13, 0, true)).toBe('usually (11 of 13)')
    expect(say(11, 13)).toBe('in 11 of the 13 I could see well')
    expect(mayCallHabit({ k: 11, n: 13, unusable: 0, selectionStated: false })).toBe(false)
  })
})
