import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Breakdown } from '../../../app/project/breakdown'
import type { LaidShot, Programme } from '../../../app/programme/programme'
import { busParts, PIECES_PER_RUN } from '../../../app/render/sound-mix'
import { LOUDNESS, planSound, sampleOfFrame, SOUND_RATE, type SoundSources } from '../../../app/render/sound-plan'
import { rational, type Rational } from '../../../app/time/rational'
import { ticksOfFrame } from '../../../app/time/ticks'
import { breakdownOf, paragraph } from '../script/sample-script'

const RATE = rational(60)

/// A programme of paragraphs that begin at the given frames, with the given shots.
function programme(frames: number, starts: readonly number[], shots: readonly LaidShot[] = [], rate: Rational = RATE): Programme {
  const paragraphs = starts.map((from, i) => ({
    id: `p${i}`,
    from,
    to: starts[i + 1] ?? frames,
    words: { from: ticksOfFrame(from, rate), to: ticksOfFrame(from + 1, rate), estimated: false },
    take: `p${i}.wav`,
  }))
  return { width: 1280, height: 720, rate, frames, shots, paragraphs, chapters: [], findings: [] }
}

function run(start: number, frames: number, speed: string, clip = 'c1', from = 300): LaidShot {
  const panel = {
    clip,
    footage: 'f1',
    source: { width: 1280, height: 720 },
    mirrored: false,
    place: [0, 0, 1280, 720],
    shown: [
      [0, 0, 1280, 720],
      [0, 0, 1280, 720],
    ],
    over: null,
    opacity: 1,
    frames: Int32Array.from({ length: frames }, (_, i) => from + i),
  } as const
  return {
    paragraph: 'p0',
    index: 0,
    shot: { run: clip, from, to: from + frames, speed },
    kind: 'run',
    start,
    frames,
    panels: [panel],
    card: null,
    eventAt: new Map(),
    badges: [],
    marks: [],
    title: null,
    credit: null,
  }
}

const sources = (seconds: readonly Rational[], more: Partial<SoundSources> = {}): SoundSources => ({
  takes: new Map(seconds.map((length, i) => [`p${i}`, { file: `p${i}.wav`, seconds: length }])),
  roomTone: null,
  hall: () => ({ file: 'bout.mp4', secondsAt: (frame) => frame / 60 }),
  ...more,
})

const breakdown = (sound?: Breakdown['sound']): Breakdown =>
  breakdownOf([paragraph('p0', 'Words.')], {
    ...(sound ? { sound } : {}),
    clips: [
      { id: 'c1', footage: 'f1', from: 0, to: 1000, capture: { factor: '1', u: 0 } },
      { id: 'slow', footage: 'f1', from: 0, to: 1000, capture: { factor: '8', u: 0 } },
      { id: 'untold', footage: 'f1', from: 0, to: 1000, capture: 'unknown' },
    ],
  })

describe('the sound plan', () => {
  it('puts takes on the samples at which their words begin, and is as long as the film to the sample', () => {
    const plan = planSound(breakdown(), programme(600, [30, 300]), sources([rational(2), rational(3, 2)]))
    expect(plan.samples).toBe(480_000)
    expect(plan.takes.map(({ at, samples, fadeIn, fadeOut }) => [at, samples, fadeIn, fadeOut])).toEqual([
      [24_000, 96_000, 720, 720],
      [240_000, 72_000, 720, 720],
    ])
    expect(plan.target).toBe(LOUDNESS['-14'])
  })
  it('begins a trimmed take where its heard part begins, and ends it there', () => {
    const laid = programme(600, [30, 300])
    const trimmed = {
      ...laid,
      paragraphs: laid.paragraphs.map((each, i) => (i === 0 ? { ...each, trim: { from: 0.25, to: 1.75 } } : each)),
    }
    const plan = planSound(breakdown(), trimmed, sources([rational(2), rational(3, 2)]))
    expect(plan.takes.map(({ startSeconds, at, samples }) => [startSeconds, at, samples])).toEqual([
      [0.25, 24_000, 72_000],
      [0, 240_000, 72_000],
    ])
  })
  it('knows the sample of a frame at every rate', () => {
    expect(sampleOfFrame(1001, rational(24_000, 1001))).toBe(Math.round((1001 * 48_000 * 1001) / 24_000))
    expect(sampleOfFrame(3, rational(30_000, 1001))).toBe(4805)
    expect(sampleOfFrame(1, rational(25))).toBe(1920)
  })
  it('fills what lies between the takes, into their fades', () => {
    const plan = planSound(breakdown(), programme(600, [30, 300]), sources([rational(2), rational(3, 2)], { roomTone: 'tone.wav' }))
    expect(plan.roomTone?.gaps).toEqual([
      { at: 0, samples: 24_720, fadeIn: 0, fadeOut: 720 },
      { at: 119_280, samples: 121_440, fadeIn: 720, fadeOut: 720 },
      { at: 311_280, samples: 168_720, fadeIn: 720, fadeOut: 0 },
    ])
  })
  it('cuts a take that would run into the next one or over the end', () => {
    const plan = planSound(breakdown(), programme(120, [0, 60]), sources([rational(3), rational(3)]))
    expect(plan.takes.map(({ samples }) => samples)).toEqual([48_000, 48_000])
  })
  it('mutes the footage unless it is asked for, and everything slowed, held or of unknown capture', () => {
    const shots = [
      run(0, 60, '1'),
      run(60, 60, '1/4'),
      run(120, 60, '1', 'slow'),
      run(180, 60, '1', 'untold'),
      { ...run(240, 60, '1'), kind: 'hold' as const },
    ]
    expect(planSound(breakdown(), programme(300, [], shots), sources([])).hall).toEqual([])
    expect(planSound(breakdown({ hall: 'under', loudness: '-23' }), programme(300, [], shots), sources([])).hall).toEqual([
      { file: 'bout.mp4', startSeconds: 5, at: 0, samples: 48_000, fadeIn: 1440, fadeOut: 1440 },
    ])
  })
  it('throws on a take without a file', () => {
    expect(() => planSound(breakdown(), programme(60, [0]), { ...sources([]), takes: new Map() })).toThrow(RangeError)
  })
  it('never lets two takes, or two stretches of tone, overlap', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 200 }), fc.integer({ min: 1, max: 300_000 })), { maxLength: 12 }),
        (parts) => {
          let at = 0
          const starts = parts.map(([gap]) => (at += gap + 1))
          const plan = planSound(
            breakdown(),
            programme(at + 10, starts),
            sources(
              parts.map(([, samples]) => rational(samples, SOUND_RATE)),
              { roomTone: 'tone.wav' },
            ),
          )
          for (const bus of [plan.takes, plan.roomTone?.gaps ?? []]) {
            let end = 0
            for (const piece of bus) {
              expect(piece.at).toBeGreaterThanOrEqual(end)
              expect(piece.fadeIn + piece.fadeOut).toBeLessThanOrEqual(piece.samples)
              end = piece.at + piece.samples
            }
            expect(end).toBeLessThanOrEqual(plan.samples)
          }
        },
      ),
    )
  })
})

describe('parts of a bus', () => {
  it('cover the track without gap or overlap, each with as many pieces as one run takes', () => {
    fc.assert(
      fc.property(fc.nat(120), fc.nat(1000), (count, rest) => {
        const pieces = Array.from({ length: count }, (_, i) => ({
          file: 'x',
          startSeconds: 0,
          at: 10 + i * 100,
          samples: 90,
          fadeIn: 0,
          fadeOut: 0,
          gain: 0,
        }))
        const samples = 10 + count * 100 + rest
        const parts = busParts(pieces, samples)
        expect(parts.flatMap((part) => part.pieces)).toEqual(pieces)
        expect(parts.map((part) => part.from)).toEqual([0, ...parts.slice(0, -1).map((part) => part.to)])
        expect(parts.at(-1)?.to).toBe(samples)
        for (const part of parts) {
          expect(part.pieces.length).toBeLessThanOrEqual(PIECES_PER_RUN)
          for (const piece of part.pieces) expect(piece.at >= part.from && piece.at + piece.samples <= part.to).toBe(true)
        }
      }),
    )
  })
})
