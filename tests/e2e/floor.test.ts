import { join } from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Point } from '../../app/project/fields'
import { pinhole } from '../../demo-data/mocap/camera'
import { fileUrl } from '../../main/media/file-url'
import { runFfmpeg } from '../../main/media/process'
import { seeded } from '../outside/measure/random'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'
import { greyPicture, paintSpot, spotHand } from './painted-spots'

/// From marks painted on a floor to how far a foot stepped on it, in metres, by an automated pointer. The film is painted here
/// by a known camera; the hand goes to the spots that the screen shows, a little beside each as a hand does, and what the window
/// says is held against the floor's own metres.

const [WIDTH, HEIGHT] = [1280, 720]
const SIZE = { width: WIDTH, height: HEIGHT }
const camera = pinhole({ position: [2.5, 5.2, 12], target: [0.2, 0, 0.1], focal_px: 1250, width: WIDTH, height: HEIGHT, roll_deg: 1.5 })
const project = ([x, z]: Point): Point => {
  const at = camera.project([x, 0, z])
  return [at.x, at.y]
}
/// Across and along the floor, metres.
const marks: readonly Point[] = [
  [-3, -2],
  [3, -2],
  [3, 2],
  [-3, 2],
  [0, -2],
  [0, 2],
  [-3, 0],
]
/// Toes where they stand: the line is frozen on frame 2, and the left foot of the first has stepped off it by frame 12.
const [LINE, STEPPED] = [2, 12]
const toes: Readonly<Record<string, readonly [Point, Point]>> = {
  s1: [
    [-1.5, 0.55],
    [-1.2, 0.15],
  ],
  s2: [
    [1.4, -0.1],
    [1.6, -0.5],
  ],
}
const stepped: Point = [-1.05, 1.2]
const middleOf = ([a, b]: readonly [Point, Point]): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
const [A, B] = [middleOf(toes['s1']!), middleOf(toes['s2']!)]
const truth = Math.abs((B[0] - A[0]) * (stepped[1] - A[1]) - (B[1] - A[1]) * (stepped[0] - A[0])) / Math.hypot(B[0] - A[0], B[1] - A[1])

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'On the floor',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'floor.mp4' }],
  subjects: [
    { id: 's1', name: 'Nela Varga' },
    { id: 's2', name: 'Ida Koss' },
  ],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 16, capture: { factor: '1', u: 0 }, name: 'balcony' }],
  events: [{ id: 'e1', clip: 'c1', name: 'load', earliest: LINE, latest: LINE }],
  landmarks: [],
  script: [{ id: 'p1', text: ['She steps off the line.'], shots: [] }],
}

/// The floor as the camera shows it on a frame: grey, with round spots of 5 cm where marks are painted and toes are.
function painted(frame: number): Uint8Array {
  const picture = greyPicture(SIZE)
  const spots = [...marks, ...(frame < STEPPED ? Object.values(toes).flat() : [stepped])]
  for (const [x, z] of spots) {
    const [px, py] = project([x, z])
    const rim = Array.from({ length: 24 }, (_, i) =>
      project([x + 0.05 * Math.cos((i * Math.PI) / 12), z + 0.05 * Math.sin((i * Math.PI) / 12)]),
    )
    const [a, b] = [0, 1].map((axis) => Math.max(...rim.map((p) => Math.abs(p[axis as 0 | 1] - [px, py][axis]!)))) as [number, number]
    paintSpot(picture, SIZE, [px, py], [a, b])
  }
  return picture
}

let window: PatternWindow
let page: Page
const random = seeded(12)
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
          `${WIDTH}x${HEIGHT}`,
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
          fileUrl(join(folder, 'floor.mp4')),
        ],
        { stdin: Array.from({ length: 16 }, (_, i) => painted(i)) },
      ).then(() => undefined),
  })
  page = window.page
  hand = spotHand(page, SIZE, project, random)
})
afterAll(async () => window?.close())

const tables = () => window.engine.workspace.opened.project.state.tables
let hand: ReturnType<typeof spotHand<Point>>
const stage = (): Locator => hand.stage()
const button = (name: string): Locator => hand.button(name)
const place = (begins: string, places: readonly Point[]): Promise<void> => hand.place(begins, places)
const stands = (frame: number): Promise<void> =>
  page.locator(`.bench-canvas[data-frame="${frame}"][data-detail="full"]`).waitFor({ timeout: 20_000, state: 'attached' })
const goTo = async (frame: number): Promise<void> => {
  await page.getByLabel('Frame of the clip').fill(String(frame))
  await page.keyboard.press('Enter')
  await stands(frame)
}
const look = async (name: string): Promise<void> => {
  if (process.env['CLAIMFRAME_LOOK']) await page.screenshot({ path: join(process.env['CLAIMFRAME_LOOK'], `${name}.png`) })
}

const say = async (mark: number, [across, along]: Point): Promise<void> => {
  await page.getByLabel(`Mark ${mark}, across`).fill(String(across))
  await page.getByLabel(`Mark ${mark}, along`).fill(String(along))
}

it('should take a floor of seven marks, tell how far each is off, and name the one whose place is mistyped', async () => {
  await button('Bench').click()
  await stands(0)
  await stage().focus()
  await page.keyboard.press('v')
  await page.getByLabel('it stood still in this clip').check()
  await place('Place the four marks', marks.slice(0, 4))
  for (const [i, at] of marks.slice(0, 4).entries()) await say(i + 1, at)
  await page.getByText('Four marks always fit.', { exact: false }).waitFor()
  for (const [i, at] of marks.slice(4).entries()) {
    await place('Add a mark', [at])
    await say(i + 5, i === 1 ? [at[0], at[1] - 1] : at)
  }
  await page.getByText(/^Mark 6 lies (1\.\d|0\.9)\d m from where the others put it\./).waitFor()
  await page.getByText(/^Mark 6 lies/).scrollIntoViewIfNeeded()
  await look('floor-mark-astray')
  expect(await barriersOn(page)).toEqual([])
  await say(6, marks[5]!)
  await page.getByText(/^The marks are 0\.0\d m off in the mean, which their placing explains\.$/).waitFor()
  const offs = await page.locator('.floor-marks .figures').allTextContents()
  expect(offs).toHaveLength(7)
  for (const off of offs) expect(off).toMatch(/^0\.0\d m$/)
  await look('floor-of-seven')
  await button('State the floor').click()
  await expect
    .poll(() =>
      tables()
        .clips.get('c1')
        ?.hall?.floor?.marks.map(({ at }) => at),
    )
    .toEqual(marks)
  await button('Take mark 7 away').click()
  await button('State the floor').click()
  await expect.poll(() => tables().clips.get('c1')?.hall?.floor?.marks.length).toBe(6)
  await stage().focus()
  await page.keyboard.press('Control+z')
  await page.getByLabel('Mark 7, across').waitFor()
  await expect.poll(() => tables().clips.get('c1')?.hall?.floor?.marks.length).toBe(7)
})

it('should keep a mark that was added and not stated while the sheet is closed', async () => {
  await button('Add a mark').click()
  await page.getByText('click, or Enter').waitFor()
  await page.getByLabel('Mark 8, across').fill('1.25')
  await button('Close View').click()
  await page.getByLabel('Mark 8, across').waitFor({ state: 'detached' })
  await page.keyboard.press('Escape')
  await page.locator('.guide').getByText('placing of three').waitFor({ state: 'detached' })
  await page.keyboard.press('v')
  await page.getByText('Changed here, and not stated yet.').waitFor()
  expect(await page.getByLabel('Mark 8, across').inputValue()).toBe('1.25')
  expect(await barriersOn(page)).toEqual([])
  await look('floor-not-stated')
  await button('As it was stated').click()
  await page.getByLabel('Mark 8, across').waitFor({ state: 'detached' })
  expect(tables().clips.get('c1')?.hall?.floor?.marks.length).toBe(7)
})

it('should say that each mark was placed three times, and place them anew where that is asked for', async () => {
  const placings = (): number =>
    (window.engine.workspace.opened.project.breakdown().landmarks ?? [])
      .filter(({ point }) => point.startsWith('floor.'))
      .flatMap(({ samples }) => samples)
      .filter(({ frame }) => frame === 0).length
  expect(placings()).toBe(21)
  await page.getByText('Each mark is placed three times on this frame.', { exact: false }).waitFor()
  await look('floor-placed-out')
  await button('Place the marks anew').click()
  await page.locator('.guide').getByText('first placing of three').waitFor()
  await expect.poll(placings).toBe(0)
  await stage().focus()
  await page.keyboard.press('Control+z')
  await expect.poll(placings).toBe(21)
  await page.getByText('Each mark is placed three times on this frame.', { exact: false }).waitFor()
  // Escape closes the sheet, then leaves the placing off.
  await page.keyboard.press('Escape')
  await page.keyboard.press('Escape')
  await page.locator('.guide').getByText('placing of three').waitFor({ state: 'detached' })
})

it('should say how far a foot stepped off the line, in metres with its error, as the painted floor has it', async () => {
  await page.keyboard.press('m')
  await page.getByLabel('I want to say').selectOption('off line')
  await page.getByLabel('The foot stands flat on the floor').check()
  await goTo(LINE)
  await place('Place its points', toes['s1']!)
  await page.locator('.guide select').first().selectOption({ label: 'Ida Koss' })
  await place('Place its points', toes['s2']!)
  await page.locator('.guide select').first().selectOption({ label: 'Nela Varga' })
  await goTo(STEPPED)
  await place('Place its points', [stepped])
  const told = page.locator('.sheet form .told')
  await told.getByText('left toe off the line, on the floor').waitFor()
  await look('floor-foot')
  const [, value, error] = /^(\d+\.\d+) ± (\d+\.\d+) m left toe off the line, on the floor/.exec((await told.innerText()).trim()) ?? []
  console.info(`off the line: ${value} ± ${error} m, painted ${truth.toFixed(3)} m`)
  expect(Math.abs(Number(value) - truth)).toBeLessThan(Number(error))
  expect(Number(error)).toBeLessThan(0.2)
  expect(await barriersOn(page)).toEqual([])
  await button('Keep it').click()
  await page.locator('.sheet li.chosen').getByText('left toe off the line', { exact: false }).first().waitFor()
  expect([...tables().measures.list()]).toMatchObject([{ kind: 'step-off-line', frame: STEPPED, planted: true }])
  expect(window.faults).toEqual([])
})

it('should tell the camera’s elevation and a person’s yaw from the floor, and put neither in the place of what is stated until it is asked to', async () => {
  const [from, to]: readonly [Point, Point] = [marks[6]!, marks[5]!]
  const DEGREES = 180 / Math.PI
  const elevation = Math.atan2(camera.position[1], Math.hypot(camera.position[0] - stepped[0], camera.position[2] - stepped[1])) * DEGREES
  const towards = [camera.position[0] - (from[0] + to[0]) / 2, camera.position[2] - (from[1] + to[1]) / 2] as const
  const way = [to[0] - from[0], to[1] - from[1]] as const
  // The camera stands on the side of growing "along" and sees "across" grow to its right.
  const yaw = Math.atan2(way[0] * towards[0] + way[1] * towards[1], way[0] * towards[1] - way[1] * towards[0]) * DEGREES
  await stage().focus()
  await page.keyboard.press('v')
  await page.getByLabel('Elevation, degrees above level').fill('20')
  await page.getByLabel('± (1 σ)').nth(1).fill('4')
  await button('State it').click()
  const view = () => tables().views.list()[0]
  await expect.poll(() => view()?.elevation).toEqual({ deg: 20, u: 4 })
  const says = page.getByText('the camera looks down on the middle of the points placed by', { exact: false })
  const angleOf = async (sentence: Locator): Promise<readonly [number, number]> => {
    const [, deg, u] = /(−?\d+\.\d)° ± (\d+\.\d)°/.exec(await sentence.innerText()) ?? []
    return [Number(deg?.replace('−', '-')), Number(u)]
  }
  const [found, u] = await angleOf(says)
  await place('Place a line on the floor along which they face', [from, to])
  const turned = page.getByText('that line is turned by', { exact: false })
  const [foundYaw, uYaw] = await angleOf(turned)
  console.info(`elevation ${found} ± ${u}°, painted ${elevation.toFixed(1)}°; yaw ${foundYaw} ± ${uYaw}°, painted ${yaw.toFixed(1)}°`)
  expect(Math.abs(found - elevation)).toBeLessThan(2 * u)
  expect(u).toBeLessThan(2)
  // Most of yaw's error is how well a line tells how somebody faces; this one is painted.
  expect(Math.abs(foundYaw - yaw)).toBeLessThan(2)
  expect(uYaw).toBeGreaterThanOrEqual(5)
  await says.scrollIntoViewIfNeeded()
  await look('from-the-floor')
  expect(await barriersOn(page)).toEqual([])
  await page.getByText('Stated: 20.0° ± 4°. Taking it puts this in its place.').waitFor()
  expect(view()).toMatchObject({ elevation: { deg: 20, u: 4 } })
  expect(view()?.yaw).toBeUndefined()
  await button('Take it as the elevation').click()
  await expect.poll(() => view()?.elevation).toEqual({ deg: found, u })
  await button('Take it as the yaw').click()
  await expect.poll(() => view()?.yaw).toEqual({ deg: foundYaw, u: uYaw })
  await stage().focus()
  await page.keyboard.press('Control+z')
  await page.keyboard.press('Control+z')
  await expect.poll(() => [view()?.elevation, view()?.yaw]).toEqual([{ deg: 20, u: 4 }, undefined])
  expect(window.faults).toEqual([])
})
