import { headingText } from '../../../app/script/heading-text'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { gunzipSync } from 'node:zlib'
import { describe, expect, it } from 'vitest'
import { writeEdl } from '../../../app/exchange/edit-decision-list'
import { timelineOf } from '../../../app/exchange/film-timeline'
import { writeOtio } from '../../../app/exchange/otio'
import { layOut } from '../../../app/programme/lay-out'
import type { Programme } from '../../../app/programme/programme'
import type { Breakdown } from '../../../app/project/breakdown'
import { exact } from '../../../app/project/fields'
import type { Shot } from '../../../app/project/picture'
import { evenFrameTable, frameTableOf, type FrameTable } from '../../../app/time/frame-table'
import { parseRational, rational, toNumber } from '../../../app/time/rational'
import { readEdl, sourceFrame } from './edl-reader'
import { mediaFrame, readOtio } from './otio-reader'

/// OpenTimelineIO (Academy Software Foundation, Apache-2.0): its sample timelines and edit decision lists, in
/// tests/data/media. First the readers are held against them, then our own files against the readers.
const data = join(import.meta.dirname, '../../data/media')
const sample = (name: string): string => readFileSync(join(data, name), 'utf8')

describe('the sample readers', () => {
  it('read the clips, places and lengths of a simple cut list', () => {
    const { name, tracks } = readOtio(sample('otio/simple_cut.otio'))
    expect(name).toBe('Figure 1 - Simple Cut List')
    expect(
      tracks[0]!.pieces.map((p) => [p.name, p.media, Math.round(24 * p.start), Math.round(24 * p.duration), Math.round(24 * p.mediaStart)]),
    ).toEqual([
      ['Clip-001', 'file:///folder/titles.mov', 0, 3, 3],
      ['Clip-002', 'file:///folder/wind-up.mov', 3, 6, 2],
      ['Clip-003', 'file:///folder/punchline.mov', 9, 4, 0],
      ['Clip-004', 'file:///folder/credits.mov', 13, 6, 100],
    ])
  })

  it('leave a gap’s room and give a transition none', () => {
    const { tracks } = readOtio(sample('otio/clip_example.otio'))
    expect(tracks[0]!.pieces.map((p) => [Math.round(24 * p.start), Math.round(24 * p.duration)])).toEqual([[8, 3]])
  })

  it('read the frozen frame and the warp of the nested sample', () => {
    const { tracks, schemas } = readOtio(sample('otio/nested_example.otio'))
    const scalars = tracks.flatMap((track) => track.pieces.map((piece) => piece.scalar)).filter((scalar) => scalar !== 1)
    expect(scalars.sort()).toEqual([0, 0.8545454551724138])
    expect(schemas).toContain('FreezeFrame.1')
    expect(readOtio(sample('otio/multitrack.otio')).tracks).toHaveLength(3)
    expect(readOtio(sample('otio/generator_reference_test.otio')).tracks[0]!.pieces[0]!.media).toBeNull()
    expect(readOtio(sample('otio/transition.otio')).tracks[0]!.pieces).toHaveLength(4)
  })

  it('agree with each other on one screening that is there as timeline and as list', () => {
    const pieces = readOtio(sample('otio/screening_example.otio')).tracks[0]!.pieces
    const { events } = readEdl(sample('edl/screening_example.edl'), rational(24))
    expect(events).toHaveLength(9)
    expect(pieces.map((p) => [Math.round(24 * p.mediaStart), Math.round(24 * p.duration)])).toEqual(
      events.map((e) => [e.source.from, e.record.to - e.record.from]),
    )
  })

  it('read speeds and frozen frames of lists: 17 frames of one, and twice as fast', () => {
    const { events } = readEdl(sample('edl/speed_effects_small.edl'), rational(24))
    expect(events.map((e) => [e.record.to - e.record.from, e.speed])).toEqual([
      [126, 1],
      [17, 0],
      [1, 0],
      [18, 1],
      [36, 47.6 / 24],
    ])
    const long = readEdl(gunzipSync(readFileSync(join(data, 'edl/speed_effects.edl.gz'))).toString('utf8'), rational(24))
    expect(long.events.filter((e) => e.speed !== 1).length).toBeGreaterThan(8)
    for (const e of long.events)
      if (e.speed > 1) expect(Math.abs(e.source.to - e.source.from - (e.record.to - e.record.from) * e.speed)).toBeLessThan(3)
  })

  it('read the other lists', () => {
    expect(readEdl(sample('edl/25fps.edl'), rational(25)).events[1]!.record).toEqual({ from: 161, to: 361 })
    expect(readEdl(sample('edl/gap_test.edl'), rational(24)).events[1]!.record.from).toBe(40)
    expect(readEdl(sample('edl/dissolve_test.edl'), rational(24)).events.map((e) => e.transition)).toEqual(['C', 'C', 'D', 'C'])
    expect(() => readEdl('001  A        V     C        00:00:01;00 00:00:02;00 00:00:00;00 00:00:01;00', rational(24))).toThrow(
      /no-drop-frame/,
    )
  })
})

const RATES = ['24/1', '25/1', '30000/1001', '30/1', '50/1', '60000/1001', '60/1', '120/1', '240/1'] as const
const OUTPUTS = ['24/1', '25/1', '30000/1001', '50/1', '60000/1001', '60/1'] as const

/// A clock in milliseconds whose intervals come and go.
const ragged = (frames: number): FrameTable =>
  frameTableOf(
    Float64Array.from({ length: frames }, (_, i) => 17 * i + [0, 3, 9, 4][i % 4]!),
    rational(1, 1000),
    17,
  )

function filmed(
  output: string,
  table: FrameTable,
  shots: readonly Shot[],
  factor: string,
  takes = false,
): { programme: Programme; breakdown: Breakdown } {
  const clip = { footage: 'f1', capture: { factor, u: 0 } }
  const breakdown: Breakdown = {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Two right hands: "one" habit?',
    output: { width: 1280, height: 720, rate: output },
    footage: [{ id: 'f1', file: 'footage/bout a.mp4' }],
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: [
      { id: 'c1', from: 0, to: table.pts.length, ...clip },
      { id: 'c2', from: 20, to: 90, mirrored: true, ...clip },
    ],
    events: [
      { id: 'contact', clip: 'c1', name: 'contact', earliest: 40, latest: 41 },
      { id: 'contact2', clip: 'c2', name: 'contact', earliest: 33, latest: 33 },
    ],
    script: [
      { chapter: 'The first' },
      { id: 'p1', text: takes ? ['He plants.'] : [], shots: [...shots], ...(takes ? { take: 'takes/one.wav' } : {}) },
      { chapter: 'The second' },
      { id: 'p2', text: [], shots: [{ hold: 'c2', at: 25, seconds: '3/2' }] },
    ],
  }
  const programme = layOut(breakdown, {
    film: () => ({ table, width: 1280, height: 720 }),
    cardSeconds: () => rational(4),
    chapterTitle: (chapter) => headingText(chapter, new Map()),
    takeSeconds: (paragraph) => (paragraph.take ? rational(120_001, 48_000) : null),
    speakingSeconds: () => 0,
    cueSeconds: () => null,
  })
  return { programme, breakdown }
}

const SHOTS: readonly Shot[] = [
  { run: 'c1', from: 3, to: 61, speed: '1' },
  { run: 'c1', from: 7, to: 44, speed: '1/4' },
  { hold: 'c1', at: 41, seconds: '2' },
  { run: 'c1', from: 10, to: 60, speed: '0.233' },
  {
    pair: [
      { clip: 'c1', event: 'contact' },
      { clip: 'c2', event: 'contact2' },
    ],
    before: '1',
    after: '2',
    speed: '1/2',
    layout: 'beside',
    still: '3/2',
  },
  { card: 'text', lines: ['what follows'] },
  { run: 'c2', from: 21, to: 89, speed: '1/8' },
]

const CASES = [
  ...RATES.flatMap((rate) => OUTPUTS.map((output) => ({ name: rate, table: evenFrameTable(100, parseRational(rate)!), output }))),
  { name: 'a variable rate', table: ragged(100), output: '60/1' },
  { name: 'a variable rate', table: ragged(100), output: '30000/1001' },
]

describe('our timelines', () => {
  it.each(CASES)('say frame for frame what a film from $name at $output shows, as OTIO', ({ table, output }) => {
    for (const factor of ['1', '4']) {
      const { programme, breakdown } = filmed(output, table, SHOTS, factor)
      const read = readOtio(writeOtio(timelineOf(programme, breakdown, () => table)))
      const rate = toNumber(exact(output))
      expect(read.tracks.map((t) => t.kind)).toEqual(['Video', 'Video', 'Audio'])
      for (const [i, track] of read.tracks.slice(0, 2).entries()) {
        expect(track.duration).toBeCloseTo(programme.frames / rate, 6)
        for (const shot of programme.shots) {
          const panel = shot.panels[i]
          const here = track.pieces.filter(
            (p) => Math.round(p.start * rate) < shot.start + shot.frames && Math.round((p.start + p.duration) * rate) > shot.start,
          )
          expect(here.reduce((sum, p) => sum + Math.round(p.duration * rate), 0)).toBe(panel || i === 0 ? shot.frames : 0)
          for (const piece of here.filter((p) => p.media !== null)) {
            const from = Math.round(piece.start * rate)
            for (let n = from; n < from + Math.round(piece.duration * rate); n++) {
              const unit = mediaFrame(piece, n, rate)
              const frame = table.rate ? unit : table.pts.findLastIndex((pts) => pts - table.pts[0]! <= unit)
              expect(frame, `track ${i}, output frame ${n}`).toBe(panel!.frames[n - shot.start])
            }
          }
        }
      }
    }
  })

  it.each(CASES)('say frame for frame what a film from $name at $output shows, as an edit decision list', ({ table, output }) => {
    for (const factor of ['1', '4']) {
      const { programme, breakdown } = filmed(output, table, SHOTS, factor)
      const { events, dropFrame } = readEdl(writeEdl(timelineOf(programme, breakdown, () => table)), exact(output))
      expect(dropFrame).toBe(output === '30000/1001' || output === '60000/1001')
      const pictures = events.filter((e) => e.track === 'V')
      const hour = pictures[0]!.record.from
      expect(pictures.at(-1)!.record.to - hour).toBe(programme.frames)
      for (const [i, event] of pictures.entries()) {
        expect(event.number).toBe(i + 1)
        expect(event.record.from).toBe(i === 0 ? hour : pictures[i - 1]!.record.to)
        const shot = programme.shots.findLast((s) => s.start <= event.record.from - hour)!
        const panel = shot.panels[0]
        if (!panel) continue
        for (let n = event.record.from; n < event.record.to; n++)
          expect(sourceFrame(event, n), `record frame ${n - hour}`).toBe(panel.frames[n - hour - shot.start])
      }
    }
  })

  it('name frozen frames, warps, cards, chapters and recordings by the schema', () => {
    const table = evenFrameTable(100, rational(60))
    const { programme, breakdown } = filmed('60/1', table, SHOTS, '1', true)
    const timeline = timelineOf(programme, breakdown, () => table)
    const read = readOtio(writeOtio(timeline))
    expect([...read.schemas].sort()).toEqual([
      'Clip.2',
      'Color.1',
      'ExternalReference.1',
      'FreezeFrame.1',
      'Gap.1',
      'GeneratorReference.1',
      'LinearTimeWarp.1',
      'Marker.3',
      'RationalTime.1',
      'Stack.1',
      'TimeRange.1',
      'Timeline.1',
      'Track.1',
    ])
    expect(read.markers.map((m) => [m.name, Math.round(60 * m.start)])).toEqual(programme.chapters.map((c) => [c.title, c.frame]))
    expect(read.tracks[0]!.pieces.find((p) => p.media)!.media).toBe('footage/bout%20a.mp4')
    const [sound] = read.tracks[2]!.pieces
    expect([sound!.media, sound!.duration]).toEqual(['takes/one.wav', 120_001 / 48_000])
    expect(Math.round(48_000 * sound!.start)).toBe(Math.round(programme.paragraphs[0]!.words.from / 14_700))
  })

  it('write lists whose reels fit eight characters, with their chapters and recordings', () => {
    const table = evenFrameTable(100, rational(240))
    const { programme, breakdown } = filmed('60/1', table, SHOTS, '1', true)
    const text = writeEdl(timelineOf(programme, breakdown, () => table))
    const { events, title } = readEdl(text, rational(60))
    expect(title).toBe('Two right hands: "one" habit?')
    expect(events.some((e) => e.track === 'A' && e.reel === 'ONE')).toBe(true)
    expect(events.some((e) => e.speed === 0)).toBe(true)
    expect(events.flatMap((e) => e.comments).filter((c) => c.startsWith('LOC:'))).toHaveLength(2)
    expect(text).toMatch(/M2 {3}BOUTA {10}060\.0|M2 {3}BOUTA {10}\d{3}\.\d {16}00:00:00:0\d\r\n/)
  })
})
