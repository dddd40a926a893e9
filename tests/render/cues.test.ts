import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { cueShots } from '../../app/programme/cue-shots'
import type { Breakdown } from '../../app/project/breakdown'
import type { Paragraph } from '../../app/project/picture'
import { evenFrameTable } from '../../app/time/frame-table'
import { rational } from '../../app/time/rational'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { decodeSound } from '../ffmpeg-builds'
import { makePatternFilm, readPattern } from '../film-patterns'
import { speechLike, writeWav } from '../sound-signals'
import { eachFrame, renderDocument } from './render-document'

/// A case worked by hand, as a film: source 10.00/10.28/10.44/10.60 s at 100 frames a second, words 0/1.2/3.4/3.9 s, preferred
/// ¼. The rendered film is decoded and each frame's own number read.

const EVENTS = [1000, 1028, 1044, 1060]
let tool: FfmpegTool
let folder: string
beforeAll(async () => {
  tool = await findFfmpeg()
  folder = await mkdtemp(join(tmpdir(), 'cues-'))
  await makePatternFilm(tool, join(folder, 'bout.mp4'), { frames: 1100, rate: '100' })
  await writeWav(join(folder, 'take.wav'), [speechLike(5, 0.3, 1)])
})
afterAll(() => rm(folder, { recursive: true, force: true }))

function film(words: readonly number[]): Breakdown {
  const paragraph: Paragraph = { id: 'p1', text: EVENTS.flatMap((_, i) => [{ cue: `e${i}`, word: `word${i}` }, ' ']), take: 'take.wav' }
  const breakdown: Breakdown = {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Cues',
    output: { width: 320, height: 180, rate: '30' },
    footage: [{ id: 'f1', file: 'bout.mp4' }],
    subjects: [],
    clips: [{ id: 'c1', footage: 'f1', from: 0, to: 1100, capture: { factor: '1', u: 0 } }],
    events: EVENTS.map((frame, i) => ({ id: `e${i}`, clip: 'c1', name: `event ${i}`, earliest: frame, latest: frame })),
    cueTimes: words.map((seconds, i) => ({ paragraph: 'p1', event: `e${i}`, seconds, u: 0.015 })),
    script: [paragraph],
  }
  const made = cueShots({
    breakdown,
    paragraph,
    cues: words.map((seconds, i) => ({ event: `e${i}`, word: `word${i}`, seconds })),
    words: 5,
    breath: 0.4,
    pace: rational(1, 4),
    table: () => evenFrameTable(1100, rational(100)),
  })!
  return { ...breakdown, script: [{ ...paragraph, shots: [...made.shots] }] }
}

it('should show each event within one output frame of its word, and make again only the spans beside a word that moved', async () => {
  const first = await renderDocument(tool, film([0, 1.2, 3.4, 3.9]), folder)
  const start = first.plan.programme.paragraphs[0]!.from
  const numbers: number[] = []
  const frames = await eachFrame(
    tool,
    first.report.out,
    { width: 320, height: 180 },
    (pixels, n) => void (n >= start && numbers.push(readPattern(pixels, 320, 180))),
  )
  const appears = EVENTS.map((event) => numbers.indexOf(event))
  console.info(
    `events appear at output frames ${appears.join(', ')}; words at ${[0, 1.2, 3.4, 3.9].map((s) => (s * 30).toFixed(1)).join(', ')}`,
  )
  for (const [i, seconds] of [0, 1.2, 3.4, 3.9].entries()) expect(Math.abs(appears[i]! - seconds * 30)).toBeLessThanOrEqual(1)
  const retake = await renderDocument(tool, film([0, 1.2, 2.9, 3.9]), folder)
  // Before the word that moved a stand and a run, behind it a run.
  console.info(`made ${retake.report.segments.made}, kept ${retake.report.segments.kept}`)
  expect(retake.report.segments.made).toBeLessThanOrEqual(4)
  expect(retake.report.segments.kept).toBeGreaterThanOrEqual(3)
  expect(retake.plan.programme.frames).toBe(frames)
  const sound = await decodeSound(tool, retake.report.out, 2)
  expect(Math.abs(sound[0]!.length - frames * 1600)).toBeLessThanOrEqual(1600)
})
