import type { Reading } from '../../../app/measure/reading'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Inline, Paragraph } from '../../../app/project/picture'
import type { LaidParagraph, Programme } from '../../../app/programme/programme'
import { speakingTime } from '../../../app/script/speaking-time'
import type { Readings } from '../../../app/script/spoken-form'
import { rational, toNumber } from '../../../app/time/rational'
import { ticksOfFrame, type Ticks } from '../../../app/time/ticks'

/// A reading with the parts that scripts and captions use.
export function reading(id: string, value: string, spoken: string, more: Partial<Reading> = {}): Reading {
  return {
    id,
    kind: 'joint-angle',
    clip: 'c1',
    frame: 460,
    value: 142,
    u: 6,
    U: 12,
    low: 130,
    high: 154,
    unit: '°',
    plane: 'image',
    verdict: 'warned',
    reasons: [],
    parts: [],
    label: `apparent knee angle, image plane: ${value}`,
    plate: { value, what: 'apparent knee angle, image plane' },
    spoken,
    ...more,
  }
}

export const readings: Readings = new Map([
  ['m1', reading('m1', '142° ± 12°', 'about 142 degrees')],
  ['m2', reading('m2', '0.30 s ± 0.03 s', 'about 0.3 seconds', { unit: 's', kind: 'time-between', plane: 'time' })],
  ['m3', reading('m3', 'roughly 20–70°', 'somewhere between 20 and 70 degrees', { verdict: 'range' })],
])

export const paragraph = (id: string, ...text: Inline[]): Paragraph => ({ id, text })

export const breakdownOf = (script: Breakdown['script'], more: Partial<Breakdown> = {}): Breakdown => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two right hands',
  output: { width: 1280, height: 720, rate: '60/1' },
  footage: [],
  subjects: [],
  clips: [],
  script,
  ...more,
})

const RATE = rational(60)

/// A programme in which each paragraph's words follow the ones before after their pause; with
/// `take` the words take that many seconds.
export function programmeOf(
  breakdown: Breakdown,
  options: { readonly takes?: Readonly<Record<string, number>>; readonly cuts?: readonly number[]; readonly readings?: Readings } = {},
): Programme {
  let at = 0
  const paragraphs: LaidParagraph[] = []
  for (const entry of breakdown.script) {
    if (!('text' in entry)) continue
    const time = speakingTime(entry, options.readings ?? readings)
    const seconds = options.takes?.[entry.id] ?? time.sound
    const frames = Math.ceil((seconds + time.pause) * toNumber(RATE))
    const from = ticksOfFrame(at, RATE)
    const words = { from, to: (from + Math.round(seconds * 705_600_000)) as Ticks, estimated: options.takes?.[entry.id] === undefined }
    paragraphs.push({ id: entry.id, from: at, to: at + frames, words, take: words.estimated ? null : `${entry.id}.wav` })
    at += frames
  }
  const shots = (options.cuts ?? [0]).map((start) => ({
    paragraph: 'p1',
    index: 0,
    shot: { card: 'title' as const },
    kind: 'card' as const,
    start,
    frames: 1,
    panels: [],
    card: null,
    eventAt: new Map<string, number>(),
    badges: [],
    marks: [],
    title: null,
    credit: null,
  }))
  return { width: 1280, height: 720, rate: RATE, frames: at, shots, paragraphs, chapters: [], findings: [] }
}
