import { mkdir, rename, rm } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { cacheFolder } from '../../main/engine/cache-folder'
import { fileUrl } from '../../main/media/file-url'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'
import { ask, openPatternWindow, type PatternWindow } from '../pattern-window'
import { DIM } from '../film-patterns'
import { speechLike, writeWav } from '../sound-signals'
import { barriersOn } from './barriers'
import { keyHand } from './hand'

/// A comment a year after a film went out: its footage is on a drive that is gone, and so is everything that can be made
/// again. The question is answered in the window from what was kept; then the drive is found, and its film taken back by
/// what is in it: a re-encode is another film, a moved copy is not.

let window: PatternWindow
let folder: string
let page: Page

/// The whole eight minutes are made where asked for; else what is said at 8:12 is said at 0:12.
const LONG = process.env['CLAIMFRAME_LONG'] !== undefined
const ASKED = LONG ? '08:12, how do you know?' : '00:12, how do you know?'
const LEG = ['hip.left', 'knee.left', 'ankle.left']
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Eight minutes on one knee',
  output: { width: 128, height: 72, rate: '4/1' },
  footage: [{ id: 'f1', file: 'bout.mp4', source: { owner: 'Lantern Yard', where: 'club ring', basis: 'with leave' } }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 }, name: 'ringside' }],
  events: [
    { id: 'e0', clip: 'c1', name: 'plant', earliest: 20, latest: 22 },
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 40, latest: 41 },
  ],
  landmarks: LEG.map((point, i) => ({
    clip: 'c1',
    subject: 's1',
    point,
    samples: [
      {
        frame: 40,
        at: (
          [
            [150, 12],
            [185, 95],
            [150, 172],
          ] as [number, number][]
        )[i]!,
        sigma: 1,
      },
    ],
  })),
  measures: [
    { id: 'm1', kind: 'time-between', clip: 'c1', from: 'e0', to: 'e1' },
    { id: 'm2', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 40, points: LEG },
  ],
  script: [
    {
      id: 'p0',
      text: ['The finish, once at full speed.'],
      shots: [
        { card: 'caution', seconds: '5' },
        { run: 'c1', from: 0, to: 90, speed: '1' },
        { hold: 'c1', at: 60, seconds: LONG ? '484' : '4' },
      ],
    },
    {
      id: 'p1',
      text: ['From plant to contact it takes ', { value: 'm1' }, ', with the knee at ', { value: 'm2' }, '.'],
      take: 'p1.wav',
      shots: [
        { hold: 'c1', at: 40, seconds: '8', marks: ['m2'] },
        { card: 'end', seconds: '5' },
      ],
    },
  ],
}

beforeAll(async () => {
  window = await openPatternWindow({
    films: { 'bout.mp4': { frames: 90, rate: '30', bright: DIM } },
    breakdown,
    more: (into) => writeWav(join(into, 'p1.wav'), [speechLike(3, 0.2, 7)]),
  })
  ;({ folder, page } = window)
})
afterAll(async () => window?.close())

const look = async (name: string): Promise<void> => {
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], `${name}.png`) })
}

it('should send a version out, whose footage and cache are gone a year later', async () => {
  const { job } = (await ask(page, 'release.start', { folder: join(folder, 'out'), version: 'first', burnCaptions: false })) as {
    job: string
  }
  const ended = async (): Promise<{ state: string; refusal: unknown }> => {
    const { jobs } = (await ask(page, 'jobs.list', {})) as { jobs: { id: string; state: string; refusal: unknown }[] }
    const now = jobs.find(({ id }) => id === job)!
    if (now.state !== 'running' && now.state !== 'waiting') return now
    await page.waitForTimeout(100)
    return ended()
  }
  expect(await ended()).toMatchObject({ state: 'done', refusal: null })
  await ask(page, 'project.close', {})
  await mkdir(join(folder, 'drive'))
  await rename(join(folder, 'bout.mp4'), join(folder, 'drive', 'ringside-copy.mp4'))
  await rename(join(folder, 'out'), join(folder, 'drive', 'out'))
  await rm(cacheFolder(join(folder, 'test.claimframe')), { recursive: true, force: true })
  await ask(page, 'project.open', { file: join(folder, 'test.claimframe') })
  await page.reload()
  await page.getByRole('heading', { name: breakdown.title }).waitFor()
})

it('should answer a time of the film with the footage gone: sentence, class, brackets, stored stills, error, and what it was made from', async () => {
  await page.keyboard.press('Alt+5')
  await page.getByText('bout.mp4 is not there').first().waitFor()
  await page.locator('body').press('q')
  await page.keyboard.type(ASKED)
  const answer = page.locator('.answer-sheet')

  await answer.getByText(/From plant to contact it takes 0\.650 s ± 0\.040 s, with the knee at \d+° ± \d+°/).waitFor()
  await answer.getByText('timed, in order').waitFor()
  for (const facts of [
    /plant: frames 20 to 22 of ringside/,
    /contact: frames 40 to 41 of ringside/,
    /(event|events) ±.* \(95 %\)/,
    /p1\.wav SHA-256 [0-9a-f]{12}/,
    /^version \d+ SHA-256 [0-9a-f]{12}/,
    /version first of \d{4}-\d\d-\d\d SHA-256 [0-9a-f]{12}/,
  ])
    await answer.getByText(facts).first().waitFor()
  await expect
    .poll(() => answer.locator('img').evaluateAll((images) => images.map((image) => (image as HTMLImageElement).naturalWidth > 0)))
    .toEqual([true, true, true, true, true])
  expect(await barriersOn(page)).toEqual([])
  // What was measured on a film that is away is not said to have changed.
  await page.getByText('all as it said').waitFor()
  await look('year-later')
})

it('should show beside the sentence itself the stills that the version kept of what it rests on', async () => {
  await page.locator('body').press('s')
  await page
    .getByRole('list', { name: 'What the film says' })
    .getByText(/^From plant to contact it takes/)
    .click()
  const rests = page.getByRole('group', { name: 'What stands behind it' })
  await expect
    .poll(() => rests.locator('img').evaluateAll((images) => images.map((image) => (image as HTMLImageElement).naturalWidth > 0)))
    .toEqual([true, true, true, true, true])
  expect(await rests.getByText('as version first kept it; the film is not there').count()).toBe(3)
  // When each stood in the film, as the version kept it: frames of 1/30 s.
  for (const stood of [
    'frame 20 of ringside, 0.6667 s',
    'frame 22 of ringside, 0.7333 s',
    '40 of ringside, 1.3333 s, in contact (40 to 41)',
  ])
    await rests.getByText(stood).first().waitFor()
  await look('year-later-claim')
})

it('should refuse a re-encode in plain words, and take the moved copy back, by keys', async () => {
  const tool = await findFfmpeg()
  await runFfmpeg(tool, [
    '-v',
    'error',
    '-i',
    fileUrl(join(folder, 'drive', 'ringside-copy.mp4')),
    '-c:v',
    'libx264',
    '-crf',
    '30',
    fileUrl(join(folder, 'drive', 'encoded-again.mp4')),
  ])
  await page.keyboard.press('Alt+2')
  const film = page.getByRole('region', { name: 'bout.mp4' })
  await film.getByText('bout.mp4 is not there').waitFor()
  const keys = keyHand(page)
  const where = film.getByLabel('It lies now at')
  await keys.fill(where, join(folder, 'drive', 'encoded-again.mp4'))
  await page.keyboard.press('Enter')
  await film
    .getByText(
      'encoded-again.mp4 is not the film that was measured: its frames are others. A film that was encoded again is another film; take the original or a copy of it.',
    )
    .waitFor()
  await look('relink-refused')
  expect(await barriersOn(page)).toEqual([])
  await keys.fill(where, join(folder, 'drive', 'ringside-copy.mp4'))
  await page.keyboard.press('Enter')
  await page.getByRole('region', { name: 'ringside-copy.mp4' }).getByText('90 frames').first().waitFor()
  await expect
    .poll(async () =>
      ((await ask(page, 'readings.list', {})) as { readings: { id: string; verdict: string }[] }).readings.map(({ verdict }) => verdict),
    )
    .not.toContain('refused')
  await page.keyboard.press('Alt+5')
  await page.getByText('all as it said').waitFor()
  await expect.poll(() => page.getByText('is not there').count()).toBe(0)
  expect(window.faults).toEqual([])
  await look('relinked')
})
