import { join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Point } from '../../app/project/fields'
import { fileUrl } from '../../main/media/file-url'
import { runFfmpeg } from '../../main/media/process'
import { seeded } from '../outside/measure/random'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { cameraMatrix, putBy } from '../pinhole-matrix'
import { barriersOn } from './barriers'
import { keyHand } from './hand'
import { greyPicture, paintSpot, spotHand } from './painted-spots'

/// From the edges of a mat and two posts, drawn on the picture, to how the camera looks at who stands on it, by an automated pointer
/// and by keys alone. The film is painted here by a known camera, and what the window says is held against its own angles.

type Place = readonly [number, number, number]
const SIZE = { width: 1280, height: 720 }
const camera = { stands: [-5.4, -8.6, 5], heading: 31, elevation: 24, roll: 2, focal: 880, middle: [640, 360] } as const
const project = (place: Place): Point => putBy(cameraMatrix(camera), place)!

const edges: readonly Place[] = [
  [-3, 3, 0],
  [3, 3, 0],
  [-3, -3, 0],
  [3, -3, 0],
  [3, -3, 0],
  [3, 3, 0],
  [-3, -3, 0],
  [-3, 3, 0],
]
const posts: readonly Place[] = [
  [-3, 3, 0],
  [-3, 3, 1.6],
  [3, 3, 0],
  [3, 3, 1.6],
]
const hips: Place = [0.2, 0.1, 0.95]
const faces: readonly Place[] = [
  [-0.5, -0.6, 0],
  [0.9, -0.2, 0],
]

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'In the ring',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'ring.mp4' }],
  subjects: [
    { id: 's1', name: 'Nela Varga' },
    { id: 's2', name: 'Ida Koss' },
  ],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 16, capture: { factor: '1', u: 0 }, name: 'gallery' }],
  events: [],
  landmarks: [{ clip: 'c1', subject: 's1', point: 'hip.mid', samples: [{ frame: 0, at: [...project(hips)] }] }],
  script: [{ id: 'p1', text: ['She turns her back foot.'], shots: [] }],
}

/// The hall as the camera shows it: grey, with a spot wherever an edge or a post ends, and a faint line between.
function painted(): Uint8Array {
  const picture = greyPicture(SIZE)
  for (const [from, to] of [...edges, ...posts].flatMap((place, i, all) => (i % 2 === 0 ? [[place, all[i + 1]!] as const] : [])))
    for (let t = 0; t <= 1; t += 0.001) {
      const [x, y] = project([0, 1, 2].map((k) => from[k]! + t * (to[k]! - from[k]!)) as unknown as Place)
      picture[Math.floor(y) * SIZE.width + Math.floor(x)] = 90
    }
  for (const place of [...edges, ...posts, ...faces]) paintSpot(picture, SIZE, project(place), [5, 5])
  return picture
}

let window: PatternWindow
let page: Page
let hand: ReturnType<typeof spotHand<Place>>
beforeAll(async () => {
  window = await openPatternWindow({
    films: {},
    breakdown,
    more: (folder, tool) =>
      runFfmpeg(
        tool,
        [
          '-v',
          'error',
          '-f',
          'rawvideo',
          '-pix_fmt',
          'gray',
          '-s',
          `${SIZE.width}x${SIZE.height}`,
          '-r',
          '30',
          '-i',
          'pipe:0',
          '-vf',
          'scale=in_range=tv:out_range=tv,format=yuv420p',
          '-c:v',
          'libx264',
          '-crf',
          '4',
          fileUrl(join(folder, 'ring.mp4')),
        ],
        { stdin: Array.from({ length: 16 }, painted) },
      ).then(() => undefined),
  })
  page = window.page
  hand = spotHand(page, SIZE, project, seeded(5))
})
afterAll(async () => window?.close())

const tables = () => window.engine.workspace.opened.project.state.tables
const view = () => tables().views.list()[0]
const placings = (kind: string): number =>
  (window.engine.workspace.opened.project.breakdown().landmarks ?? [])
    .filter(({ point }) => point.startsWith(kind))
    .flatMap(({ samples }) => samples).length
const look = async (name: string): Promise<void> => {
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], `${name}.png`) })
}
const angleOf = async (sentence: Locator): Promise<readonly [number, number]> => {
  const [, deg, u] = /(−?\d+\.\d)° ± (\d+\.\d)°/.exec(await sentence.innerText()) ?? []
  return [Number(deg?.replace('−', '-')), Number(u)]
}
const DEGREES = 180 / Math.PI
const [cx, cy] = [camera.stands[0] - hips[0], camera.stands[1] - hips[1]]
const truth = { elevation: Math.atan2(camera.stands[2] - hips[2], Math.hypot(cx, cy)) * DEGREES, roll: camera.roll }

it('should tell elevation and roll from a mat’s edges and posts that are drawn, better with every line, and take them by a press each', async () => {
  await hand.button('Bench').click()
  await page.locator('.bench-canvas[data-frame="0"][data-detail="full"]').waitFor({ timeout: 20_000, state: 'attached' })
  await hand.stage().focus()
  await page.keyboard.press('v')
  await hand.place('Draw two lines each way', edges)
  const says = page.getByText('the camera looks down on the middle of the hips by', { exact: false })
  const [, rough] = await angleOf(says)
  await hand.place('Draw a line upright', posts.slice(0, 2))
  await hand.place('Draw a line upright', posts.slice(2))
  const [elevation, uElevation] = await angleOf(says)
  const turned = page.getByText('the camera is turned clockwise by', { exact: false })
  const [roll, uRoll] = await angleOf(turned)
  console.info(
    `elevation ${elevation} ± ${uElevation}° (two edges each way: ± ${rough}°), painted ${truth.elevation.toFixed(1)}°; roll ${roll} ± ${uRoll}°, painted ${truth.roll}°`,
  )
  expect(Math.abs(elevation - truth.elevation)).toBeLessThan(2 * uElevation)
  expect(Math.abs(roll - truth.roll)).toBeLessThan(2 * uRoll)
  expect(uElevation).toBeLessThanOrEqual(rough)
  expect(uElevation).toBeLessThan(2)
  await page.getByRole('heading', { name: 'Lines at right angles' }).scrollIntoViewIfNeeded()
  await look('lines-drawn')
  expect(await barriersOn(page)).toEqual([])
  expect([view(), tables().clips.get('c1')?.roll]).toEqual([undefined, undefined])
  await hand.button('Take it as the elevation').click()
  await expect.poll(() => view()?.elevation).toEqual({ deg: elevation, u: uElevation })
  await hand.button('Take the lines’ roll').click()
  await expect.poll(() => tables().clips.get('c1')?.roll).toEqual({ deg: roll, u: uRoll })
  await turned.scrollIntoViewIfNeeded()
  await look('from-the-lines')
  await hand.stage().focus()
  await page.keyboard.press('Control+z')
  await expect.poll(() => [view()?.elevation?.deg, tables().clips.get('c1')?.roll]).toEqual([elevation, undefined])
})

it('should tell a person’s yaw from the lines and a line along which they face', async () => {
  await hand.place('Place a line on the floor along which they face', faces)
  const [yaw, u] = await angleOf(page.getByText('that line is turned by', { exact: false }))
  const [from, to] = faces as [Place, Place]
  const way = [to[0] - from[0], to[1] - from[1]] as const
  const towards = [camera.stands[0] - (from[0] + to[0]) / 2, camera.stands[1] - (from[1] + to[1]) / 2] as const
  const painted = Math.atan2(way[0] * towards[0] + way[1] * towards[1], way[0] * -towards[1] + way[1] * towards[0]) * DEGREES
  console.info(`yaw ${yaw} ± ${u}°, painted ${painted.toFixed(1)}°`)
  // Most of its error is how well a line tells how somebody faces; this one is painted.
  expect(Math.abs(yaw - painted)).toBeLessThan(3)
  await hand.button('Take it as the yaw').click()
  await expect.poll(() => view()?.yaw).toEqual({ deg: yaw, u })
  await page.getByText('that line is turned by', { exact: false }).scrollIntoViewIfNeeded()
  await look('lines-yaw')
})

it('should draw a line, take it away and take a view over by keys alone, each as one edit', async () => {
  const keys = keyHand(page)
  const upright = placings('upright.')
  await keys.press(hand.button('Draw a line upright'))
  await page.getByText('line 3 upright, first end', { exact: false }).waitFor()
  await page.locator('.guide').getByText('of a post or another upright edge').waitFor()
  await page.keyboard.press('Enter')
  await page.getByText('arrow keys: a quarter pixel').waitFor()
  await page.keyboard.press(' ')
  await page.getByText('line 3 upright, second end', { exact: false }).waitFor()
  for (let i = 0; i < 16; i++) await page.keyboard.press('Shift+ArrowUp')
  await page.keyboard.press('Enter')
  await expect.poll(() => placings('upright.')).toBe(upright + 2)
  // Leaves the sheet, then the placing; then on the sheet again.
  await page.keyboard.press('Escape')
  await page.keyboard.press('Escape')
  await page.locator('.guide').getByText('placing of three').waitFor({ state: 'detached' })
  await page.keyboard.press('v')
  await keys.press(hand.button('Take line 3 upright away'))
  await expect.poll(() => placings('upright.')).toBe(upright)
  await hand.stage().focus()
  await page.keyboard.press('Control+z')
  await expect.poll(() => placings('upright.')).toBe(upright + 2)
  await page.keyboard.press('Control+Shift+z')
  await expect.poll(() => placings('upright.')).toBe(upright)
  await keys.press(hand.button('Take the lines’ roll'))
  await expect.poll(() => Math.abs((tables().clips.get('c1')?.roll?.deg ?? 99) - truth.roll)).toBeLessThan(1)
  // Without its fourth edge nothing is told, and it is said why.
  await keys.press(hand.button('Take line 2 across away'))
  await page.locator('.stated').getByText('Fewer than two lines each way are drawn on this frame.', { exact: false }).waitFor()
  await page.getByText('Elevation: fewer than two lines each way', { exact: false }).waitFor()
  expect(await barriersOn(page)).toEqual([])
  await page.getByRole('heading', { name: 'Lines at right angles' }).scrollIntoViewIfNeeded()
  await look('lines-too-few')
  expect(window.faults).toEqual([])
})
