import { existsSync } from 'node:fs'
import { cp, mkdir, mkdtemp, realpath, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join, resolve } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import type { Breakdown } from '../app/project/breakdown'
import { openEngine, type Engine } from '../main/engine'
import { openDoor, type LoopbackDoor } from '../main/loopback/door'
import { findFfmpeg, type FfmpegTool } from '../main/media/find-ffmpeg'
import { createProject } from '../main/store/create-project'
import { startChromium } from './chromium'
import { makePatternFilm, readPattern, type PatternFilm } from './film-patterns'

/// The built window in a real browser on a project of pattern films, in a folder of its own.
export interface PatternWindow {
  readonly folder: string
  readonly engine: Engine
  readonly page: Page
  /// What went wrong in the page or behind the door.
  readonly faults: string[]
  close(): Promise<void>
}

interface Options {
  readonly films: Readonly<Record<string, PatternFilm>>
  /// As it is, or made in the project's folder, with films of its own.
  readonly breakdown: Breakdown | ((folder: string) => Promise<Breakdown>)
  /// Makes further files in the project's folder.
  readonly more?: (folder: string, tool: FfmpegTool) => Promise<void>
  /// Films whose stand-ins are made before the window opens.
  readonly standIns?: readonly string[]
  /// Files beside the window's own, by their address: what a builder puts into it.
  readonly pageFiles?: Readonly<Record<string, string>>
  /// Further arguments of the browser.
  readonly browserArguments?: (folder: string) => readonly string[]
}

/// How long the page waits for what must come: long, since a busy machine is no fault.
export const PATIENCE_MS = 120_000

export async function openPatternWindow({
  films,
  breakdown: wanted,
  more,
  standIns = [],
  pageFiles,
  browserArguments,
}: Options): Promise<PatternWindow> {
  if (!existsSync('out/renderer/index.html')) throw new Error('the window has not been built: run npm run build first')
  const folder = await realpath(await mkdtemp(join(tmpdir(), 'window-')))
  await mkdir(join(folder, 'state'))
  const tool = await findFfmpeg()
  for (const [file, film] of Object.entries(films)) await makePatternFilm(tool, join(folder, file), film)
  await more?.(folder, tool)
  const breakdown = typeof wanted === 'function' ? await wanted(folder) : wanted
  const file = join(folder, 'test.claimframe')
  const made = createProject(file, breakdown)
  if (!made.ok) throw made.error
  const faults: string[] = []
  const built = pageFiles ? await builtWith(folder, pageFiles) : resolve('out/renderer')
  const engine = openEngine({ version: '0.0.0-test', page: built, stateFolder: join(folder, 'state'), log: () => undefined, checked: true })
  const door: LoopbackDoor = await openDoor({
    engine: engine.answer,
    onRefused: () => undefined,
    onFault: (error) => void faults.push(String(error)),
  })
  const browser: Browser = await startChromium(browserArguments?.(folder))
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
  page.setDefaultTimeout(PATIENCE_MS)
  page.on('pageerror', (error) => faults.push(error.message))
  await page.goto(door.newAddress())
  await page.getByRole('heading', { name: 'Claimframe' }).waitFor()
  await ask(page, 'project.open', { file })
  for (const footage of breakdown.footage.map(({ id }) => id)) await until(async () => (await factsOf(page, footage)).state === 'ready')
  for (const footage of standIns) {
    await ask(page, 'footage.proxy', { footage })
    await until(async () => (await factsOf(page, footage)).proxy === 'ready')
  }
  await page.reload()
  await page.locator('.top h1').waitFor()
  return {
    folder,
    engine,
    page,
    faults,
    async close() {
      await browser.close()
      await engine.end()
      await door.close()
      await rm(folder, { recursive: true, force: true })
    },
  }
}

async function builtWith(folder: string, files: Readonly<Record<string, string>>): Promise<string> {
  const page = join(folder, 'page')
  await cp('out/renderer', page, { recursive: true })
  for (const [address, text] of Object.entries(files)) {
    await mkdir(join(page, dirname(address)), { recursive: true })
    await writeFile(join(page, address), text)
  }
  return page
}

/// Asks the engine as the window does, and answers the value.
export async function ask(page: Page, name: string, input: object): Promise<unknown> {
  const answer = (await page.evaluate(
    async ([call, body]) =>
      (await fetch(`call/${call}`, { method: 'POST', headers: { 'content-type': 'application/json' }, body })).json() as Promise<unknown>,
    [name, JSON.stringify(input)] as const,
  )) as { ok: boolean; value: unknown; error?: { message: string } }
  if (!answer.ok) throw new Error(`${name}: ${answer.error?.message}`)
  return answer.value
}

async function factsOf(page: Page, footage: string): Promise<{ state: string; proxy: string }> {
  const { films } = (await ask(page, 'footage.facts', {})) as { films: { id: string; state: string; proxy: string }[] }
  const film = films.find(({ id }) => id === footage)
  if (!film) throw new Error(`no film ${footage}`)
  return film
}

async function until(holds: () => Promise<boolean>): Promise<void> {
  for (const end = Date.now() + 240_000; Date.now() < end;) {
    if (await holds()) return
    await new Promise((done) => setTimeout(done, 50))
  }
  throw new Error('it did not come about within four minutes')
}

/// The number that a canvas shows: its picture made small in the page, read here.
export const readCanvas = (small: readonly number[]): number => readPattern(Uint8Array.from(small), SMALL.width, SMALL.height)
export const SMALL = { width: 60, height: 48 }

/// The number that the picture on the Bench shows, whole in its room; `width` and `height` are the film's.
export async function readBench(page: Page, [width = 1, height = 1]: readonly number[]): Promise<number> {
  const small = await page.evaluate(
    ({ size, width, height }) => {
      const canvas = document.querySelector<HTMLCanvasElement>('.bench-canvas')!
      const small = Object.assign(document.createElement('canvas'), size)
      const surface = small.getContext('2d', { willReadFrequently: true })!
      const scale = Math.min(canvas.width / width, canvas.height / height)
      surface.drawImage(
        canvas,
        (canvas.width - width * scale) / 2,
        (canvas.height - height * scale) / 2,
        width * scale,
        height * scale,
        0,
        0,
        size.width,
        size.height,
      )
      const { data } = surface.getImageData(0, 0, size.width, size.height)
      return Array.from({ length: data.length / 4 }, (_, i) => data[i * 4] ?? 0)
    },
    { size: SMALL, width, height },
  )
  return readCanvas(small)
}
