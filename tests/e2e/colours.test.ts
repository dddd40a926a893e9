import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { PNG } from 'pngjs'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { fileUrl } from '../../main/media/file-url'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'
import { openPatternWindow, type PatternWindow } from '../pattern-window'
import { eachFrame, renderDocument } from '../render/render-document'

/// The same colours in the window as in the render, whichever matrix and range a film was coded with: 48 flat fields that go
/// through the colour cube, coded by BT.601 and by BT.709, in limited and in full range; field by field.

const films = (['bt601', 'bt709'] as const).flatMap((matrix) =>
  (['tv', 'pc'] as const).map((range) => ({ id: `${matrix}-${range}`, matrix, range })),
)
const [width, height] = [640, 360]
/// Of the whole picture's mean, and of one field's: 8-bit steps of two conversions; the wrong matrix or range is off by ten and more.
const WHOLE = 2
const FIELD = 3

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Colours',
  output: { width, height, rate: '30/1' },
  footage: films.map(({ id }) => ({ id, file: `${id}.mp4` })),
  subjects: [],
  clips: films.map(({ id }) => ({ id, footage: id, from: 0, to: 20, capture: { factor: '1', u: 0 }, name: id })),
  script: films.map(({ id }) => ({ id: `p-${id}`, text: [`${id}.`], shots: [{ hold: id, at: 10, seconds: '1' }] })),
}

let window: PatternWindow
beforeAll(async () => {
  window = await openPatternWindow({
    films: {},
    breakdown,
    more: async (folder, tool) => {
      await writeFile(join(folder, 'fields.rgb'), fieldsDrawn())
      for (const { id, matrix, range } of films) {
        const tagged = matrix === 'bt601' ? 'smpte170m' : 'bt709'
        await runFfmpeg(tool, [
          '-v',
          'error',
          '-stream_loop',
          '19',
          '-f',
          'rawvideo',
          '-pix_fmt',
          'rgb24',
          '-video_size',
          `${width}x${height}`,
          '-framerate',
          '30',
          '-i',
          fileUrl(join(folder, 'fields.rgb')),
          '-vf',
          `scale=out_color_matrix=${matrix}:out_range=${range}:flags=accurate_rnd,format=yuv420p`,
          '-c:v',
          'libx264',
          '-crf',
          '4',
          '-colorspace',
          tagged,
          '-color_primaries',
          tagged,
          '-color_trc',
          tagged,
          '-color_range',
          range,
          fileUrl(join(folder, `${id}.mp4`)),
        ])
      }
    },
  })
})
afterAll(async () => window?.close())

/// 8 × 6 flat fields: four reds, four greens and three blues, each with each.
function fieldsDrawn(): Uint8Array {
  const data = new Uint8Array(3 * width * height)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const field = Math.floor((8 * x) / width) + 8 * Math.floor((6 * y) / height)
      data.set([85 * (field % 4), 85 * (Math.floor(field / 4) % 4), 127 * Math.floor(field / 16)], 3 * (y * width + x))
    }
  return data
}

/// Mean red, green and blue of the fields, each without its edges. The badge in the corner lies over one in both.
function fieldsOf(data: Uint8Array, channels: 3 | 4): number[][] {
  const [wide, high] = [width / 8, height / 6]
  return Array.from({ length: 48 }, (_, field) => {
    const [left, top] = [(field % 8) * wide, Math.floor(field / 8) * high]
    const sum = [0, 0, 0]
    let count = 0
    for (let y = Math.ceil(top + 6); y < top + high - 6; y++)
      for (let x = Math.ceil(left + 6); x < left + wide - 6; x++, count++)
        for (let c = 0; c < 3; c++) sum[c]! += data[channels * (y * width + x) + c]!
    return sum.map((each) => each / count)
  })
}

it('should show the colours of either matrix and range as they are rendered', async () => {
  const { page, folder } = window
  const out = join(folder, 'film.mp4')
  const { plan } = await renderDocument(await findFfmpeg(), breakdown, folder, { out })
  const shown = new Map<string, number[][]>()
  for (const { id } of films) {
    await page.locator('.words p', { hasText: `${id}.` }).click()
    await page.locator('.figures', { hasText: `${id}, frame 10` }).waitFor()
    await page.locator('canvas.picture[data-detail="full"]:not([data-waiting])').waitFor()
    const at = Number(await page.locator('canvas.picture').getAttribute('data-frame'))
    expect(plan.programme.paragraphs.find(({ from, to }) => at >= from && at < to)?.id).toBe(`p-${id}`)
    const address = await page.locator('canvas.picture').evaluate((canvas) => (canvas as HTMLCanvasElement).toDataURL('image/png'))
    shown.set(id, fieldsOf(PNG.sync.read(Buffer.from(address.slice(address.indexOf(',') + 1), 'base64')).data, 4))
  }
  const rendered = new Map<string, number[][]>()
  await eachFrame(
    await findFfmpeg(),
    out,
    { width, height },
    (pixels, n) => {
      const paragraph = plan.programme.paragraphs.find(({ from, to }) => n === Math.floor((from + to) / 2))
      if (paragraph) rendered.set(paragraph.id.slice(2), fieldsOf(pixels, 3))
    },
    'rgb24',
  )
  for (const { id } of films) {
    const apart = shown.get(id)!.flatMap((field, i) => field.map((level, c) => level - rendered.get(id)![i]![c]!))
    const most = Math.max(...apart.map(Math.abs))
    const whole = Math.max(...[0, 1, 2].map((c) => Math.abs(apart.filter((_, i) => i % 3 === c).reduce((sum, each) => sum + each, 0) / 48)))
    console.info(`${id}: mean ${whole.toFixed(2)} levels apart, its ${apart.length / 3} fields ${most.toFixed(2)} at most`)
    expect(whole, id).toBeLessThanOrEqual(WHOLE)
    expect(most, id).toBeLessThanOrEqual(FIELD)
  }
  // They are one picture: what was coded in four ways looks alike, in the window and in the film.
  for (const of of [shown, rendered])
    for (const { id } of films)
      for (const [i, field] of of.get(id)!.entries())
        for (const [c, level] of field.entries())
          expect(Math.abs(level - of.get('bt709-tv')![i]![c]!), `${id}, field ${i}`).toBeLessThanOrEqual(2 * FIELD)
})
