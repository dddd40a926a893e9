import { readFileSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { tokensOf, type SpokenToken } from '../../app/align/spoken-tokens'
import type { TakeWords } from '../../app/align/take-words'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'
import { alignTake, splitRecording } from '../../main/narration/align-take'
import { findRecogniser, type Recogniser } from '../../main/narration/find-recogniser'

/// Words found in narration whose word times are known: said by eSpeak NG (tests/data/narration, its own word events),
/// another engine than the reference voice (Flite) and no part of the recogniser. Under each lies noise of −50 dBFS.
/// Figures asked for: with the recogniser median ≤ 15 ms and 95th percentile ≤ 60 ms, with the reference voice ≤ 25 and
/// ≤ 150 ms; 93 % of onsets within 2 u.

interface Spoken {
  readonly script: string
  readonly takes: readonly { readonly file: string; readonly text: string; readonly onsets: readonly (readonly [number, number])[] }[]
}
const data = join(import.meta.dirname, '../data/narration')
const spoken = JSON.parse(readFileSync(join(data, 'narration.json'), 'utf8')) as Spoken
const pieces = (text: string) => text.split(' ').map((word) => ({ spoken: word }))
const script = tokensOf(pieces(spoken.script))

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'alignment-'))
  const tool = await findFfmpeg()
  for (const { file } of spoken.takes)
    await runFfmpeg(tool, [
      '-v',
      'error',
      '-y',
      '-i',
      join(data, file),
      '-filter_complex',
      `anoisesrc=r=16000:a=${10 ** (-50 / 20) * Math.sqrt(3)}:seed=7[n];[0:a][n]amix=inputs=2:duration=first:weights=1 1,volume=2[o]`,
      '-map',
      '[o]',
      join(folder, file.replace('flac', 'wav')),
    ])
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const full = ['us-120', 'us-160', 'gb-f3-120', 'gb-f3-160']
const wav = (name: string): string => join(folder, `${name}.wav`)

/// How far each word whose time is known was found from it, seconds, and its u.
function misses(name: string, found: TakeWords, tokens: readonly SpokenToken[]): { off: number; u: number }[] {
  const take = spoken.takes.find(({ file }) => file === `${name}.flac`)!
  const starts: number[] = []
  for (const match of take.text.matchAll(/\S+/g)) starts.push(match.index)
  expect(starts.length).toBe(tokens.length)
  return take.onsets.flatMap(([at, seconds]) => {
    const word = found.words[starts.findIndex((start) => start === at || start === at + 1)]
    return word === undefined || word.onset === null ? [] : [{ off: word.onset - seconds, u: word.u }]
  })
}

const part = (values: readonly number[], share: number): number =>
  [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.floor(share * values.length))]!

function check(all: readonly { off: number; u: number }[], median: number, most: number): void {
  const offs = all.map(({ off }) => Math.abs(off))
  const inside = all.filter(({ off, u }) => Math.abs(off) <= 2 * u).length / all.length
  console.info(
    `${all.length} onsets: median ${(1000 * part(offs, 0.5)).toFixed(0)} ms, 95th percentile ${(1000 * part(offs, 0.95)).toFixed(0)} ms, ${(100 * inside).toFixed(0)} % within 2 u`,
  )
  expect(part(offs, 0.5)).toBeLessThanOrEqual(median)
  expect(part(offs, 0.95)).toBeLessThanOrEqual(most)
  expect(inside).toBeGreaterThanOrEqual(0.93)
}

describe('with the recogniser', () => {
  let recogniser: Recogniser
  beforeAll(async () => {
    const found = await findRecogniser()
    if (!found) throw new Error('pocketsphinx was not found: apt-get install pocketsphinx pocketsphinx-en-us')
    recogniser = found
  })

  it('should find every word of two voices at two paces', async () => {
    const tool = await findFfmpeg()
    const all: { off: number; u: number }[] = []
    for (const name of full) {
      const found = await alignTake(wav(name), script, { tool, recogniser })
      expect(found).toMatchObject({ by: 'recogniser', leftOut: [], repeated: [], other: false })
      all.push(...misses(name, found, script))
    }
    check(all, 0.015, 0.06)
  })

  it('should name the sentence that was said twice, with both copies', async () => {
    const found = await alignTake(wav('twice'), script, { tool: await findFfmpeg(), recogniser })
    expect(found.leftOut).toEqual([])
    expect(found.repeated.map(({ words }) => words)).toEqual(['at contact the rear knee is bent to about one hundred and forty degrees'])
    const take = spoken.takes.find(({ file }) => file === 'twice.flac')!
    const copies = take.onsets.filter(([at]) => take.text.startsWith('At contact', at)).map(([, seconds]) => seconds)
    expect(Math.abs(found.repeated[0]!.first - copies[0]!)).toBeLessThan(0.1)
    expect(Math.abs(found.repeated[0]!.again - copies[1]!)).toBeLessThan(0.1)
  })

  it('should name the word that was left out', async () => {
    const found = await alignTake(wav('left-out'), script, { tool: await findFfmpeg(), recogniser })
    expect(found).toMatchObject({ leftOut: ['rear'], repeated: [], other: false })
  })
})

it('should find the words by the reference voice, less exactly', async () => {
  const tool = await findFfmpeg()
  const all: { off: number; u: number }[] = []
  for (const name of full) all.push(...misses(name, await alignTake(wav(name), script, { tool, recogniser: null }), script))
  check(all, 0.025, 0.15)
})

/// One recording of a whole script in four paragraphs, of which one was never said.
const paragraphs = [
  'He plants, and the pelvis turns sixty seven milliseconds before the shoulders do. At contact the rear knee is bent to about one hundred and forty degrees.',
  'The scapula protracts as the acromion travels forward.',
  'Nothing of this was ever said into any microphone, so it must be told apart.',
  'From the second camera nothing can be said about the spine. That is the part worth slowing down.',
]
const parts = (texts: readonly string[]) => texts.map((text, i) => ({ paragraph: `p${i + 1}`, tokens: tokensOf(pieces(text)) }))

/// When a paragraph's first and last word begin, seconds, by the synthesiser's own events.
function spokenSpan(name: string, text: string): [number, number] {
  const take = spoken.takes.find(({ file }) => file === `${name}.flac`)!
  const at = take.text.indexOf(text)
  expect(at).toBeGreaterThanOrEqual(0)
  const inside = take.onsets.filter(([place]) => place >= at && place < at + text.length).map(([, seconds]) => seconds)
  return [Math.min(...inside), Math.max(...inside)]
}

it('should take a recording of the whole script apart into its paragraphs, and name the one that is missing', async () => {
  const recogniser = await findRecogniser()
  if (!recogniser) throw new Error('pocketsphinx was not found: apt-get install pocketsphinx pocketsphinx-en-us')
  const tool = await findFfmpeg()
  for (const name of ['us-120', 'gb-f3-160']) {
    const split = await splitRecording(wav(name), parts(paragraphs), { tool, recogniser })
    expect(split).toMatchObject({ by: 'recogniser', missing: ['p3'], other: false })
    expect(split.pieces.map(({ paragraph }) => paragraph)).toEqual(['p1', 'p2', 'p4'])
    let before = 0
    for (const { paragraph, from, to, found } of split.pieces) {
      const [first, last] = spokenSpan(name, paragraphs[Number(paragraph.slice(1)) - 1]!)
      expect(from).toBeGreaterThanOrEqual(before)
      expect(from).toBeLessThan(first + 0.02)
      expect(from).toBeGreaterThan(first - 0.5)
      expect(to).toBeGreaterThan(last + 0.1)
      expect(Math.abs(found.words[0]!.onset! + from - first)).toBeLessThan(0.1)
      expect(found.leftOut).toEqual([])
      before = to
    }
  }
  const twice = await splitRecording(wav('twice'), parts(paragraphs), { tool, recogniser })
  expect(twice.pieces.map(({ found }) => found.repeated.map(({ words }) => words))).toEqual([
    ['at contact the rear knee is bent to about one hundred and forty degrees'],
    [],
    [],
  ])
})

it('should take it apart by the reference voice where no recogniser is, every paragraph that was said within a tenth of a second', async () => {
  const said = paragraphs.filter((_, i) => i !== 2)
  const split = await splitRecording(wav('us-120'), parts(said), { tool: await findFfmpeg(), recogniser: null })
  expect(split).toMatchObject({ by: 'reference', missing: [] })
  for (const [i, { from, to }] of split.pieces.entries()) {
    const [first, last] = spokenSpan('us-120', said[i]!)
    expect(from).toBeLessThan(first + 0.1)
    expect(from).toBeGreaterThan(first - 0.5)
    expect(to).toBeGreaterThan(last)
  }
})
