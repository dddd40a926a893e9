import { readFile, readdir, realpath } from 'node:fs/promises'
import { join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import type { Breakdown } from '../../../app/project/breakdown'
import { bodyPoints } from '../../../app/body/body-points'
import { fileUrl } from '../../../main/media/file-url'
import { findFfmpeg } from '../../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../../main/media/process'
import { createProject } from '../../../main/store/create-project'
import { startChromium } from '../../chromium'
import { startEngine } from '../../killable-engine'
import type { Comparison } from '../comparison'
import { ask } from '../../pattern-window'
import { withStandIn } from './large-window'
import { median, p95, timeTo, waitFor, watchFrames } from './shown-frames'

const FRAMES = 20_000
const POINTS = 30
const SAMPLES = 400_000
/// The film is this stretch, over and over.
const STRETCH = 500
const MEGABYTE = 2 ** 20
const TITLE = 'A whole bout'
/// Each point stands on two frames of three.
const POINTS_ON_A_FRAME = 20

const names = [
  ...bodyPoints.flatMap(({ place, paired }) => (paired ? [`${place}.left`, `${place}.right`] : [place])),
  ...Array.from({ length: POINTS }, (_, i) => `ring.${i}`),
].slice(0, POINTS)
const events = [30, ...Array.from({ length: 12 }, (_, i) => 1500 + i * 1511)]

/// Every point on two frames of three, each in a phase of its own: 400,020 places, the last twenty left out.
function large(): Breakdown {
  let left = SAMPLES
  return {
    format: 'claimframe-breakdown',
    version: 1,
    title: TITLE,
    output: { width: 1920, height: 1080, rate: '60/1' },
    footage: [{ id: 'f1', file: 'bout.mp4' }],
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: [{ id: 'c1', footage: 'f1', from: 0, to: FRAMES, capture: { factor: '1', u: 0 }, name: 'ringside' }],
    views: [{ clip: 'c1', subject: 's1', from: 0, to: FRAMES, lead: 'left', yaw: { deg: 5, u: 5 } }],
    events: events.map((at, i) => ({ id: `e${i}`, clip: 'c1', name: `event ${i}`, earliest: at, latest: at })),
    landmarks: names.map((point, p) => {
      const frames = Array.from({ length: FRAMES }, (_, frame) => frame)
        .filter((frame) => (frame + p) % 3 !== 0)
        .slice(0, left)
      left -= frames.length
      return {
        clip: 'c1',
        subject: 's1',
        point,
        samples: frames.map((frame) => ({
          frame,
          at: [500 + 30 * p + (frame % 97) * 0.25, 200 + 20 * p + (frame % 41) * 0.5] as [number, number],
          sigma: 3.25,
          origin: frame % 60 === 1 ? ('placed' as const) : ('tracked' as const),
        })),
      }
    }),
    measures: [{ id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 30, points: ['hip.left', 'knee.left', 'ankle.left'] }],
    script: [{ id: 'p1', text: ['A whole bout.'], shots: [] }],
  }
}

/// What the processes and all that they started hold in memory, in megabytes: the kernel's "proportional set size" (proc(5),
/// smaps_rollup), which divides a page among those who share it. Pages of the program's own file that a browser outside this
/// trial shares count there in part: for the whole figure nothing else of that browser runs. Linux alone keeps it.
async function resident(pids: readonly number[]): Promise<number> {
  const all = new Map<number, number>()
  for (const name of await readdir('/proc')) {
    if (!/^\d+$/.test(name)) continue
    const stat = await readFile(`/proc/${name}/stat`, 'utf8').catch(() => '')
    all.set(Number(name), Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[1] ?? 0))
  }
  const ours = new Set(pids)
  for (let grown = true; grown;) {
    grown = false
    for (const [pid, parent] of all) if (ours.has(parent) && !ours.has(pid)) grown = Boolean(ours.add(pid))
  }
  let bytes = 0
  for (const pid of ours)
    bytes += 1024 * Number(/^Pss:\s+(\d+)/m.exec(await readFile(`/proc/${pid}/smaps_rollup`, 'utf8').catch(() => ''))?.[1] ?? 0)
  return bytes / MEGABYTE
}

/// Chooses the project on the start screen, and the Bench as soon as there is one. Answers the milliseconds from the press to
/// the picture of the clip's first frame, small or whole, with all of its points, as the page itself has them.
async function fromStart(page: Page, entry: Locator): Promise<number> {
  await page.evaluate((points) => {
    globalThis.openedAt = { pressed: NaN, there: NaN }
    document.addEventListener(
      'pointerdown',
      (event) => {
        globalThis.openedAt.pressed = event.timeStamp
      },
      { capture: true, once: true },
    )
    let chosen = false
    const look = (): void => {
      const bench = chosen ? undefined : [...document.querySelectorAll('button')].find(({ textContent }) => textContent.trim() === 'Bench')
      if (bench) {
        chosen = true
        bench.click()
      }
      const canvas = document.querySelector<HTMLCanvasElement>('.bench-canvas')
      const there = canvas?.dataset['frame'] === '0' && canvas.dataset['points'] === points
      if (!there) requestAnimationFrame(look)
      else
        requestAnimationFrame(() => {
          const { port1, port2 } = new MessageChannel()
          port1.onmessage = () => {
            globalThis.openedAt.there = performance.now()
          }
          port2.postMessage(null)
        })
    }
    requestAnimationFrame(look)
  }, String(POINTS_ON_A_FRAME))
  await entry.click()
  await page.waitForFunction(() => Number.isFinite(globalThis.openedAt.there), undefined, { polling: 50, timeout: 60_000 })
  const milliseconds = await page.evaluate(() => globalThis.openedAt.there - globalThis.openedAt.pressed)
  await page.locator('.bench-canvas[data-detail="full"]').waitFor({ state: 'attached', timeout: 60_000 })
  await page.locator('.stage').focus()
  return milliseconds
}

declare global {
  var openedAt: { pressed: number; there: number }
}

/// The window and the engine on the large clip, each in processes of its own.
export async function withLargeClip<T>(
  folder: string,
  work: (page: Page, held: () => Promise<number>, openedIn: number) => Promise<T>,
): Promise<T> {
  const here = await realpath(folder)
  const file = join(here, 'large.claimframe')
  const engine = await startEngine(file, join(here, 'state'))
  const browser = await startChromium()
  try {
    const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
    await page.goto(await engine.newAddress())
    await page.getByRole('button', { name: 'Bench', exact: true }).waitFor()
    // The engine opened it to begin with. Closed, and opened again from the start screen, as by a person who has the window before them.
    await ask(page, 'project.close', {})
    const entry = page.getByRole('region', { name: 'Recent projects' }).getByRole('button', { name: TITLE })
    await entry.waitFor()
    const openedIn = await fromStart(page, entry)
    const session = await browser.newBrowserCDPSession()
    const { processInfo } = await session.send('SystemInfo.getProcessInfo')
    return await work(page, () => resident([...processInfo.map(({ id }) => id), ...engine.pids]), openedIn)
  } finally {
    await browser.close()
    await engine.kill()
  }
}

const opening = async (folder: string): Promise<number> => withLargeClip(folder, (_, __, openedIn) => Promise.resolve(openedIn))

export const largeClip: Comparison = {
  name: 'large-clip',
  question:
    'A clip of 20,000 frames, 1080p at 60 frames a second, with 30 landmarks and 400,000 places on them: opened, from choosing it on the start screen to the first frame with its 20 points on the screen; steps on ready frames, 95th percentile; and the most that window and engine hold in memory meanwhile: the proportional set size of all their processes together, so that a page that several share is counted once among them.',
  rounds: 5,
  async prepare(folder) {
    const tool = await findFfmpeg()
    await runFfmpeg(tool, [
      '-v',
      'error',
      '-f',
      'lavfi',
      '-i',
      'testsrc2=size=1920x1080:rate=60',
      '-frames:v',
      String(STRETCH),
      '-pix_fmt',
      'yuv420p',
      '-c:v',
      'libx264',
      '-preset',
      'veryfast',
      '-b:v',
      '1M',
      '-g',
      '250',
      '-bf',
      '2',
      '-sc_threshold',
      '0',
      fileUrl(join(folder, 'stretch.mp4')),
    ])
    await runFfmpeg(tool, [
      '-v',
      'error',
      '-stream_loop',
      String(FRAMES / STRETCH - 1),
      '-i',
      fileUrl(join(folder, 'stretch.mp4')),
      '-c',
      'copy',
      fileUrl(join(folder, 'bout.mp4')),
    ])
    await withStandIn(folder, 'large.claimframe', () => createProject(join(folder, 'large.claimframe'), large()))
  },
  contenders: [
    {
      name: 'opened',
      wanted: { milliseconds: 1000 },
      run: async (folder) => ({ milliseconds: await opening(folder) }),
    },
    {
      name: 'a step on ready frames',
      wanted: { milliseconds: 25 },
      most: { 'PSS, MB': 1200 },
      run: (folder) =>
        withLargeClip(folder, async (page, held) => {
          await watchFrames(page)
          const times: number[] = []
          let most = 0
          for (const at of events) {
            await timeTo(page, ']', at, 'thirty')
            await waitFor(page, 'whole')
            await page.waitForTimeout(600)
            let frame = at
            for (let i = 0; i < 16; i++) {
              const by = i < 8 ? 1 : -1
              times.push(await timeTo(page, by > 0 ? '.' : ',', (frame += by), 'shown'))
              await page.waitForTimeout(40 + ((i * 7) % 16))
            }
            most = Math.max(most, await held())
          }
          return { milliseconds: p95(times), 'median, ms': median(times), steps: times.length, 'PSS, MB': most }
        }),
    },
  ],
}
