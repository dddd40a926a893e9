import { existsSync } from 'node:fs'
import { copyFile, readdir, rename, rm } from 'node:fs/promises'
import { join } from 'node:path'
import type { Locator } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Job } from '../../app/contract/work-calls'
import type { Breakdown } from '../../app/project/breakdown'
import { openPatternWindow, readCanvas, SMALL, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'
import { keyHand } from './hand'

/// Renders from the window: the film can be looked at while it is there, a render can be given up, and it goes on when the
/// page does not.

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'One minute',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 }, name: 'ringside' }],
  script: [
    {
      id: 'p1',
      text: [],
      shots: [
        { run: 'c1', from: 0, to: 90, speed: '1' },
        { run: 'c1', from: 0, to: 90, speed: '1/16' },
        { hold: 'c1', at: 70, seconds: '2' },
      ],
    },
  ],
}
/// Output seconds: a run in its own time, one at a sixteenth, a hold.
const LONG_S = 3 + 48 + 2

let window: PatternWindow
beforeAll(async () => {
  window = await openPatternWindow({ films: { 'bout.mp4': { frames: 90, rate: '30' } }, breakdown })
  await window.page.getByRole('button', { name: 'Release' }).click()
})
afterAll(async () => window?.close())

const renders = (): Job[] => window.engine.workspace.jobs.list().filter(({ kind }) => kind === 'render')
const work = (): Locator => window.page.getByRole('list', { name: 'Work' }).getByRole('listitem')
const draft = (): string => join(window.folder, 'test-draft.mp4')
/// Starts a draft, and waits until some of it is done.
const begin = async (): Promise<void> => {
  const before = renders().length
  await window.page.getByRole('button', { name: 'Render a draft' }).click()
  await expect.poll(() => renders().length).toBe(before + 1)
  await expect.poll(() => renders().at(-1)!.progress, { interval: 10, timeout: 120_000 }).toBeGreaterThan(0)
}

it('should give a render up by keys, leave no file behind, and say so', async () => {
  const { page, folder } = window
  const before = (await readdir(folder)).sort()
  await begin()
  await keyHand(page).press(work().getByRole('button', { name: 'Cancel' }))
  await work().getByText('cancelled; what was finished is kept').waitFor()
  expect(renders().map(({ state, file }) => [state, file])).toEqual([['cancelled', null]])
  expect(await work().locator('video').count()).toBe(0)
  expect((await readdir(folder)).sort()).toEqual(before)
  expect(await page.getByRole('button', { name: 'Render a draft' }).isEnabled()).toBe(true)
  expect(await barriersOn(page)).toEqual([])
})

it('should go on with a render while the page is loaded again, and show how far it is and what came of it', async () => {
  const { page } = window
  await begin()
  const [, job] = renders()
  await page.reload()
  await page.getByRole('button', { name: 'Release' }).click()
  const bar = work().getByRole('progressbar', { name: 'rendering test-draft.mp4' })
  await bar.waitFor()
  expect(['waiting', 'running']).toContain(renders()[1]!.state)
  // The one that was given up is told of as well, and there is one more, not two.
  expect(await work().count()).toBe(2)
  expect(await page.getByRole('button', { name: 'Render a draft' }).isDisabled()).toBe(true)
  await work().getByText(draft(), { exact: true }).waitFor({ timeout: 500_000 })
  expect(renders().map(({ id, state }) => [id, state])).toEqual([
    [renders()[0]!.id, 'cancelled'],
    [job!.id, 'done'],
  ])
  expect(existsSync(draft())).toBe(true)
})

/// The number of the frame that the film shows at a time.
const shownAt = async (film: Locator, seconds: number): Promise<number> => {
  const small = await film.evaluate(
    async (node, { seconds, size }) => {
      const video = node as HTMLVideoElement
      const sought = new Promise((done) => video.addEventListener('seeked', done, { once: true }))
      video.currentTime = seconds
      await sought
      const surface = Object.assign(document.createElement('canvas'), size).getContext('2d', { willReadFrequently: true })!
      surface.drawImage(video, 0, 0, size.width, size.height)
      const { data } = surface.getImageData(0, 0, size.width, size.height)
      return Array.from({ length: data.length / 4 }, (_, at) => data[at * 4] ?? 0)
    },
    { seconds, size: SMALL },
  )
  return readCanvas(small)
}

it('should show the finished film beside its name, at any of its times', async () => {
  const { page } = window
  const film = page.getByLabel('The finished film, test-draft.mp4')
  await film.waitFor()
  await expect.poll(() => film.evaluate((node) => (node as HTMLVideoElement).readyState)).toBeGreaterThan(0)
  // A card with the caution comes before the shots.
  const length = await film.evaluate((node) => (node as HTMLVideoElement).duration)
  expect(length).toBeGreaterThan(LONG_S)
  expect(length).toBeLessThan(LONG_S + 20)
  expect(
    await film.evaluate((node) => [(node as HTMLVideoElement).controls, (node as HTMLVideoElement).preload, node.getAttribute('src')]),
  ).toEqual([true, 'metadata', `finished/${renders()[1]!.id}`])
  // The last frame's picture first, the run's then: each is fetched where it lies in the file.
  expect(await shownAt(film, length - 0.5)).toBe(70)
  expect(await shownAt(film, length - LONG_S + 1 + 1 / 60)).toBe(30)
  await film.scrollIntoViewIfNeeded()
  expect(await barriersOn(page)).toEqual([])
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], 'finished-film.png') })
})

it('should say plainly that the film is gone once it is, and not show another file in its place', async () => {
  const { page, folder } = window
  const film = page.getByLabel('The finished film, test-draft.mp4')
  const said = page.getByText('The film of test-draft.mp4 is not there any more: it was moved, deleted or written anew.')
  await rename(draft(), join(folder, 'elsewhere.mp4'))
  await said.waitFor()
  expect(await film.count()).toBe(0)
  expect(await barriersOn(page)).toEqual([])
  await copyFile(join(folder, 'bout.mp4'), draft())
  await page.reload()
  await page.getByRole('button', { name: 'Release' }).click()
  await said.waitFor()
  await rm(draft())
  await rename(join(folder, 'elsewhere.mp4'), draft())
  await film.waitFor()
  expect(window.faults).toEqual([])
})
