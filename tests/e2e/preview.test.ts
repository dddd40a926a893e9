import { copyFile, link, mkdir, readFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join, resolve } from 'node:path'
import { PNG } from 'pngjs'
import { ssim } from 'ssim.js'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readBreakdown } from '../../app/exchange/breakdown-reading'
import type { DrawContext } from '../../app/marks/draw-context'
import { firstValueShot } from '../../app/marks/draw-context'
import { drawnText } from '../../app/marks/drawn-text'
import { drawFrame } from '../../app/marks/frame-drawing'
import type { Shape } from '../../app/marks/shape'
import { measureContext } from '../../app/measure/context'
import { pictureAt } from '../../app/programme/picture-at'
import type { Breakdown } from '../../app/project/breakdown'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { filmFaces } from '../../main/render/faces'
import type { FilmPlan } from '../../main/render/film-plan'
import { apart, notePainting, paintedByPage, paintedByScript, readText } from '../painted-marks'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { eachFrame, renderDocument } from '../render/render-document'

/// What the window shows at rest against what is rendered, at sampled instants: alike by SSIM (Wang and others 2004, as
/// the library ssim.js has it) over the whole picture and within each label's plate, and of the same mean colour; labels say
/// the same, read from what was painted, and lines end within a pixel. On the
/// signer (a camera's grain and blur), and on any document that CLAIMFRAME_PREVIEW names, the demo's say.

const INSTANTS = 60
/// A film of minutes takes minutes to render.
const LIMIT_MS = 3_600_000
const signer = resolve('tests/data/video/asl_walk.mkv')

const points = [
  ['hip.left', [300, 300]],
  ['knee.left', [320, 380]],
  ['ankle.left', [300, 450]],
] as const
const signing: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'The signer',
  output: { width: 640, height: 480, rate: '30/1' },
  footage: [{ id: 'f1', file: 'asl_walk.mkv' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 0, to: 80, capture: { factor: '1', u: 0 }, name: 'plain' },
    { id: 'c2', footage: 'f1', from: 0, to: 80, capture: { factor: '1', u: 0 }, name: 'flipped', mirrored: true },
  ],
  views: [{ clip: 'c1', subject: 's1', from: 0, to: 80, lead: 'left', yaw: { deg: 5, u: 5 } }],
  events: [
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 40, latest: 40 },
    { id: 'e2', clip: 'c2', name: 'contact', earliest: 44, latest: 44 },
  ],
  landmarks: points.map(([point, at]) => ({
    clip: 'c1',
    subject: 's1',
    point,
    samples: [37, 38, 39, 40, 41].map((frame) => ({
      frame,
      at: [at[0] + (point === 'knee.left' ? 4 * (frame - 40) : 0), at[1]] as [number, number],
      sigma: 2,
    })),
  })),
  measures: [{ id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 40, points: ['hip.left', 'knee.left', 'ankle.left'] }],
  script: [
    {
      id: 'p1',
      text: [],
      shots: [
        {
          run: 'c1',
          from: 10,
          to: 50,
          speed: '1/2',
          marks: [
            {
              arrow: [
                [60, 60],
                [300, 200],
              ],
            },
            { word: 'a word', at: [80, 400] },
          ],
        },
        { hold: 'c1', at: 40, seconds: '1', marks: ['m1', { ring: [320, 200], radius: 60 }] },
      ],
    },
    {
      id: 'p2',
      text: [],
      shots: [
        {
          pair: [
            { clip: 'c1', event: 'e1' },
            { clip: 'c2', event: 'e2' },
          ],
          before: '1/2',
          after: '1/4',
          speed: '1/2',
          layout: 'beside',
          still: '1/2',
        },
        { hold: 'c1', at: 40, seconds: '1/2', frame: [160, 120, 320, 240], marks: ['m1'] },
        { card: 'caution', seconds: '1/2' },
        { card: 'curve', measure: 'm1', seconds: '1/2' },
      ],
    },
  ],
}

const subjects: { name: string; document: () => Promise<{ breakdown: Breakdown; files: readonly string[]; from: string }> }[] = [
  { name: 'the signer', document: async () => ({ breakdown: signing, files: ['asl_walk.mkv'], from: dirname(signer) }) },
]
const further = process.env['CLAIMFRAME_PREVIEW']
if (further)
  subjects.push({
    name: further,
    document: async () => {
      const read = readBreakdown(await readFile(further, 'utf8'), further)
      if (!read.ok) throw read.error
      const takes = read.value.script.flatMap((row) => ('take' in row && row.take !== undefined ? [row.take] : []))
      return {
        breakdown: read.value,
        files: [
          ...read.value.footage.map(({ file }) => file),
          ...takes,
          ...(read.value.sound?.roomTone === undefined ? [] : [read.value.sound.roomTone]),
        ],
        from: dirname(resolve(further)),
      }
    },
  })

describe.each(subjects)('$name', ({ document }) => {
  let window: PatternWindow
  let breakdown: Breakdown
  let plan: FilmPlan
  let context: DrawContext
  let instants: number[]
  const rendered = new Map<number, Uint8Array>()

  beforeAll(async () => {
    const { breakdown: read, files, from } = await document()
    breakdown = read
    window = await openPatternWindow({
      films: {},
      breakdown,
      more: async (folder) => {
        for (const file of files) {
          await mkdir(dirname(join(folder, file)), { recursive: true })
          await link(join(from, file), join(folder, file)).catch(() => copyFile(join(from, file), join(folder, file)))
        }
      },
    })
    const tool = await findFfmpeg()
    const out = join(window.folder, 'film.mp4')
    plan = (await renderDocument(tool, breakdown, window.folder, { out, cache: join(tmpdir(), `preview-${process.pid}`) })).plan
    const { frames, width, height } = plan.programme
    instants = Array.from({ length: INSTANTS }, (_, i) => Math.floor(((i + 0.5) * frames) / INSTANTS))
    await notePainting(window.page)
    await eachFrame(tool, out, { width, height }, (pixels, n) => instants.includes(n) && rendered.set(n, Uint8Array.from(pixels)), 'rgb24')
    const { typeface } = await filmFaces()
    context = {
      measures: measureContext(breakdown, (footage) => plan.films.get(footage)?.table ?? null),
      readings: plan.readings,
      typeface,
      width,
      height,
      explainsErrorAt: firstValueShot(plan.programme, plan.readings),
    }
  }, LIMIT_MS)
  afterAll(async () => window?.close())

  it(
    'should look as it will be rendered',
    async () => {
      const { page } = window
      // The labels say what was measured: once it is known here.
      if (breakdown.measures?.length) {
        await page.getByRole('button', { name: 'Evidence', exact: true }).click()
        await page.locator('.values tbody tr').first().waitFor()
        await page.getByRole('button', { name: 'Script', exact: true }).click()
      }
      const { width, height, paragraphs } = plan.programme
      const whole: number[] = []
      const plates: number[] = []
      const colours: number[] = []
      const ends: number[] = []
      const texts: string[] = []
      let hand = ''
      for (const at of instants) {
        const paragraph = paragraphs.find(({ from, to }) => at >= from && at < to)
        if (!paragraph) continue
        if (paragraph.id !== hand) await page.locator(`.words p[data-paragraph="${paragraph.id}"]`).click({ position: { x: 20, y: 20 } })
        hand = paragraph.id
        await page.locator(`.words p[data-paragraph="${hand}"].in-hand`).waitFor()
        await page.getByLabel('Place in this paragraph').fill(String(at))
        await page.locator(`canvas.picture[data-frame="${at}"][data-detail="full"]:not([data-waiting])`).waitFor()
        const address = await page.locator('canvas.picture').evaluate((canvas) => (canvas as HTMLCanvasElement).toDataURL('image/png'))
        const shown = PNG.sync.read(Buffer.from(address.slice(address.indexOf(',') + 1), 'base64'))
        expect([shown.width, shown.height]).toEqual([width, height])
        const film = withAlpha(rendered.get(at)!, width, height)
        whole.push(ssim(imageOf(shown), imageOf(film)).mssim)
        colours.push(...meanDifference(shown, film))
        const described = drawFrame(pictureAt(plan.programme, at), context)
        // What was painted, there and here: outline by outline, and what they say.
        const job = plan.jobs.find(({ start, frames }) => at >= start && at < start + frames)!
        const [there, here] = [paintedByScript(job.ass, at - job.start), await paintedByPage(page)]
        expect(here.length, `outlines at frame ${at}`).toBe(there.length)
        ends.push(apart(there, here))
        const shapes = described.filter(
          (shape) =>
            shape.opacity > 0 && (shape.kind === 'text' ? drawnText(shape.text) !== '' : shape.rings.some((ring) => ring.length > 2)),
        )
        expect(shapes.length).toBe(there.length)
        shapes.forEach((shape, i) => {
          if (shape.kind !== 'text') return
          // An outline does not tell which kind of space it leaves.
          const text = drawnText(shape.text).replaceAll('\u00a0', ' ')
          const read = [there, here].map((painted) => readText(painted[i]!, shape.size, shape.weight, context.typeface))
          expect(read, `text at frame ${at}`).toEqual([text, text])
          texts.push(text)
        })
        for (const box of platesOf(described, width, height)) plates.push(ssim(imageOf(cut(shown, box)), imageOf(cut(film, box))).mssim)
      }
      console.info(
        `${whole.length} instants: SSIM whole ${Math.min(...whole).toFixed(3)} at least; ${plates.length} plates ${Math.min(...plates).toFixed(3)} at least; mean colour off by ${Math.max(...colours).toFixed(2)} levels at most; ${texts.length} lines of text, ${new Set(texts).size} of them different, read alike; line ends ${Math.max(...ends).toFixed(3)} px apart at most`,
      )
      expect(whole.length).toBe(INSTANTS)
      expect(plates.length).toBeGreaterThan(10)
      expect(Math.min(...whole)).toBeGreaterThanOrEqual(0.95)
      expect(Math.min(...plates)).toBeGreaterThanOrEqual(0.95)
      expect(Math.max(...colours)).toBeLessThanOrEqual(2)
      expect(new Set(texts).size).toBeGreaterThan(10)
      expect(Math.max(...ends)).toBeLessThanOrEqual(1)
      expect(window.faults).toEqual([])
    },
    LIMIT_MS,
  )
})

interface Pixels {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
}

const imageOf = ({ width, height, data }: Pixels) => ({
  width,
  height,
  data: new Uint8ClampedArray(data.buffer, data.byteOffset, data.byteLength),
})

function withAlpha(rgb: Uint8Array, width: number, height: number): Pixels {
  const data = new Uint8Array(width * height * 4).fill(255)
  for (let i = 0; i < width * height; i++) data.set(rgb.subarray(3 * i, 3 * i + 3), 4 * i)
  return { width, height, data }
}

/// Red, green and blue: how far the means lie apart, levels of 255.
function meanDifference(a: Pixels, b: Pixels): number[] {
  const sums = [0, 0, 0]
  for (let i = 0; i < a.data.length; i += 4) for (let c = 0; c < 3; c++) sums[c]! += a.data[i + c]! - b.data[i + c]!
  return sums.map((sum) => Math.abs(sum) / (a.width * a.height))
}

type Box = readonly [number, number, number, number]

function cut({ width, data }: Pixels, [x, y, w, h]: Box): Pixels {
  const part = new Uint8Array(w * h * 4)
  for (let row = 0; row < h; row++) part.set(data.subarray(((y + row) * width + x) * 4, ((y + row) * width + x + w) * 4), row * w * 4)
  return { width: w, height: h, data: part }
}

/// The boxes that text stands on: for each line, the smallest filled outline around its beginning.
function platesOf(shapes: readonly Shape[], width: number, height: number): Box[] {
  const boxes = shapes.flatMap((shape): Box[] => {
    if (shape.kind !== 'fill') return []
    const [xs, ys] = [0, 1].map((axis) => shape.rings.flat().map((p) => p[axis as 0 | 1]))
    const [x, y] = [Math.max(0, Math.floor(Math.min(...xs!))), Math.max(0, Math.floor(Math.min(...ys!)))]
    return [[x, y, Math.min(width, Math.ceil(Math.max(...xs!))) - x, Math.min(height, Math.ceil(Math.max(...ys!))) - y]]
  })
  const found = shapes.flatMap((shape) => {
    if (shape.kind !== 'text') return []
    const around = boxes.filter(
      ([x, y, w, h]) => shape.at[0] >= x && shape.at[0] <= x + w && shape.at[1] >= y && shape.at[1] <= y + h && w >= 24 && h >= 16,
    )
    return around.length > 0 ? [around.reduce((a, b) => (a[2] * a[3] <= b[2] * b[3] ? a : b))] : []
  })
  return [...new Map(found.map((box) => [box.join(), box])).values()]
}
