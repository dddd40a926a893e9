import { mkdir, realpath } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import type { CodedError } from '../../../app/errors/coded-error'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Result } from '../../../app/result'
import { findFfmpeg } from '../../../main/media/find-ffmpeg'
import { createProject } from '../../../main/store/create-project'
import { startChromium } from '../../chromium'
import { makePatternFilm } from '../../film-patterns'
import { startEngine } from '../../killable-engine'
import { ask } from '../../pattern-window'

/// Makes a project of a breakdown whose one film is `bout.mp4`, and the film.
export async function makeProject(folder: string, name: string, breakdown: Breakdown): Promise<void> {
  await makePatternFilm(await findFfmpeg(), join(folder, 'bout.mp4'), { frames: 2000, rate: '60', width: 640, height: 360, gop: 60 })
  await mkdir(join(folder, 'state'), { recursive: true })
  const made = createProject(join(folder, name), breakdown)
  if (!made.ok) throw made.error
}

/// Opens the built window, its engine in a process of its own as on any desk, does something with it, and ends everything.
export async function withWindow<T>(folder: string, name: string, work: (page: Page, file: string) => Promise<T>): Promise<T> {
  const here = await realpath(folder)
  const engine = await startEngine(null, join(here, 'state'))
  const browser = await startChromium()
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
    await page.goto(await engine.newAddress())
    await page.getByRole('heading', { name: 'Claimframe' }).waitFor()
    return await work(page, join(here, name))
  } finally {
    await browser.close()
    await engine.kill()
  }
}

/// Opens a project and waits until its words and pictures are there; answers the milliseconds from asking for it to the
/// first picture of the screen with its words and values.
export async function openProject(page: Page, file: string): Promise<number> {
  const began = Date.now()
  await page.evaluate(
    (body) => fetch('call/project.open', { method: 'POST', headers: { 'content-type': 'application/json' }, body }),
    JSON.stringify({ file }),
  )
  await page.reload({ waitUntil: 'commit' })
  await page.locator('.words .value b', { hasText: '°' }).first().waitFor()
  return Date.now() - began
}

/// Makes a project and the stand-ins of its films, so that they are there when it is opened for timing.
export async function withStandIn(folder: string, name: string, make: () => Result<null, CodedError>): Promise<void> {
  await mkdir(join(folder, 'state'), { recursive: true })
  const made = make()
  if (!made.ok) throw made.error
  await withWindow(folder, name, async (page, file) => {
    await ask(page, 'project.open', { file })
    const facts = async () => ((await ask(page, 'footage.facts', {})) as { films: { id: string; state: string; proxy: string }[] }).films
    const until = async (holds: (film: { state: string; proxy: string }) => boolean): Promise<void> => {
      while (!(await facts()).every(holds)) await page.waitForTimeout(200)
    }
    await until(({ state }) => state === 'ready')
    for (const { id } of await facts()) await ask(page, 'footage.proxy', { footage: id })
    await until(({ proxy }) => proxy === 'ready')
  })
}

/// Opens a project on the Bench, and waits for the whole picture of its first clip's `frame`. Answers the milliseconds from
/// asking for the project to the frame's picture, small or whole, with all its points.
export async function openBench(page: Page, file: string, frame: number, points: number): Promise<number> {
  const began = Date.now()
  await page.evaluate(
    (body) => fetch('call/project.open', { method: 'POST', headers: { 'content-type': 'application/json' }, body }),
    JSON.stringify({ file }),
  )
  await page.reload({ waitUntil: 'commit' })
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.locator(`.bench-canvas[data-frame="${frame}"][data-points="${points}"]`).waitFor({ state: 'attached', timeout: 60_000 })
  const milliseconds = Date.now() - began
  await page.locator(`.bench-canvas[data-frame="${frame}"][data-detail="full"]`).waitFor({ state: 'attached', timeout: 60_000 })
  await page.locator('.stage').focus()
  return milliseconds
}
