import { readFile } from 'node:fs/promises'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Landmark } from '../../app/project/film'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { barriersOn } from './barriers'

/// Curves on the Bench: smoothed at two cut-offs, peaks, another clip's curve over it with what may be said, saved as files.

/// A knee that bends and straightens about its clip's frame 60, by so many degrees.
const knee = (clip: string, middle: number, depth: number): Landmark[] =>
  (['hip.left', 'knee.left', 'ankle.left'] as const).map((point) => ({
    clip,
    subject: 's1',
    point,
    samples: Array.from({ length: 61 }, (_, i) => {
      const frame = middle - 30 + i
      const bend = ((170 - depth * Math.exp(-(((i - 30) / 9) ** 2))) * Math.PI) / 180
      const at: [number, number] =
        point === 'hip.left'
          ? [600, 200]
          : point === 'knee.left'
            ? [600, 400]
            : [600 + 200 * Math.sin(Math.PI - bend), 400 + 200 * Math.cos(Math.PI - bend)]
      return { frame, at, sigma: 3, origin: i % 30 === 0 ? 'placed' : 'tracked' }
    }),
  }))
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two knees',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 120, capture: { factor: '1', u: 0 }, name: 'first evening' },
    { id: 'c2', footage: 'f1', from: 0, to: 120, capture: { factor: '1', u: 0 }, name: 'second evening' },
  ],
  views: ['c1', 'c2'].map((clip) => ({ clip, subject: 's1', from: 0, to: 120, lead: 'left' as const, yaw: { deg: 5, u: 3 } })),
  events: [
    { id: 'e1', clip: 'c1', name: 'load', earliest: 60, latest: 60 },
    { id: 'e2', clip: 'c2', name: 'load', earliest: 50, latest: 50 },
  ],
  landmarks: [...knee('c1', 60, 60), ...knee('c2', 50, 20)],
  measures: [
    { id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 60, points: ['hip.left', 'knee.left', 'ankle.left'] },
    { id: 'm2', kind: 'joint-angle', clip: 'c2', subject: 's1', frame: 50, points: ['hip.left', 'knee.left', 'ankle.left'] },
    {
      id: 'm3',
      kind: 'path',
      clip: 'c1',
      subject: 's1',
      points: ['ankle.left'],
      unit: { points: ['hip.left', 'knee.left'], frame: 60, name: 'thigh lengths' },
      fromFrame: 40,
      toFrame: 80,
    },
    { id: 'm4', kind: 'peak-time', clip: 'c1', subject: 's1', points: ['knee.left', 'ankle.left'], sign: '+', fromFrame: 40, toFrame: 80 },
  ],
  script: [{ id: 'p1', text: ['Two knees.'], shots: [] }],
}

let window: PatternWindow
let page: Page
beforeAll(async () => {
  window = await openPatternWindow({ films: { 'bout.mp4': { frames: 120, rate: '120', width: 1280, height: 720, gop: 60 } }, breakdown })
  page = window.page
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.getByLabel('Frame of the clip').fill('60')
  await page.locator('.bench-canvas[data-frame="60"][data-detail="full"]').waitFor({ state: 'attached' })
  await page.locator('.curve.smooth').first().waitFor({ state: 'attached' })
})
afterAll(async () => window?.close())

it('should tell the lowest point of the smoothed curve with its error, and have no barrier', async () => {
  expect(await page.locator('.time-strip svg .event-name', { hasText: '±' }).textContent()).toMatch(/^1[01]\d° ± \d+°$/)
  expect(await barriersOn(page)).toEqual([])
})

it('should lay the other clip’s curve over it on their shared event, and say that they differ', async () => {
  const others = page.getByLabel('Lay another clip’s curve over it')
  await expect
    .poll(() => others.locator('option').allInnerTexts())
    .toEqual(['beside: none', expect.stringMatching(/^second evening · frame 50 · 150° ± \d+°$/)])
  await others.selectOption('m2')
  await page.locator('.curve.beside').waitFor({ state: 'attached' })
  await page.getByText(/^at load: −\d+° ± \d+°, differs \(beyond our error\)/).waitFor()
  expect(await page.locator('.band.beside').count()).toBe(1)
})

it('should save the curve as outlines, as a picture and as values', async () => {
  const saved = async (kind: string): Promise<Buffer> => {
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: `Save the curve as ${kind}` }).click(),
    ])
    expect(file.suggestedFilename()).toBe(`curve-m1.${kind.toLowerCase()}`)
    return readFile(await file.path())
  }
  const svg = (await saved('SVG')).toString()
  expect(svg).toContain('<title>')
  // Both curves' bands, and the other's colour.
  expect(svg.match(/fill-opacity="0\.(3|16)"/g)).toHaveLength(2)
  expect(svg).toContain('#8f4a00')
  expect([...(await saved('PNG')).subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])
  const rows = (await saved('CSV')).toString().trim().split('\r\n')
  expect(rows.length).toBe(123)
  expect(rows[31]).toMatch(/^first evening,load,60\.0000,60,0\.500000,1\d\d\.\d{4},/)
  expect(rows[92]).toMatch(/^second evening,load,60\.0000,50,0\.416667,1\d\d\.\d{4},/)
  expect(window.faults).toEqual([])
})

it('should draw a path as it grows, and the rate whose peak is asked for with the peak in its bracket', async () => {
  await page.locator('.stage').focus()
  await page.keyboard.press('m')
  const sheet = page.getByRole('region', { name: 'Measures' })
  const values = async (): Promise<string[][]> => {
    const [file] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save the curve as CSV' }).click()])
    return (await readFile(await file.path()))
      .toString()
      .trim()
      .split('\r\n')
      .map((row) => row.split(','))
  }
  await sheet.locator('.entry', { hasText: 'path of' }).click()
  await page.getByText('path of lead ankle across the image').first().waitFor()
  await page.getByText('in thigh lengths; band: 95 %; dotted: a lower cut-off').waitFor()
  const [head, ...path] = await values()
  expect(head!.slice(0, 4)).toEqual(['frame', 'file_seconds', 'value_thigh_lengths', 'low_95'])
  expect(path.map(([frame]) => Number(frame))).toEqual(Array.from({ length: 40 }, (_, i) => 41 + i))
  path.slice(1).forEach((row, i) => expect(Number(row[2])).toBeGreaterThanOrEqual(Number(path[i]![2])))
  expect(await page.locator('.event-band.instant').count()).toBe(0)
  await sheet.locator('.entry', { hasText: 'peak rate' }).click()
  await page.locator('.event-band.instant').waitFor({ state: 'attached' })
  await page.getByText(/^apparent rate of .*, turns fastest 0\.\d+ s ± 0\.\d+ s after frame 40$/).waitFor()
  const [rateHead, ...rates] = await values()
  expect(rateHead![2]).toBe('value_deg_s')
  expect(rates).toHaveLength(41)
  await sheet.locator('.entry', { hasText: 'knee angle' }).click()
  await page.getByRole('button', { name: 'Close Measures' }).click()
  await page.locator('.curve.beside').waitFor({ state: 'attached' })
  expect(window.faults).toEqual([])
})

it('should show the picture brighter and with more contrast, and measure the same', async () => {
  await page.locator('.stage').focus()
  await page.keyboard.press('v')
  const bench = page.locator('.bench-canvas')
  /// Mean and spread of the light on the canvas; what is drawn over the picture stays as it is.
  const light = (): Promise<{ mean: number; spread: number }> =>
    bench.evaluate((element) => {
      const canvas = element as HTMLCanvasElement
      const copy = new OffscreenCanvas(canvas.width, canvas.height).getContext('2d')!
      copy.drawImage(canvas, 0, 0)
      const { data } = copy.getImageData(0, 0, canvas.width, canvas.height)
      let [sum, squares] = [0, 0]
      for (let i = 0; i < data.length; i += 4) {
        sum += data[i + 1]!
        squares += data[i + 1]! ** 2
      }
      const [n, mean] = [data.length / 4, sum / (data.length / 4)]
      return { mean, spread: Math.sqrt(squares / n - mean * mean) }
    })
  const readings = (): Promise<(string | null)[]> => page.locator('.strip-words').allTextContents()
  const stored = (): string =>
    JSON.stringify(
      ['measures', 'landmarks'].map((table) => window.engine.workspace.opened.project.state.tables[table as 'measures'].list()),
    )
  const [before, said, kept] = [await light(), await readings(), stored()]
  const set = async (name: string, value: string): Promise<void> => page.getByLabel(name).fill(value)
  await set('Brightness', '0.5')
  await expect.poll(async () => (await light()).mean).toBeLessThan(0.75 * before.mean)
  await set('Brightness', '1')
  await expect.poll(async () => (await light()).mean).toBeCloseTo(before.mean, 0)
  await set('Contrast', '0.5')
  await expect.poll(async () => (await light()).spread).toBeLessThan(0.9 * before.spread)
  expect(await readings()).toEqual(said)
  expect(stored()).toBe(kept)
  await set('Contrast', '1')
  await page.getByRole('button', { name: 'Close View' }).click()
  expect(window.faults).toEqual([])
})

it('should put the curve into the film as a card, by key and by button, once, and take it back in one step', async () => {
  await page.locator('.stage').focus()
  await page.keyboard.press('f')
  await page.getByText('The curve stands behind the pictures of “Two knees.”.').waitFor()
  await page.getByRole('button', { name: 'Undo Put the curve into the film' }).waitFor()
  await page.getByRole('button', { name: 'Put the curve into the film', exact: true }).click()
  await page.getByText('The curve is a picture of “Two knees.” already.').waitFor()
  await page.getByRole('button', { name: 'Script', exact: true }).click()
  await page.locator('.words p[data-paragraph="p1"]').click({ position: { x: 20, y: 10 } })
  const picture = page.locator('canvas.picture')
  await picture.waitFor()
  const shots = () => window.engine.workspace.opened.project.state.tables.paragraphs.get('p1')
  expect(JSON.stringify(shots())).toContain('{"card":"curve","measure":"m1","beside":"m2","on":"load"}')
  const ofTheCurve = (): Promise<number> =>
    picture.evaluate((element) => {
      const canvas = element as HTMLCanvasElement
      const copy = new OffscreenCanvas(canvas.width, canvas.height).getContext('2d')!
      copy.drawImage(canvas, 0, 0)
      const { data } = copy.getImageData(0, 0, canvas.width, canvas.height)
      let found = 0
      for (let i = 0; i < data.length; i += 4) if (data[i + 2]! > data[i]! + 40) found++
      return found
    })
  await expect.poll(ofTheCurve).toBeGreaterThan(100)
  await page.keyboard.press('Control+z')
  await expect.poll(ofTheCurve).toBeLessThan(100)
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  await page.locator('.curve.smooth').first().waitFor({ state: 'attached' })
  expect(window.faults).toEqual([])
})

it('should set the other clip beside it, locked on their event, each steppable alone', async () => {
  await page.locator('.stage').focus()
  await page.keyboard.press('d')
  const stands = (frame: number, beside: number | ''): Promise<void> =>
    page.locator(`.bench-canvas[data-frame="${frame}"][data-beside="${beside}"]`).waitFor({ state: 'attached' })
  await stands(60, 50)
  await page.keyboard.press('.')
  await stands(61, 51)
  await page.keyboard.press('>')
  await stands(61, 52)
  await page.getByText('second evening · frame 52 · locked on load, 1 frame on').waitFor()
  await page.keyboard.press('d')
  await stands(61, '')
  expect(window.faults).toEqual([])
})

it('should run a stretch over and over', async () => {
  await page.getByLabel('Frame of the clip').fill('10')
  await page.locator('.stage').focus()
  await page.keyboard.press('o')
  await page.keyboard.press('PageDown')
  await page.keyboard.press('o')
  await page.getByText('Runs over and over from frame 10 to 20.').waitFor()
  await page.locator('.bench-canvas[data-frame="10"][data-detail="full"]').waitFor({ state: 'attached' })
  await page.keyboard.press('Shift+Space')
  const seen = await page.evaluate(async () => {
    const frames: number[] = []
    const began = performance.now()
    // For a while, and on a busy machine until it has begun again twice.
    for (
      let again = 0;
      performance.now() < began + 900 || (again < 2 && performance.now() < began + 120_000);
      await new Promise(requestAnimationFrame)
    ) {
      const frame = Number(document.querySelector<HTMLElement>('.bench-canvas')?.dataset['frame'])
      if (frame < (frames.at(-1) ?? 0)) again++
      frames.push(frame)
    }
    return frames
  })
  await page.keyboard.press('Space')
  expect(Math.min(...seen)).toBeGreaterThanOrEqual(10)
  expect(Math.max(...seen)).toBeLessThanOrEqual(20)
  expect(seen.filter((frame, i) => i > 0 && frame < seen[i - 1]!).length).toBeGreaterThanOrEqual(2)
})
