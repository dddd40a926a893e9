import fc from 'fast-check'
import type { Breakdown } from '../app/project/breakdown'
import { ValueForm, type Inline, type Mark, type Paragraph, type Shot } from '../app/project/picture'
import { claimTables } from './claim-arbitrary'
import { measureArbitrary } from './measure-arbitrary'

/// Random breakdowns that the reader accepts: every table filled or left out, references that hold, fractions
/// and numbers written in many ways, text in many scripts.

const line = fc.oneof(
  fc.constantFrom('Nela Varga', 'contact', '±', '{\\an5}', '<b>', '‮abc', 'żółć', '😀 point'),
  fc.string({ unit: 'grapheme', maxLength: 30 }).map((t) => t.replace(/[\p{Cc}\u2028\u2029]/gu, ' ')),
)
const words = line.filter((t) => t.length > 0)
const fraction = fc.constantFrom('1', '1/4', '1/8', '2/7', '0.5', '3/10', '2', '60/1', '0.125')
const chance = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> => fc.option(value, { nil: undefined })
const real = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true }).map((x) => (Object.is(x, -0) ? 0 : x))

/// Leaves out the keys whose value is undefined, as JSON does.
const present = <T extends object>(record: T): { [K in keyof T]: Exclude<T[K], undefined> } =>
  Object.fromEntries(Object.entries(record).filter(([, value]) => value !== undefined)) as never

/// The first of each key.
const distinct = <T>(list: readonly T[], keyOf: (entry: T) => string): T[] =>
  list.filter((entry, i) => list.findIndex((other) => keyOf(other) === keyOf(entry)) === i)

const ids = (prefix: string, max: number): fc.Arbitrary<string[]> =>
  fc.integer({ min: 1, max }).map((n) => Array.from({ length: n }, (_, i) => `${prefix}${i}`))
const POINTS = ['hip.left', 'hip.right', 'knee.left', 'ankle.left', 'shoulder.left', 'shoulder.right', 'wrist.left']
const CLIP_FRAMES = 1000
const frame = fc.integer({ min: 0, max: CLIP_FRAMES - 1 })

export const breakdownArbitrary: fc.Arbitrary<Breakdown> = fc
  .record({ footage: ids('f', 3), subjects: ids('s', 2), clips: ids('c', 3), events: ids('e', 4), measures: ids('m', 5) })
  .chain((names) => {
    const clip = fc.constantFrom(...names.clips)
    const subject = fc.constantFrom(...names.subjects)
    const eventClip = (event: string): string => names.clips[Number(event.slice(1)) % names.clips.length]!
    const event = fc.constantFrom(...names.events)
    const angle = fc.record({ deg: real(-180, 180), u: real(0, 30) })
    const point = fc.tuple(real(-10, 2000), real(-10, 1200)) as fc.Arbitrary<[number, number]>
    const rectangle = fc.tuple(real(0, 500), real(0, 500), real(10, 800), real(10, 800)) as fc.Arbitrary<[number, number, number, number]>
    const bracket = fc.record({ earliest: fc.integer({ min: 0, max: 300 }), latest: fc.integer({ min: 300, max: 999 }) })
    const floorMark = fc.record({ point: fc.constantFrom('ring.corner.1', 'ring.corner.2'), at: fc.tuple(real(-10, 10), real(-10, 10)) })
    const hall = fc
      .record({
        camera: chance(fc.constant('still' as const)),
        scale: chance(
          fc.record({ subject, points: fc.constant<string[]>(['ring.post', 'ring.foot']), frame, metres: real(0.1, 10), u: real(0, 1) }),
        ),
        floor: chance(
          fc.record({ subject, marks: fc.array(floorMark, { minLength: 4, maxLength: 5 }), unit: fc.constant('m'), u: real(0, 1) }),
        ),
      })
      .map(present)
    const framing = { frame: chance(rectangle), frameTo: chance(rectangle) }

    const freeMark = fc
      .oneof(
        fc.record({ arrow: fc.tuple(point, point), on: chance(event) }),
        fc.record({
          ring: point,
          radius: real(1, 200),
          part: chance(fc.constantFrom('hips' as const, 'shoulders' as const, 'limb' as const)),
        }),
        fc.record({
          line: fc.tuple(
            point,
            subject.map((s) => ({ subject: s, point: 'hip.left' })),
          ),
        }),
        fc.record({ path: fc.array(point, { minLength: 2, maxLength: 5 }) }),
        fc.record({ trail: subject.map((s) => ({ subject: s, point: 'wrist.left' })) }),
        fc.record({ word: line, at: point }),
        fc.record({ dim: rectangle }),
      )
      .map(present) as fc.Arbitrary<Mark>
    const mark: fc.Arbitrary<Mark> = fc.oneof(
      fc.constantFrom(...names.measures),
      freeMark,
      fc.constantFrom(...names.measures).map((plate) => ({ plate })),
    )
    const marks = chance(fc.array(mark, { maxLength: 3 }))
    const shot: fc.Arbitrary<Shot> = fc.oneof(
      fc
        .record({
          run: clip,
          from: fc.integer({ min: 0, max: 400 }),
          to: fc.integer({ min: 401, max: CLIP_FRAMES }),
          speed: fraction,
          ...framing,
          marks,
        })
        .map(present),
      fc.tuple(event, event, subject, subject).map(([a, b, s, t]) => ({
        pair: [
          { clip: eventClip(a), event: a },
          { clip: eventClip(b), event: b },
        ],
        before: '1',
        after: '0',
        speed: '1',
        layout: 'over' as const,
        over: { subjects: [s, t], points: ['hip.left', 'hip.right'] as [string, string] },
      })),
      fc.record({ hold: clip, at: frame, seconds: fraction, ...framing, marks }).map(present),
      fc
        .record({
          pair: fc.array(
            event.map((e) => ({ clip: eventClip(e), event: e })),
            { minLength: 2, maxLength: 4 },
          ),
          before: fraction,
          after: fraction,
          speed: fraction,
          layout: fc.constantFrom('beside' as const, 'above' as const),
          still: chance(fraction),
          marks,
        })
        .map(present),
      fc
        .record({
          card: fc.constant('curve' as const),
          measure: fc.constantFrom(...names.measures),
          seconds: chance(fraction),
          lines: chance(fc.array(line, { maxLength: 1 })),
        })
        .map(present),
      fc
        .record({
          card: fc.constantFrom('title' as const, 'caution' as const, 'end' as const, 'text' as const),
          seconds: chance(fraction),
          lines: chance(fc.array(line, { maxLength: 3 })),
        })
        .map(present),
    ) as fc.Arbitrary<Shot>

    const inline: fc.Arbitrary<Inline> = fc.oneof(
      { weight: 3, arbitrary: words as fc.Arbitrary<Inline> },
      fc.record({ value: fc.constantFrom(...names.measures), form: chance(fc.constantFrom(...ValueForm.options)) }).map(present),
      fc.record({ cue: event, word: words }),
      fc.record({ cite: fc.constantFrom('r0', 'r1'), at: chance(words) }).map(present),
      fc.record({ note: fc.oneof(words, fc.constant('two\nlines')) }),
    )
    const text = fc.array(inline, { maxLength: 8 })
    const narration = fc
      .record({
        said: chance(fc.array(fc.tuple(fc.constantFrom('contact', 'the', 'acromion'), real(0, 30)), { maxLength: 4 })),
        found: fc.boolean(),
        pauses: chance(fc.uniqueArray(fc.integer({ min: 0, max: 20 }), { maxLength: 2 })),
        pace: chance(fraction),
        trim: chance(fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 10, max: 30 }))),
      })
      .map(({ said, found, pauses, pace, trim }) =>
        present({
          words: said?.map(([word]) => word),
          onsets: said && found ? said.map(([, at]) => at).sort((a, b) => a - b) : undefined,
          pauses: pauses?.sort((a, b) => a - b).map((at) => ({ at, seconds: 0.5 })),
          pace,
          trim: trim && { from: trim[0] / 10, to: trim[1] / 2 },
        }),
      )

    return fc.record({
      title: line,
      question: chance(line),
      output: fc.constantFrom({ width: 1920, height: 1080, rate: '60/1' }, { width: 1080, height: 1920, rate: '30000/1001' }),
      sound: chance(
        fc
          .record({
            loudness: chance(fc.constantFrom('-14' as const, '-23' as const)),
            hall: chance(fc.constantFrom('muted' as const, 'under' as const)),
          })
          .map(present),
      ),
      footage: fc.tuple(
        ...names.footage.map((id) =>
          fc
            .record({
              id: fc.constant(id),
              file: fc.constantFrom('a.mp4', `films/50%: it's -i.mp4`, 'ż.mkv'),
              source: chance(fc.record({ owner: chance(line), credit: chance(line) }).map(present)),
              unlike: chance(fc.uniqueArray(fc.constantFrom(...names.footage))),
              fields: chance(
                fc.record({ file: fc.constantFrom('tape.mkv', 'films/ż.mpg'), first: fc.constantFrom('top' as const, 'bottom' as const) }),
              ),
            })
            .map(present),
        ),
      ),
      subjects: fc.tuple(...names.subjects.map((id) => line.map((name) => ({ id, name })))),
      clips: fc.tuple(
        ...names.clips.map((id, i) =>
          fc
            .record({
              id: fc.constant(id),
              footage: fc.constant(names.footage[i % names.footage.length]!),
              from: fc.constant(0),
              to: fc.constant(CLIP_FRAMES),
              name: chance(line),
              capture: fc.oneof(fc.constant('unknown' as const), fc.record({ factor: fraction, u: real(0, 2) })),
              mirrored: chance(fc.boolean()),
              roll: chance(angle),
              hall: chance(hall),
              use: chance(fc.record({ state: fc.constantFrom('used' as const, 'rejected' as const), reason: chance(line) }).map(present)),
            })
            .map(present),
        ),
      ),
      views: chance(
        fc.constant(names.clips).chain((clips) =>
          fc.tuple(
            ...clips.map((c) =>
              fc
                .record({
                  clip: fc.constant(c),
                  subject,
                  from: fc.constant(0),
                  to: fc.constant(CLIP_FRAMES),
                  lead: chance(fc.constantFrom('left' as const, 'right' as const)),
                  yaw: chance(angle),
                })
                .map(present),
            ),
          ),
        ),
      ),
      events: fc.tuple(
        ...names.events.map((id) =>
          fc
            .record({
              id: fc.constant(id),
              clip: fc.constant(eventClip(id)),
              name: line,
              earliest: fc.integer({ min: 0, max: 300 }),
              latest: fc.integer({ min: 300, max: 999 }),
              markings: chance(fc.record({ first: bracket, second: bracket })),
            })
            .map(present),
        ),
      ),
      landmarks: chance(
        fc.tuple(
          ...POINTS.slice(0, 4).map((name) =>
            fc.record({
              clip,
              subject,
              point: fc.constant(name),
              samples: fc
                .array(
                  fc
                    .record({
                      frame,
                      at: point,
                      sigma: chance(real(0.5, 20)),
                      seen: chance(fc.constantFrom('seen' as const, 'occluded' as const, 'blurred' as const)),
                      origin: chance(fc.constantFrom('placed' as const, 'tracked' as const)),
                    })
                    .map(present),
                  { maxLength: 12 },
                )
                .map((samples) => samples.sort((a, b) => a.frame - b.frame)),
            }),
          ),
        ),
      ),
      measures: fc.tuple(
        ...names.measures.map((id, i) =>
          measureArbitrary(id, {
            clips: names.clips,
            subjects: names.subjects,
            events: new Map(names.clips.map((c) => [c, names.events.filter((e) => eventClip(e) === c)])),
            frames: CLIP_FRAMES,
            earlier: names.measures.slice(0, i),
          }),
        ),
      ),
      cueTimes: chance(fc.array(fc.record({ row: fc.nat(5), event, seconds: real(0, 60), u: real(0, 1) }), { maxLength: 4 })),
      script: fc.array(
        fc.oneof(
          { weight: 1, arbitrary: fc.record({ chapter: line }) },
          {
            weight: 1,
            arbitrary: fc
              .tuple(words, fc.constantFrom(...names.measures), chance(words))
              .map(([before, value, after]) => ({ chapter: [before, { value }, ...(after === undefined ? [] : [after])] })),
          },
          {
            weight: 4,
            arbitrary: fc
              .record({
                text,
                shots: chance(fc.array(shot, { maxLength: 3 })),
                take: chance(fc.constantFrom('takes/p.wav', 'p 1.flac')),
                narration: chance(narration),
                title: chance(fc.record({ name: line, line: chance(line) }).map(present)),
              })
              .map(present),
          },
        ),
        { maxLength: 6 },
      ),
      claiming: claimTables({ ...names, frames: CLIP_FRAMES }),
    })
  })
  .map((parts) => {
    const { script, cueTimes, claiming, ...rest } = parts
    const numbered = script.map((entry, i) => ('chapter' in entry ? entry : ({ id: `p${i}`, ...entry } as Paragraph)))
    const times =
      cueTimes &&
      distinct(
        cueTimes.flatMap(({ row, ...time }) => (numbered[row] && 'id' in numbered[row] ? [{ paragraph: numbered[row].id, ...time }] : [])),
        (time) => `${time.paragraph}/${time.event}`,
      )
    return {
      format: 'claimframe-breakdown',
      version: 1,
      ...present({ ...rest, cueTimes: times }),
      script: numbered,
      ...claiming,
    } as Breakdown
  })
