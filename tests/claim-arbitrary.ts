import fc from 'fast-check'
import type { Claim, Evidence, Override, Quoted } from '../app/project/claim'
import type { Reference } from '../app/project/reference'
import type { Correction, Release } from '../app/project/release'

/// Random claims, references, overrides, releases and corrections of a breakdown with these clips,
/// events and measures; two references, `r0` and `r1`, are always there.

const text = fc.oneof(
  fc.constantFrom('The rear heel is up.', '<b>bold</b> & "quoted"', '{\\an5}{m1} ± 12°', '=1+1', '‮abc', 'żółć 😀'),
  fc.string({ unit: 'grapheme', minLength: 1, maxLength: 30 }).map((t) => t.replace(/[\p{Cc}\u2028\u2029]/gu, ' ')),
)
const chance = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> => fc.option(value, { nil: undefined })
const present = <T extends object>(record: T): T =>
  Object.fromEntries(Object.entries(record).filter(([, value]) => value !== undefined)) as T
const letters = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H', 'I', 'J', 'K', 'L', 'M'] as const
const sha256 = fc.stringMatching(/^[0-9a-f]{64}$/)
const real = fc.double({ min: 0, max: 1000, noNaN: true })

const quoted: fc.Arbitrary<Quoted> = fc.oneof(
  fc
    .record({
      part: fc.constantFrom('sentence' as const, 'card' as const, 'name' as const, 'mark' as const),
      paragraph: fc.constantFrom('p0', 'p1', 'gone'),
      words: text,
      nth: chance(fc.integer({ min: 1, max: 3 })),
    })
    .map(present) as fc.Arbitrary<Quoted>,
  fc.record({ part: fc.constantFrom('chapter' as const, 'title' as const, 'question' as const), words: text }),
)

const numbered = <R extends { readonly id: string }>(record: fc.Arbitrary<Omit<R, 'id'>>, prefix: string, min = 0): fc.Arbitrary<R[]> =>
  fc
    .array(record, { minLength: min, maxLength: Math.max(min, 3) })
    .map((list) => list.map((each, i) => ({ id: `${prefix}${i}`, ...present(each) }) as unknown as R))

export interface ClaimNames {
  readonly clips: readonly string[]
  readonly events: readonly string[]
  readonly measures: readonly string[]
  readonly frames: number
}

export interface ClaimTables {
  readonly claims: Claim[]
  readonly references: Reference[]
  readonly overrides: Override[]
  readonly releases: Release[]
  readonly corrections: Correction[]
}

export function claimTables(names: ClaimNames): fc.Arbitrary<ClaimTables> {
  const measure = fc.constantFrom(...names.measures)
  const event = fc.constantFrom(...names.events)
  const evidence: fc.Arbitrary<Evidence> = fc.oneof(
    fc.constant('opinion' as const),
    fc.record({ frame: fc.nat(names.frames - 1), clip: fc.constantFrom(...names.clips) }),
    measure.map((reading) => ({ reading })),
    fc.tuple(measure, measure).map((readings) => ({ readings })),
    fc.array(event, { minLength: 1, maxLength: 3 }).map((events) => ({ events })),
    measure.map((count) => ({ count })),
    fc.record({ reference: fc.constantFrom('r0', 'r1'), at: chance(text) }).map(present) as fc.Arbitrary<Evidence>,
    fc.record({ film: text, at: text, says: chance(text) }).map(present) as fc.Arbitrary<Evidence>,
  )
  const classes = fc.array(fc.constantFrom(...letters), { minLength: 1, maxLength: 3 })
  const claim = fc.record({
    on: quoted,
    classes,
    evidence: chance(fc.array(evidence, { maxLength: 3 })),
    state: fc.constantFrom('confirmed' as const, 'suggested' as const),
    values: chance(fc.array(fc.record({ measure, reads: text }), { maxLength: 2 })),
    by: chance(text),
    when: chance(text),
  })
  const reference = fc.record({
    csl: fc
      .record({
        type: fc.constantFrom('article-journal', 'book'),
        id: text,
        title: text,
        issued: fc.constant({ 'date-parts': [[2012, 4]] }),
        author: fc.array(fc.record({ family: text, given: text }), { maxLength: 2 }),
        custom: chance(
          fc
            .json()
            .map((json): unknown => JSON.parse(json))
            .filter(
              (v) => !JSON.stringify(v).includes('__proto__') && !Object.is(v, -0) && !/\\u0000|\\ud[89a-f]/i.test(JSON.stringify(v)),
            ),
        ),
      })
      .map(present) as fc.Arbitrary<Reference['csl']>,
    finding: chance(text),
    population: chance(text),
    limits: chance(text),
    setting: chance(fc.constantFrom<NonNullable<Reference['setting']>>(['dummy'], ['laboratory', 'helmet'])),
    note: chance(text),
  })
  const override = fc.record({
    finding: fc.constantFrom('typed-number', 'cause'),
    on: chance(quoted),
    paragraph: chance(fc.constantFrom('p0', 'gone')),
    shot: chance(fc.record({ paragraph: fc.constant('p0'), position: fc.nat(5) })),
    problem: text,
    reason: text,
    by: text,
    when: text,
  })
  const value = fc.record({
    measure,
    kind: text,
    value: text,
    what: text,
    spoken: text,
    verdict: fc.constantFrom('good' as const, 'refused' as const),
    number: fc.option(real),
    U: fc.option(real),
    low: fc.option(real),
    high: fc.option(real),
    unit: text,
    clip: fc.constant('c0'),
    frame: fc.option(fc.nat(100)),
    parts: fc.array(fc.record({ name: text, U: real, key: chance(text) }).map(present) as fc.Arbitrary<{ name: string; U: number }>, {
      maxLength: 2,
    }),
    reasons: fc.array(text, { maxLength: 2 }),
    events: fc.array(event, { maxLength: 2 }),
  })
  const file = fc
    .record({ name: text, sha256, bytes: chance(fc.nat(1000)), still: chance(fc.record({ clip: fc.constant('c0'), frame: fc.nat(100) })) })
    .map(present) as fc.Arbitrary<Release['files'][number]>
  const release = fc
    .record({
      film: text,
      version: text,
      date: fc.constantFrom('2026-11-25', '2027-01-02'),
      where: chance(text),
      project: fc.nat(1000),
      document: chance(sha256),
      files: fc.array(file, { maxLength: 2 }),
      footage: fc.array(fc.record({ id: fc.constantFrom('f0', 'f1'), file: text }), { maxLength: 2 }),
      values: fc.array(value, { maxLength: 2 }),
      events: fc.array(
        fc.record({ id: event, clip: fc.constant('c0'), name: text, earliest: fc.nat(10), latest: fc.integer({ min: 10, max: 20 }) }),
        { maxLength: 2 },
      ),
      said: fc.array(
        fc
          .record({
            as: fc.constantFrom('sentence' as const, 'label' as const, 'title' as const),
            words: text,
            from_s: chance(real),
            to_s: chance(real),
            on: chance(quoted),
            classes: chance(classes),
          })
          .map(present) as fc.Arbitrary<Release['said'][number]>,
        { maxLength: 3 },
      ),
      references: chance(
        fc.array(fc.record({ id: fc.constantFrom('r0', 'gone'), text, limits: chance(text) }).map(present), { maxLength: 2 }),
      ),
      clips: chance(fc.array(fc.record({ id: fc.constantFrom('c0', 'gone'), name: text, footage: fc.constant('f0') }), { maxLength: 2 })),
      note: chance(text),
    })
    .map(({ said, ...rest }) => ({
      ...rest,
      said: said.map((each) => ({
        ...each,
        values: rest.values.map((v) => v.measure),
        events: rest.events.map((e) => e.id),
        stills: rest.files.map((f) => f.name),
      })),
    }))
  return fc
    .record({
      claims: numbered<Claim>(claim, 'cl'),
      references: numbered<Reference>(reference, 'r', 2),
      overrides: numbered<Override>(override, 'o'),
      releases: numbered<Release>(release as fc.Arbitrary<Omit<Release, 'id'>>, 'v'),
      corrections: numbered<Correction>(
        fc.record({
          release: fc.constant('v0'),
          date: text,
          state: fc.constantFrom('draft' as const, 'published' as const),
          note: text,
          changes: fc.array(
            fc
              .record({
                of: fc.constantFrom('value' as const, 'event' as const),
                id: chance(measure),
                was: text,
                now: text,
                at_s: chance(fc.array(real, { maxLength: 2 })),
              })
              .map(present) as fc.Arbitrary<Correction['changes'][number]>,
            { maxLength: 2 },
          ),
        }),
        'k',
      ),
    })
    .map((tables) => ({ ...tables, corrections: tables.releases.length > 0 ? tables.corrections : [] }))
}
