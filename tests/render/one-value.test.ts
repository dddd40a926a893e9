import { createHash } from 'node:crypto'
import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { plainWords } from '../../app/script/plain-words'
import type { Reading } from '../../app/measure/reading'
import type { Breakdown } from '../../app/project/breakdown'
import type { Release, Said } from '../../app/project/release'
import { overtakenReleases } from '../../app/release/correction-draft'
import { usesOfMeasure } from '../../app/release/where-used'
import { holdsBack } from '../../app/script/claims/finding'
import { findingsOf } from '../../app/script/claims/findings'
import { spokenText } from '../../app/script/spoken-form'
import { FilmLibrary } from '../../main/media/film-library'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { openFilms, readingTable } from '../../main/render/film-plan'
import { makePatternFilm } from '../film-patterns'
import { speechLike, writeWav } from '../sound-signals'
import { renderDocument } from './render-document'

/// One value, used in two sentences (and their captions), a label, a take and a chapter of a published version:
/// what goes stale when it changes, and what does not.

let tool: FfmpegTool
let folder: string
beforeAll(async () => {
  tool = await findFfmpeg()
  folder = await mkdtemp(join(tmpdir(), 'one-value-'))
  await makePatternFilm(tool, join(folder, 'a.mp4'), { frames: 120, rate: '30' })
  await writeWav(join(folder, 'p1.wav'), [speechLike(3, 0.2, 7)])
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const LEG = ['hip.left', 'knee.left', 'ankle.left']

function breakdown(kneeX: number, words: string[] | undefined): Breakdown {
  const at: Record<string, [number, number]> = { 'hip.left': [150, 12], 'knee.left': [kneeX, 95], 'ankle.left': [150, 172] }
  return {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'One value',
    output: { width: 320, height: 180, rate: '30/1' },
    footage: [{ id: 'f1', file: 'a.mp4' }],
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: [{ id: 'c1', footage: 'f1', from: 0, to: 120, capture: { factor: '1', u: 0 } }],
    events: [
      { id: 'e1', clip: 'c1', name: 'plant', earliest: 20, latest: 21 },
      { id: 'e2', clip: 'c1', name: 'contact', earliest: 40, latest: 41 },
    ],
    landmarks: LEG.map((point) => ({
      clip: 'c1',
      subject: 's1',
      point,
      samples: [
        { frame: 40, at: at[point]!, sigma: 1 },
        { frame: 80, at: [at[point]![0] === kneeX ? 158 : 150, at[point]![1]] as [number, number], sigma: 1 },
      ],
    })),
    measures: [
      { id: 'm40', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 40, points: LEG },
      { id: 'm80', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 80, points: LEG },
      { id: 'order', kind: 'order', clip: 'c1', from: 'e1', to: 'e2' },
    ],
    script: [
      { chapter: ['The knee reads ', { value: 'm40' }] },
      {
        id: 'p1',
        text: ['The knee reads ', { value: 'm40' }, '.'],
        take: 'p1.wav',
        ...(words ? { narration: { words } } : {}),
        shots: [
          { hold: 'c1', at: 40, seconds: '6', marks: ['m40'] },
          { run: 'c1', from: 40, to: 50, speed: '1' },
        ],
      },
      { id: 'p2', text: ['Here it reads ', { value: 'm40' }, '.'], shots: [{ hold: 'c1', at: 60, seconds: '8' }] },
      {
        id: 'p3',
        text: ['And on this frame ', { value: 'm80' }, '.'],
        shots: [
          { hold: 'c1', at: 80, seconds: '8', marks: ['m80'] },
          { card: 'caution', seconds: '1' },
        ],
      },
      { id: 'p4', text: ['The order is ', { value: 'order' }, '.'], shots: [{ hold: 'c1', at: 90, seconds: '8' }] },
    ],
  }
}

const readingsOf = async (document: Breakdown): Promise<Map<string, Reading>> =>
  readingTable(document, await openFilms(document, new FilmLibrary(tool, folder, join(folder, 'cache'), 'confined')))
const digest = async (file: string): Promise<string> =>
  createHash('sha256')
    .update(await readFile(file))
    .digest('hex')

/// A version as it was published: every kind of words that used the value, and others that did not.
function published(document: Breakdown, readings: Map<string, Reading>): Release {
  const said: Said[] = [
    { as: 'sentence', words: 'The knee reads …', paragraph: 'p1', from_s: 492, to_s: 495, values: ['m40'] },
    { as: 'caption', words: 'The knee reads …', from_s: 492, to_s: 495, values: ['m40'] },
    { as: 'label', words: 'the plate', from_s: 492, to_s: 498, values: ['m40'] },
    { as: 'take', words: 'the knee reads', paragraph: 'p1', take: 'p1.wav', values: ['m40'] },
    { as: 'chapter', words: 'The knee', from_s: 480, values: ['m40'] },
    { as: 'sentence', words: 'Here it reads …', paragraph: 'p2', from_s: 500, to_s: 503, values: ['m40'] },
    { as: 'sentence', words: 'And on this frame …', paragraph: 'p3', from_s: 510, to_s: 513, values: ['m80'] },
    { as: 'sentence', words: 'The order is …', paragraph: 'p4', from_s: 520, to_s: 523, values: ['order'], events: ['e1', 'e2'] },
  ]
  return {
    id: 'release-1',
    film: document.title,
    version: 'first',
    date: '2026-11-25',
    project: 1,
    files: [],
    footage: [{ id: 'f1', file: 'a.mp4' }],
    said,
    events: document.events!.map(({ id, clip, name, earliest, latest }) => ({ id, clip, name, earliest, latest })),
    values: [...readings.values()].map((r) => ({
      measure: r.id,
      kind: r.kind,
      value: r.plate.value,
      what: r.plate.what,
      spoken: r.spoken,
      verdict: r.verdict,
      number: r.value,
      U: r.U,
      low: r.low,
      high: r.high,
      unit: r.unit,
      clip: r.clip,
      frame: r.frame,
      parts: [],
      reasons: [],
      events: r.id === 'order' ? ['e1', 'e2'] : [],
    })),
  }
}

it('should make stale exactly what used the value that changed, hold the film back until the take is recorded again, and keep every other segment’s bytes', async () => {
  const bare = breakdown(158, undefined)
  const readings = await readingsOf(bare)
  const words = plainWords(spokenText(bare.script[1] as Extract<Breakdown['script'][number], { text: unknown }>, readings))
  const first = await renderDocument(tool, breakdown(158, words), folder)
  const before = await Promise.all(first.report.segments.files.map(digest))
  expect(findingsOf(breakdown(158, words), readings).filter(holdsBack)).toEqual([])

  const changed = breakdown(185, words)
  const now = await readingsOf(changed)
  expect(now.get('m40')!.plate.value).not.toBe(readings.get('m40')!.plate.value)
  expect(now.get('m80')!.plate.value).toBe(readings.get('m80')!.plate.value)
  const open = findingsOf(changed, now).filter(holdsBack)
  expect(open.map(({ code, paragraph }) => [code, paragraph])).toEqual([['take-older', 'p1']])
  expect(open[0]!.sentence).toBe(words.join(' '))
  expect(usesOfMeasure('m40', changed, now).map(({ as, paragraph }) => `${as} ${paragraph}`)).toEqual([
    'chapter p1',
    'sentence p1',
    'caption p1',
    'take p1',
    'sentence p2',
    'caption p2',
    'label p1',
  ])

  const second = await renderDocument(tool, changed, folder)
  const after = await Promise.all(second.report.segments.files.map(digest))
  expect(after.map((hash, i) => hash === before[i])).toEqual(before.map((_, i) => i !== 0))

  const retaken = breakdown(185, plainWords(spokenText(changed.script[1] as Extract<Breakdown['script'][number], { text: unknown }>, now)))
  expect(findingsOf(retaken, now).filter(holdsBack)).toEqual([])

  const [overtaken, ...others] = overtakenReleases({ ...changed, releases: [published(bare, readings)] }, now, '2027-11-20')
  expect(others).toEqual([])
  expect(overtaken!.changes.map(({ id, said }) => [id, said.map(({ as, paragraph }) => `${as} ${paragraph ?? ''}`.trim())])).toEqual([
    ['m40', ['sentence p1', 'caption', 'label', 'take p1', 'chapter', 'sentence p2']],
  ])
})

it('should list the film and draft the note when a bracket is widened until it overlaps', async () => {
  const document = breakdown(158, undefined)
  const readings = await readingsOf(document)
  const release = published(document, readings)
  expect(overtakenReleases({ ...document, releases: [release] }, readings, '2027-11-20')).toEqual([])

  const widened: Breakdown = {
    ...document,
    releases: [release, { ...release, id: 'release-2', version: 'second' }],
    events: [document.events![0]!, { ...document.events![1]!, earliest: 20 }],
  }
  const now = await readingsOf(widened)
  expect(now.get('order')!.verdict).toBe('range')
  const overtaken = overtakenReleases(widened, now, '2027-11-20')
  expect(overtaken.map((each) => each.release.id)).toEqual(['release-1', 'release-2'])
  expect(overtaken[0]!.changes.map(({ of, id, said }) => [of, id, said.map(({ words }) => words)])).toEqual([
    ['value', 'order', ['The order is …']],
    ['event', 'e2', ['The order is …']],
  ])
  expect(overtaken[0]!.draft.note).toContain('Correction, 2027-11-20, to “One value” (version first, 2026-11-25).')
  expect(overtaken[0]!.draft.note).toContain('At 8:40: it rested on contact: frames 40 to 41; it is now contact: frames 20 to 41.')
  // The order that no longer holds is told with what it was.
  expect(overtaken[0]!.draft.note).toContain(readings.get('order')!.plate.value)
  expect(findingsOf(widened, now).some(({ paragraph, code }) => paragraph === 'p4' && code === 'order-open')).toBe(false)
  const noted = { ...widened, corrections: [{ id: 'correction-1', ...overtaken[0]!.draft }] }
  expect(overtakenReleases(noted, now, '2027-11-21').map((each) => each.release.id)).toEqual(['release-2'])
})
