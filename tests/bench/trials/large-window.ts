import { mkdir, realpath } from 'node:fs/promises'
import { join, resolve } from 'node:path'
import type { Page } from 'playwright-core'
import type { Breakdown } from '../../../app/project/breakdown'
import { openEngine } from '../../../main/engine'
import { openDoor } from '../../../main/loopback/door'
import { findFfmpeg } from '../../../main/media/find-ffmpeg'
import { createProject } from '../../../main/store/create-project'
import { startChromium } from '../../chromium'
import { makePatternFilm } from '../../film-patterns'

/// Makes a project of a breakdown whose one film is `bout.mp4`, and the film.
export async function makeProject(folder: string, name: string, breakdown: Breakdown): Promise<void> {
  await makePatternFilm(await findFfmpeg(), join(folder, 'bout.mp4'), { frames: 2000, rate: '60', width: 640, height: 360, gop: 60 })
  await mkdir(join(folder, 'state'), { recursive: true })
  const made = createProject(join(folder, name), breakdown)
  if (!made.ok) throw made.error
}

/// Opens the built window on a project, does something with it, and ends everything.
export async function withWindow<T>(folder: string, name: string, work: (page: Page, file: string) => Promise<T>): Promise<T> {
  const here = await realpath(folder)
  const engine = openEngine({ version: '0.0.0-bench', page: resolve('out/renderer'), stateFolder: join(here, 'state'), log: () => undefined, checked: false })
  const door = await openDoor({ engine: engine.answer, onRefused: () => undefined, onFault: (error) => console.error(error) })
  const browser = await startChromium()
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
    await page.goto(door.newAddress())
    await page.getByRole('heading', { name: 'Claimframe' }).waitFor()
    return await work(page, join(here, name))
  } finally {
    await browser.close()
    await engine.end()
    await door.close()
  }
}

/// Opens a project and waits until its words and pictures are there; answers the milliseconds from asking for it to the
/// first picture of the screen with its words and values.
export async function openProject(page: Page, file: string): Promise<number> {
  const began = Date.now()
  await page.evaluate((body) => fetch('call/project.open', { method: 'POST', headers: { 'content-type': 'application/json' }, body }), JSON.stringify({ file }))
  await page.reload({ waitUntil: 'commit' })
  await page.locator('.words .value b', { hasText: '°' }).first().waitFor()
  return Date.now() - began
}
