import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { fileUrl } from '../../main/media/file-url'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'
import { eachFrame, renderDocument, wordless } from './render-document'

/// Two films, each of two dots, at other places, scales and turns. Laid over on the dots, the second film's dots must
/// fall on the first's: each spot of the result has one middle, and it is where the first film's dot is.

type Dots = readonly [readonly [number, number], readonly [number, number]]
const A: Dots = [
  [120, 60],
  [200, 120],
]
const B: Dots = [
  [90, 120],
  [150, 60],
]
const SIZE = { width: 640, height: 360 }

let tool: FfmpegTool
let folder: string
beforeAll(async () => {
  tool = await findFfmpeg()
  folder = await mkdtemp(join(tmpdir(), 'over-'))
  for (const [name, dots] of [
    ['a', A],
    ['b', B],
  ] as const) {
    const picture = new Uint8Array(320 * 180).fill(40)
    for (let y = 0; y < 180; y++)
      for (let x = 0; x < 320; x++) if (dots.some(([cx, cy]) => Math.hypot(x + 0.5 - cx, y + 0.5 - cy) < 6)) picture[y * 320 + x] = 235
    await runFfmpeg(
      tool,
      [
        '-v',
        'error',
        '-y',
        '-f',
        'rawvideo',
        '-pix_fmt',
        'gray',
        '-s',
        '320x180',
        '-r',
        '30',
        '-i',
        'pipe:0',
        '-pix_fmt',
        'yuv420p',
        '-c:v',
        'libx264',
        '-crf',
        '10',
        fileUrl(join(folder, `${name}.mp4`)),
      ],
      { stdin: Array.from({ length: 20 }, () => picture) },
    )
  }
})
afterAll(() => rm(folder, { recursive: true, force: true }))

for (const mirrored of [false, true]) {
  it(`should lay two clips over each other on two landmarks within a pixel${mirrored ? ', the second mirrored' : ''}`, async () => {
    const samples = (dots: Dots, i: 0 | 1): { frame: number; at: [number, number] }[] => [{ frame: 10, at: [...dots[i]] }]
    const breakdown: Breakdown = {
      ...wordless(
        {
          footage: [
            { id: 'a', file: 'a.mp4' },
            { id: 'b', file: 'b.mp4' },
          ],
          clips: [
            { id: 'a', footage: 'a', from: 0, to: 20, capture: { factor: '1', u: 0 } },
            { id: 'b', footage: 'b', from: 0, to: 20, capture: { factor: '1', u: 0 }, mirrored },
          ],
          events: [
            { id: 'ea', clip: 'a', name: 'contact', earliest: 10, latest: 10 },
            { id: 'eb', clip: 'b', name: 'contact', earliest: 10, latest: 10 },
          ],
          landmarks: (['a', 'b'] as const).flatMap((clip) => [
            { clip, subject: 's1', point: 'hip.left', samples: samples(clip === 'a' ? A : B, 0) },
            { clip, subject: 's1', point: 'shoulder.left', samples: samples(clip === 'a' ? A : B, 1) },
          ]),
        },
        [
          {
            pair: [
              { clip: 'a', event: 'ea' },
              { clip: 'b', event: 'eb' },
            ],
            before: '1/10',
            after: '1/10',
            speed: '1/2',
            layout: 'over',
            over: { subjects: ['s1', 's1'], points: ['hip.left', 'shoulder.left'] },
          },
        ],
      ),
      output: { ...SIZE, rate: '30/1' },
    }
    const out = join(folder, 'film.mp4')
    const { plan } = await renderDocument(tool, breakdown, folder, { out })
    const pair = plan.programme.shots[0]!
    let worst = 0
    let spots = 0
    await eachFrame(tool, out, SIZE, (pixels, n) => {
      if (n >= pair.frames) return
      for (const [cx, cy] of A) {
        const [mx, my] = [cx * 2, cy * 2]
        let [x, y, sum] = [0, 0, 0]
        for (let py = Math.floor(my) - 40; py < my + 40; py++)
          for (let px = Math.floor(mx) - 40; px < mx + 40; px++) {
            const w = Math.max(0, pixels[py * SIZE.width + px]! - 80)
            x += w * (px + 0.5)
            y += w * (py + 0.5)
            sum += w
          }
        worst = Math.max(worst, Math.hypot(x / sum - mx, y / sum - my))
        spots++
      }
      // Nothing bright elsewhere: the second film's dots are on the first's.
      const bright = pixels.subarray(60 * SIZE.width).reduce((count, value) => count + (value > 110 ? 1 : 0), 0)
      expect(bright).toBeLessThan(2 * Math.PI * 17 ** 2)
    })
    expect(spots).toBe(pair.frames * 2)
    expect(worst).toBeLessThan(1)
  })
}
