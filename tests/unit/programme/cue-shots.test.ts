import fc from 'fast-check'
import { expect, it } from 'vitest'
import { cueShots, type CueShotsInput } from '../../../app/programme/cue-shots'
import { layShot } from '../../../app/programme/lay-shot'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Paragraph } from '../../../app/project/picture'
import { exact } from '../../../app/project/fields'
import { saidAt } from '../../../app/script/pauses'
import { evenFrameTable } from '../../../app/time/frame-table'
import { parseRational, rational, toNumber } from '../../../app/time/rational'

const RATES = ['24', '25', '30000/1001', '30', '50', '60']

function input(
  rate: string,
  filmRate: string,
  factor: string,
  events: readonly { id: string; clip: string; frame: number }[],
  cues: readonly (readonly [string, number])[],
  words: number,
  pace: string,
  shots?: Paragraph['shots'],
): CueShotsInput {
  const clips = [...new Set(events.map(({ clip }) => clip))]
  const breakdown: Breakdown = {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Cues',
    output: { width: 320, height: 180, rate },
    footage: [{ id: 'f1', file: 'bout.mp4' }],
    subjects: [],
    clips: (clips.length > 0 ? clips : ['c1']).map((id) => ({ id, footage: 'f1', from: 0, to: 900, capture: { factor, u: 0 } })),
    events: events.map(({ id, clip, frame }) => ({ id, clip, name: id, earliest: frame, latest: frame })),
    script: [],
  }
  const table = evenFrameTable(900, parseRational(filmRate)!)
  return {
    breakdown,
    paragraph: { id: 'p', text: [], ...(shots ? { shots } : {}) },
    cues: cues.map(([event, seconds]) => ({ event, word: event, seconds })),
    words,
    breath: 0.4,
    pace: exact(pace),
    table: () => table,
  }
}

/// Footage frame and clip of every output frame.
function shown(
  made: NonNullable<ReturnType<typeof cueShots>>,
  { breakdown, table }: CueShotsInput,
): { clip: string; frame: number; shot: number }[] {
  const context = {
    breakdown,
    output: breakdown.output,
    film: () => ({ table: table('f1'), width: 320, height: 180 }),
    cardSeconds: () => rational(1),
  }
  return made.shots.flatMap((shot, index) => {
    const laid = layShot(shot, context)
    return Array.from(laid.panels[0]!.frames, (frame) => ({ clip: laid.panels[0]!.clip, frame, shot: index }))
  })
}

it('should bring the worked case onto whole frames', () => {
  const given = input(
    '30',
    '100',
    '1',
    [
      { id: 'a', clip: 'c1', frame: 100 },
      { id: 'b', clip: 'c1', frame: 128 },
      { id: 'c', clip: 'c1', frame: 144 },
      { id: 'd', clip: 'c1', frame: 160 },
    ],
    [
      ['a', 0],
      ['b', 1.2],
      ['c', 3.4],
      ['d', 3.9],
    ],
    5,
    '1/4',
  )
  const made = cueShots(given)!
  expect(made.shots.slice(0, 4)).toEqual([
    { run: 'c1', from: 100, to: 128, speed: '7/30' },
    { hold: 'c1', at: 128, seconds: '47/30' },
    { run: 'c1', from: 128, to: 144, speed: '24/95' },
    { run: 'c1', from: 144, to: 160, speed: '8/25' },
  ])
  expect(made.tied).toEqual([
    { event: 'a', frame: 0, how: 'first' },
    { event: 'b', frame: 36, how: 'near' },
    { event: 'c', frame: 102, how: 'held' },
    { event: 'd', frame: 117, how: 'faster' },
  ])
  expect(made.conflicts.map(({ code }) => code)).toEqual(['faster'])
})

it('should leave the spans alone that lie between unchanged words', () => {
  const events = [
    { id: 'a', clip: 'c1', frame: 100 },
    { id: 'b', clip: 'c1', frame: 128 },
    { id: 'c', clip: 'c1', frame: 144 },
    { id: 'd', clip: 'c1', frame: 160 },
  ]
  const before = cueShots(
    input(
      '30',
      '100',
      '1',
      events,
      [
        ['a', 1],
        ['b', 2.2],
        ['c', 4.4],
        ['d', 6.9],
      ],
      8,
      '1/4',
    ),
  )!
  const after = cueShots(
    input(
      '30',
      '100',
      '1',
      events,
      [
        ['a', 1],
        ['b', 2.2],
        ['c', 4.9],
        ['d', 6.9],
      ],
      8,
      '1/4',
    ),
  )!
  const changed = before.shots.flatMap((shot, i) => (JSON.stringify(shot) === JSON.stringify(after.shots[i]) ? [] : [i]))
  expect(after.frames).toBe(before.frames)
  expect(after.shots.length).toBe(before.shots.length)
  // Only the stands before and the runs into c and d.
  expect(
    changed
      .map((i) => ('hold' in before.shots[i]! ? before.shots[i].at : 'run' in before.shots[i]! ? before.shots[i].from : -1))
      .every((frame) => frame === 128 || frame === 144),
  ).toBe(true)
})

it('should keep its promises for random films, cues and takes', () => {
  const film = fc.record({
    rate: fc.constantFrom(...RATES),
    filmRate: fc.constantFrom('25', '30', '60', '60000/1001', '120', '240'),
    factor: fc.constantFrom('1', '2', '8'),
    pace: fc.constantFrom('1/8', '1/4', '1/2', '1'),
    events: fc.array(
      fc.record({
        clip: fc.constantFrom('c1', 'c1', 'c1', 'c2'),
        frame: fc.integer({ min: 0, max: 890 }),
        at: fc.integer({ min: 0, max: 12_000 }),
      }),
      { minLength: 1, maxLength: 6 },
    ),
    more: fc.integer({ min: 0, max: 3000 }),
    range: fc.option(fc.tuple(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 401, max: 900 })), { nil: null }),
  })
  fc.assert(
    fc.property(film, ({ rate, filmRate, factor, pace, events, more, range }) => {
      const named = events.map((event, i) => ({ ...event, id: `e${i}` }))
      const words = (Math.max(...events.map(({ at }) => at)) + more) / 1000
      const given = input(
        rate,
        filmRate,
        factor,
        named,
        named.map(({ id, at }) => [id, at / 1000] as const),
        words,
        pace,
        range ? [{ run: 'c1', from: range[0], to: range[1], speed: '1/4' }] : undefined,
      )
      const made = cueShots(given)!
      const fps = toNumber(exact(rate))
      const pictures = shown(made, given)
      // As long as the sound with its pauses and the breath, to the frame.
      expect(pictures.length).toBe(made.frames)
      expect(made.frames / fps).toBeGreaterThanOrEqual(saidAt(words, made.pauses) + 0.4 - 1e-6)
      expect(made.frames - Math.ceil((saidAt(words, made.pauses) + 0.4) * fps - 1e-6)).toBeLessThanOrEqual(made.tied.length + 1)
      // Picture time never runs backwards while one clip is shown.
      expect(
        pictures.findIndex((picture, i) => i > 0 && picture.clip === pictures[i - 1]!.clip && picture.frame < pictures[i - 1]!.frame),
      ).toBe(-1)
      for (const tie of made.tied) {
        const event = named.find(({ id }) => id === tie.event)!
        expect(pictures[tie.frame]).toMatchObject({ clip: event.clip, frame: event.frame })
        if (tie.frame > 0 && pictures[tie.frame - 1]!.clip === event.clip && tie.how !== 'first')
          expect(pictures[tie.frame - 1]!.frame).toBeLessThanOrEqual(event.frame)
        const early = saidAt(event.at / 1000, made.pauses) - tie.frame / fps
        const waited = made.conflicts.length > 0 ? 1 / fps : 0
        expect(early).toBeLessThanOrEqual(0.04 + 1e-6)
        expect(early).toBeGreaterThanOrEqual(-0.045 - waited)
      }
      // What is not tied is named; so is what runs faster than wished or waits.
      expect(
        new Set([...made.tied.map(({ event }) => event), ...made.conflicts.flatMap(({ words: said }) => said), ...sameFrames(named)]).size,
      ).toBe(named.length)
      for (const shot of made.shots) if ('run' in shot) expect(toNumber(exact(shot.speed))).toBeLessThanOrEqual(1 + 1e-9)
      for (const conflict of made.conflicts) expect(conflict.ways.length).toBeGreaterThan(0)
    }),
    { numRuns: 10_000, seed: 6 },
  )
}, 60_000)

/// Events on one frame of one clip: one of them stands for all.
const sameFrames = (events: readonly { id: string; clip: string; frame: number }[]): string[] =>
  events.filter((e) => events.some((other) => other.id !== e.id && other.clip === e.clip && other.frame === e.frame)).map(({ id }) => id)
