import fc from 'fast-check'
import { expect, it } from 'vitest'
import { layShot } from '../../../app/programme/lay-shot'
import {
  act,
  beginHands,
  frameIn,
  outputFrameAt,
  ranOn,
  seenIn,
  stoodAt,
  stretchAt,
  type HandAction,
  type HandContext,
} from '../../../app/programme/talk-over'
import { mustWait, SEEN_WITHIN, talkShots } from '../../../app/programme/talk-over-shots'
import type { Breakdown } from '../../../app/project/breakdown'
import { evenFrameTable } from '../../../app/time/frame-table'
import { parseRational, rational } from '../../../app/time/rational'

const RATE = 48_000
const clips = ['c1', 'c2']

function contextOf(rate: string, filmRate: string, factor: string): HandContext {
  const output = { width: 320, height: 180, rate }
  const breakdown: Breakdown = {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Hands',
    output,
    footage: [{ id: 'f1', file: 'bout.mp4' }],
    subjects: [],
    clips: clips.map((id, i) => ({ id, footage: 'f1', from: 20 * i, to: 300 - 150 * i, capture: { factor, u: 0 } })),
    script: [],
  }
  const table = evenFrameTable(300, parseRational(filmRate)!)
  return {
    sampleRate: RATE,
    shots: { breakdown, output, film: () => ({ table, width: 320, height: 180 }), cardSeconds: () => rational(1) },
  }
}

const speed = fc.constantFrom('1/8', '1/4', '1/2', '1', '2', '1/3')
const deed = fc.oneof(
  { weight: 3, arbitrary: speed.map((each) => ({ does: 'run' as const, speed: each })) },
  { weight: 2, arbitrary: fc.constant({ does: 'stop' as const }) },
  { weight: 3, arbitrary: fc.constantFrom(-1, 1, -10, 10).map((by) => ({ does: 'step' as const, by })) },
  fc.constant({ does: 'clear' as const }),
  fc.integer({ min: 1, max: 99 }).map((x) => ({
    does: 'mark' as const,
    mark: {
      arrow: [
        [x, 1],
        [x, 50],
      ] as [[number, number], [number, number]],
    },
  })),
  fc.tuple(fc.constantFrom(...clips), fc.integer({ min: 20, max: 149 })).map(([clip, frame]) => ({ does: 'show' as const, clip, frame })),
)
/// The picture stood where another was to come, and the run (if it was one) went on later.
const late = fc.integer({ min: 1, max: 30_000 }).map((samples) => ({ late: samples }))
const log = fc.array(
  fc.tuple(
    fc.oneof({ weight: 8, arbitrary: deed }, { weight: 1, arbitrary: late }),
    fc.oneof(fc.integer({ min: 0, max: 5000 }), fc.integer({ min: 0, max: 100_000 })),
  ),
  { maxLength: 40 },
)

it('should be as long as the sound, never run backwards in a shot, and show what was seen within two output frames', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('24', '25', '30000/1001', '30', '50', '60'),
      fc.constantFrom('25', '30', '60000/1001', '60', '240'),
      fc.constantFrom('1', '8', '5/2'),
      log,
      fc.integer({ min: 1, max: 400 }),
      (rate, filmRate, factor, deeds, behind) => {
        const context = contextOf(rate, filmRate, factor)
        let hands = beginHands('c1', 5, context)
        let at = 0
        for (const [each, wait] of deeds) {
          at += wait
          if ('does' in each) hands = act(hands, { ...each, at } as HandAction, context)
          else {
            const from = outputFrameAt(at, context)
            const here = stretchAt(hands, from)
            const seen = seenIn(here, from)
            hands = stoodAt(hands, from, seen, context)
            at += each.late
            if ('run' in here.shot) hands = ranOn(hands, outputFrameAt(at, context), seen, here.shot.speed, context)
          }
        }
        const frames = Math.round((at / RATE) * 24) + behind
        const shots = talkShots(hands, frames, context)
        const laid = shots.flatMap((shot) => {
          const panel = layShot(shot, context.shots).panels[0]!
          expect(panel.frames.findIndex((frame, i) => frame < (panel.frames[i - 1] ?? 0))).toBe(-1)
          return Array.from(panel.frames, (frame) => `${panel.clip} ${frame}`)
        })
        expect(laid.length).toBe(frames)
        const seen = Array.from({ length: frames }, (_, n) => {
          const here = stretchAt(hands, n)
          return `${here.laid.panels[0]!.clip} ${frameIn(here, n)}`
        })
        const strangers = laid.flatMap((frame, n) =>
          seen.slice(Math.max(0, n - SEEN_WITHIN), n + SEEN_WITHIN + 1).includes(frame) ? [] : [`${n}: ${frame}`],
        )
        expect(strangers).toEqual([])
      },
    ),
    { numRuns: Number(process.env['CLAIMFRAME_HANDS'] ?? 1000) },
  )
}, 300_000)

it('should let no picture stand beyond two output frames without the run waiting, nor let it wait for one that is there', () => {
  // Looks at the picture: by how many output frames each comes after the one before, and whether it can be painted then.
  const looks = fc.array(fc.record({ by: fc.integer({ min: 0, max: 5 }), there: fc.boolean() }), { maxLength: 60 })
  fc.assert(
    fc.property(looks, (all) => {
      let [n, last] = [0, 0]
      let old: number[] = []
      for (const { by, there } of all) {
        n += by
        const waitsAt = mustWait(n, last, false) || (!there && mustWait(n, last, true))
        if (waitsAt) {
          // The run stands from when it was seen last: whatever stood until now is in the film as well.
          expect(n - last).toBeGreaterThan(SEEN_WITHIN)
          if (there) expect(n - last).toBeGreaterThan(SEEN_WITHIN + 1)
        } else if (!there) {
          old.push(n - last)
          continue
        } else expect(Math.max(0, n - 1 - last, ...old)).toBeLessThanOrEqual(SEEN_WITHIN)
        old = []
        last = n
      }
    }),
  )
  // Missing on the third output frame, and there before it is over: the third has shown a picture three too old.
  expect([mustWait(13, 10, false), mustWait(13, 10, true), mustWait(12, 10, true), mustWait(14, 10, false)]).toEqual([
    false,
    true,
    false,
    true,
  ])
})

it('should make runs, holds and steps of what the hands did', () => {
  const context = contextOf('30', '30', '1')
  const actions: HandAction[] = [
    { at: 0, does: 'run', speed: '1' },
    { at: 2 * RATE, does: 'run', speed: '1/4' },
    { at: 4 * RATE, does: 'stop' },
    { at: 5 * RATE, does: 'step', by: -1 },
    { at: 5.5 * RATE, does: 'step', by: -1 },
    { at: 6 * RATE, does: 'step', by: -1 },
    {
      at: 7 * RATE,
      does: 'mark',
      mark: {
        arrow: [
          [10, 10],
          [50, 50],
        ],
      },
    },
  ]
  const hands = actions.reduce((before, action) => act(before, action, context), beginHands('c1', 5, context))
  expect(talkShots(hands, 240, context)).toEqual([
    { run: 'c1', from: 5, to: 65, speed: '1' },
    { run: 'c1', from: 65, to: 80, speed: '1/4' },
    { hold: 'c1', at: 80, seconds: '1' },
    { hold: 'c1', at: 79, seconds: '1/2' },
    { hold: 'c1', at: 78, seconds: '1/2' },
    { hold: 'c1', at: 77, seconds: '1' },
    {
      hold: 'c1',
      at: 77,
      seconds: '1',
      marks: [
        {
          arrow: [
            [10, 10],
            [50, 50],
          ],
        },
      ],
    },
  ])
})

it('should join runs across a stop that nobody can have meant, and leave a held key’s passing frames out', () => {
  const context = contextOf('30', '30', '1')
  const actions: HandAction[] = [
    { at: 0, does: 'run', speed: '1' },
    { at: RATE, does: 'stop' },
    { at: RATE + 1600, does: 'run', speed: '1' },
    { at: 2 * RATE, does: 'stop' },
    ...Array.from({ length: 9 }, (_, i): HandAction => ({ at: 3 * RATE + 1600 * i, does: 'step', by: 1 })),
  ]
  const hands = actions.reduce((before, action) => act(before, action, context), beginHands('c1', 5, context))
  const shots = talkShots(hands, 120, context)
  expect(shots[0]).toMatchObject({ run: 'c1', from: 5, speed: '1' })
  expect(shots.filter((shot) => 'run' in shot).length).toBe(1)
  expect(shots.length).toBeLessThan(7)
})
