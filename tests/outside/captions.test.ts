import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { WebVTTParser, type CueNode } from 'webvtt-parser'
import entities from 'webvtt-parser/html-entities.json'
import { writeSubRip } from '../../app/exchange/sub-rip'
import { writeWebVtt, type WrittenCaption } from '../../app/exchange/web-vtt'
import type { Ticks } from '../../app/time/ticks'
import { findFfmpeg, lookFor, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'

const SECOND = 705_600_000
const at = (seconds: number): Ticks => Math.round(seconds * SECOND) as Ticks
const caption = (from: number, to: number, ...lines: string[]): WrittenCaption => ({ from: at(from), to: at(to), lines })

/// Texts that a caption file could trip over.
const HOSTILE = [
  'a < b & c > d',
  'an arrow --> here',
  '--> at the start',
  '<i>not styled</i> {\\an8}not moved',
  '&amp; already &lt;escaped&gt;',
  '142° ± 12°, ½ speed',
  'קו הכתפיים ‏(142°)‏ and ‎back',
  'turned \u202Eround\u202C and \u2067aside\u2069',
  'NOTE not a note',
  'STYLE',
  '00:01.000 --> 00:02.000',
  'tab\tand\u000Cform feed',
  'line\nbreak\r\nand\u2028another',
  '12',
  '🥊 gloves',
]

/// Text as it is shown: what turns the direction of a line is taken out.
const straight = (text: string): string => text.replace(/[\u202a-\u202e\u2066-\u2069]/gu, '')

const nodeText = (node: CueNode): string => (node.type === 'text' ? (node.value ?? '') : '') + (node.children ?? []).map(nodeText).join('')

/// The W3C's own parser and validator (webvtt.js, CC0), which reports every departure from the
/// format's syntax, not only what breaks a reader.
function validated(text: string): { from: number; to: number; text: string }[] {
  const { cues, errors } = new WebVTTParser(entities).parse(text, 'subtitles/captions/descriptions')
  expect(errors.map((error) => `${error.line}: ${error.message}`)).toEqual([])
  return cues.map((cue) => ({ from: cue.startTime, to: cue.endTime, text: nodeText(cue.tree) }))
}

describe('WebVTT against the W3C validator', () => {
  it('reads back hostile text as the text that it was', () => {
    const captions = HOSTILE.map((line, i) => caption(i, i + 0.9, line, `second line ${i}`))
    expect(validated(writeWebVtt(captions)).map((cue) => cue.text)).toEqual(
      HOSTILE.map((line, i) => `${straight(line).replace(/[\r\n\f\u2028\u2029]+/g, ' ')}\nsecond line ${i}`),
    )
  })
  it('is valid and comes back for any text and any times', () => {
    const line = fc.string({
      unit: fc.oneof(
        fc.constantFrom('<', '>', '&', '-', '--> ', ';', '{', '\\', '\u202E', '\u2066', '\u200F', '\u200E', ' ', '\n', 'é', 'lt;'),
        fc.string({ unit: 'grapheme', minLength: 1, maxLength: 1 }),
      ),
    })
    const list = fc.array(
      fc.record({
        gap: fc.nat(200_000),
        length: fc.integer({ min: 1, max: 7_000 }),
        lines: fc.array(line, { minLength: 1, maxLength: 2 }),
      }),
      { maxLength: 8 },
    )
    fc.assert(
      fc.property(list, (parts) => {
        let now = 0
        const captions = parts.map(({ gap, length, lines }) => {
          const from = now + gap
          now = from + length
          return caption(from / 1000, now / 1000, ...lines)
        })
        const kept = captions
          .map((each) => ({
            ...each,
            lines: each.lines
              .map((text) =>
                straight(text)
                  .replace(/\0/g, '\uFFFD')
                  .replace(/[\r\n\f\u2028\u2029]+/g, ' '),
              )
              .filter((text) => text.trim() !== ''),
          }))
          .filter((each) => each.lines.length > 0)
        expect(validated(writeWebVtt(captions))).toEqual(
          kept
            .map((each) => ({ from: each.from / SECOND, to: each.to / SECOND, text: each.lines.join('\n') }))
            .map((cue) => ({ ...cue, from: expect.closeTo(cue.from, 6), to: expect.closeTo(cue.to, 6) })),
        )
      }),
      { numRuns: 300 },
    )
  })
  it('has two-digit hours, three decimals, and hours beyond 99', () => {
    expect(writeWebVtt([caption(1.5, 2.25, 'a'), caption(360_000, 360_001, 'b')])).toBe(
      'WEBVTT\n\n1\n00:00:01.500 --> 00:00:02.250\na\n\n2\n100:00:00.000 --> 100:00:01.000\nb\n',
    )
    expect(validated(writeWebVtt([]))).toEqual([])
  })
  it('never narrows the gap between two captions by rounding to milliseconds', () => {
    const frame = SECOND / 60
    const captions = Array.from({ length: 200 }, (_, i): WrittenCaption => ({
      from: (i * 67 * frame) as Ticks,
      to: (i * 67 * frame + 65 * frame) as Ticks,
      lines: ['x'],
    }))
    const cues = validated(writeWebVtt(captions))
    cues.slice(1).forEach((cue, i) => expect(cue.from - (cues[i]?.to ?? NaN)).toBeGreaterThanOrEqual(2 / 60 - 1e-9))
  })
})

/// SubRip has no standard; ffmpeg's reader is the outside opinion.
describe('captions read by ffmpeg', () => {
  let folder = ''
  const tools: FfmpegTool[] = []
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'claimframe-captions-'))
    tools.push(await findFfmpeg(), await lookFor({ PATH: '', XDG_CACHE_HOME: folder }))
  })
  afterAll(() => rm(folder, { recursive: true, force: true }))

  it.each([0, 1])('SubRip arrives with its times and its text unstyled (build %i)', async (index) => {
    const tool = tools[index] as FfmpegTool
    const lines = HOSTILE.filter((line) => !/[\n\t\f]/.test(line))
    const source = join(folder, `in-${index}.srt`)
    const target = join(folder, `out-${index}.ass`)
    await writeFile(source, writeSubRip(lines.map((line, i) => caption(i, i + 0.9, line, 'second'))))
    await runFfmpeg(tool, ['-y', '-i', source, target])
    const events = (await readFile(target, 'utf8'))
      .split('\n')
      .filter((line) => line.startsWith('Dialogue:'))
      .map((line) => line.trim().split(','))
    expect(events.map((fields) => fields[1])).toEqual(lines.map((_, i) => `0:00:${String(i).padStart(2, '0')}.00`))
    const texts = events.map((fields) => fields.slice(9).join(',').replaceAll('\u2060', '').replaceAll('\\{', '{').replaceAll('\\}', '}'))
    expect(texts).toEqual(lines.map((line) => `${straight(line).replaceAll('-->', '→')}\\Nsecond`))
  })
})
