import { join } from 'node:path'
import type { Page } from 'playwright-core'
import type { Breakdown } from '../../../app/project/breakdown'
import { fileUrl } from '../../../main/media/file-url'
import { findFfmpeg } from '../../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../../main/media/process'
import { createProject } from '../../../main/store/create-project'
import { startChromium } from '../../chromium'
import type { Comparison, Contender } from '../comparison'
import { openBench, withStandIn, withWindow } from './large-window'
import { median, p95, timeTo, waitFor, watchFrames, type Moment } from './shown-frames'

export const FRAMES = 1800
/// Steps from one event to the next: far beyond what is kept ready, and over time at every place within a group.
const BETWEEN = 67
const events = Array.from({ length: 26 }, (_, i) => 20 + i * BETWEEN)

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Looked at',
  output: { width: 1920, height: 1080, rate: '60/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: FRAMES, capture: { factor: '1', u: 0 }, name: 'ringside' }],
  events: events.map((at, i) => ({ id: `e${i}`, clip: 'c1', name: `event ${i}`, earliest: at, latest: at })),
  landmarks: ['hip', 'knee', 'ankle', 'shoulder', 'elbow', 'wrist'].flatMap((place, p) =>
    ['left', 'right'].map((side, s) => ({
      clip: 'c1',
      subject: 's1',
      point: `${place}.${side}`,
      samples: Array.from({ length: FRAMES }, (_, frame) => ({
        frame,
        at: [700 + 40 * p + ((frame * (s + 1)) % 97), 300 + 60 * p] as [number, number],
        sigma: 3,
        origin: 'tracked' as const,
      })),
    })),
  ),
  script: [{ id: 'p1', text: ['Looked at.'], shots: [] }],
}

const jumping = (name: string, what: Moment, most: number): Contender => ({
  name,
  wanted: { milliseconds: most },
  run: (folder) =>
    withWindow(folder, 'looked.claimframe', async (page, file) => {
      await openBench(page, file, 0, 12)
      await watchFrames(page)
      const times: number[] = []
      for (const at of events) {
        times.push(await timeTo(page, ']', at, what))
        await waitFor(page, 'whole')
        await waitFor(page, 'thirty')
        await page.waitForTimeout(300)
      }
      return { milliseconds: p95(times), 'median, ms': median(times), jumps: times.length }
    }),
})

/// `bout.mp4`, 1080p at 60 frames a second with a key frame every 250.
export async function makeLongFilm(folder: string): Promise<void> {
  await runFfmpeg(await findFfmpeg(), [
    '-v',
    'error',
    '-f',
    'lavfi',
    '-i',
    'testsrc2=size=1920x1080:rate=60,noise=alls=10:allf=t',
    '-frames:v',
    String(FRAMES),
    '-pix_fmt',
    'yuv420p',
    '-c:v',
    'libx264',
    '-preset',
    'veryfast',
    '-b:v',
    '16M',
    '-g',
    '250',
    '-bf',
    '3',
    '-sc_threshold',
    '0',
    fileUrl(join(folder, 'bout.mp4')),
  ])
}

/// A page with nothing in it but a canvas, which draws one ready picture at each key.
export const barePage: Contender = {
  name: 'a bare page',
  async run() {
    const browser = await startChromium()
    try {
      const page = await browser.newPage({ viewport: { width: 1440, height: 900 } })
      await page.setContent(
        '<!doctype html><style>body{margin:0}canvas{width:1348px;height:660px}</style><canvas class="bench-canvas" width="1348" height="660"></canvas>',
      )
      await page.evaluate(async () => {
        const canvas = document.querySelector('canvas')!
        const surface = canvas.getContext('2d', { alpha: false })!
        const drawn = new OffscreenCanvas(960, 540)
        drawn.getContext('2d')!.fillRect(100, 100, 400, 200)
        const picture = await createImageBitmap(drawn)
        let frame = 0
        document.addEventListener('keydown', () => {
          surface.drawImage(picture, 0, 0, 1173, 660)
          surface.fillRect(frame * 3, 10, 20, 20)
          canvas.dataset['frame'] = String(++frame)
        })
      })
      await watchFrames(page)
      const times: number[] = []
      for (let i = 1; i <= 160; i++) {
        times.push(await timeTo(page, '.', i, 'shown'))
        await page.waitForTimeout(40 + ((i * 7) % 16))
      }
      return { milliseconds: p95(times), 'median, ms': median(times) }
    } finally {
      await browser.close()
    }
  },
}

/// Steps of one frame, on and back, on frames that are ready.
export async function stepTimes(page: Page, frames: readonly number[], steps: number): Promise<number[]> {
  const times: number[] = []
  for (const at of frames) {
    await timeTo(page, ']', at, 'thirty')
    await page.waitForTimeout(600)
    let frame = at
    for (let i = 0; i < steps; i++) {
      const by = i < steps / 2 ? 1 : -1
      times.push(await timeTo(page, by > 0 ? '.' : ',', (frame += by), 'shown'))
      await page.waitForTimeout(40 + ((i * 7) % 16))
    }
  }
  return times
}

export const lookAtFrames: Comparison = {
  name: 'look-at-frames',
  question:
    'From a key to the frame on the screen, 95th percentile of the keys, on a film of 1080p at 60 frames a second with a key frame every 250 and 12 followed points: the Bench, against a bare page that draws one ready picture at each key.',
  rounds: 3,
  async prepare(folder) {
    await makeLongFilm(folder)
    await withStandIn(folder, 'looked.claimframe', () => createProject(join(folder, 'looked.claimframe'), breakdown))
  },
  contenders: [
    barePage,
    {
      name: 'a step on ready frames',
      wanted: { milliseconds: 25 },
      run: (folder) =>
        withWindow(folder, 'looked.claimframe', async (page, file) => {
          await openBench(page, file, 0, 12)
          await watchFrames(page)
          const times = await stepTimes(page, events.slice(0, 10), 20)
          return { milliseconds: p95(times), 'median, ms': median(times), steps: times.length }
        }),
    },
    jumping('a jump to an event: small picture', 'shown', 120),
    jumping('a jump to an event: whole picture', 'whole', 800),
    jumping('ten frames ready on either side', 'ten', 1000),
    jumping('thirty frames ready on either side', 'thirty', 5000),
  ],
}
