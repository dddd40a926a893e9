import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { fileUrl } from '../../main/media/file-url'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../main/media/process'
import { eachFrame, renderDocument, wordless } from './render-document'

/// A white dot jumps to another place on every frame of each film; a ring is tied to the dot's landmark. In the
/// rendered film the ring's middle must lie on the dot on every frame: a mark on a wrong frame would be tens
/// of pixels off.

const SOURCES: readonly { readonly name: string; readonly rate: string; readonly vfr?: readonly number[] }[] = [
  { name: 'f23', rate: '24000/1001' },
  { name: 'f25', rate: '25' },
  { name: 'f29', rate: '30000/1001' },
  { name: 'f50', rate: '50' },
  { name: 'f59', rate: '60000/1001' },
  { name: 'f60', rate: '60' },
  { name: 'f120', rate: '120' },
  { name: 'f240', rate: '240' },
  { name: 'vfr', rate: '30', vfr: [25, 42, 33, 17, 50] },
]
const WIDTH = 320
const HEIGHT = 180
const FRAMES = 80

/// Where the dot's middle is on a frame: far from where it was on the frame before.
const dotAt = (frame: number): [number, number] => [115 + ((frame * 37) % 90) + 0.5, 70 + ((frame * 23) % 40) + 0.5]

/// The same for every film.
const PICTURES = Array.from({ length: FRAMES }, (_, frame) => {
  const picture = new Uint8Array(WIDTH * HEIGHT).fill(60)
  const [cx, cy] = dotAt(frame)
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) if (Math.hypot(x + 0.5 - cx, y + 0.5 - cy) <= 4) picture[y * WIDTH + x] = 235
  return picture
})

let tool: FfmpegTool
let folder: string
beforeAll(async () => {
  tool = await findFfmpeg()
  folder = await mkdtemp(join(tmpdir(), 'marks-'))
  for (const { name, rate, vfr } of SOURCES) {
    const clock = vfr
      ? [
          `settb=1/1000`,
          `setpts='${vfr.reduce((a, b) => a + b, 0)}*floor(N/${vfr.length})+${vfr.map((_, i) => `gt(mod(N,${vfr.length}),${i})*${vfr[i]}`).join('+')}'`,
        ]
      : []
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
        `${WIDTH}x${HEIGHT}`,
        '-r',
        rate,
        '-i',
        'pipe:0',
        '-vf',
        [...clock, 'scale=out_range=tv', 'format=yuv420p'].join(','),
        ...(tool.has.fpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', '0']),
        ...(vfr ? ['-enc_time_base', '1:1000'] : []),
        '-c:v',
        'libx264',
        '-preset',
        'ultrafast',
        '-crf',
        '12',
        '-g',
        '30',
        fileUrl(join(folder, `${name}.mkv`)),
      ],
      { stdin: PICTURES },
    )
  }
})
afterAll(() => rm(folder, { recursive: true, force: true }))

type Pixel = readonly [x: number, y: number]

/// Middle of the pixels brighter than `ground` for which `counts` holds, each as heavy as `weight` says of its value; null
/// where there are none. A picture has half a million pixels and few that are bright: only those are asked about.
function middle(
  pixels: Buffer,
  width: number,
  ground: number,
  weight: (value: number) => number,
  counts: (at: Pixel) => boolean = () => true,
): Pixel | null {
  let [x, y, sum] = [0, 0, 0]
  for (let i = 0; i < pixels.length; i++) {
    const value = pixels[i]!
    if (value <= ground) continue
    const at: Pixel = [(i % width) + 0.5, Math.floor(i / width) + 0.5]
    if (!counts(at)) continue
    const w = weight(value)
    x += w * at[0]
    y += w * at[1]
    sum += w
  }
  return sum === 0 ? null : [x / sum, y / sum]
}

const distance = (a: Pixel, b: Pixel): number => Math.hypot(a[0] - b[0], a[1] - b[1])

for (const [what, rate, framing] of [
  ['a standing frame', '25/1', { frame: [40, 22, 240, 136] as [number, number, number, number] }],
  ['a standing frame', '30/1', { frame: [40, 22, 240, 136] as [number, number, number, number] }],
  [
    'a moving frame',
    '60/1',
    { frame: [40, 22, 240, 136] as [number, number, number, number], frameTo: [80, 45, 160, 90] as [number, number, number, number] },
  ],
  [
    'a mirrored clip in a moving frame',
    '50/1',
    {
      mirrored: true,
      frame: [40, 22, 240, 136] as [number, number, number, number],
      frameTo: [90, 44, 160, 90] as [number, number, number, number],
    },
  ],
] as const) {
  it(`should burn every mark in on its own frame, within a pixel, with ${what} at ${rate}`, async () => {
    const { mirrored, ...frames } = { mirrored: false, ...framing }
    const size = { width: 960, height: 540 }
    const breakdown: Breakdown = {
      ...wordless(
        {
          footage: SOURCES.map(({ name }) => ({ id: name, file: `${name}.mkv` })),
          clips: SOURCES.map(({ name }) => ({ id: name, footage: name, from: 0, to: FRAMES, capture: { factor: '1', u: 0 }, mirrored })),
          landmarks: SOURCES.map(({ name }) => ({
            clip: name,
            subject: 's1',
            point: 'fist.left',
            samples: Array.from({ length: FRAMES }, (_, frame) => ({ frame, at: dotAt(frame) })),
          })),
        },
        SOURCES.map(({ name }) => ({
          run: name,
          from: 20,
          to: 44,
          speed: '1/2',
          ...frames,
          marks: [{ ring: { subject: 's1', point: 'fist.left' }, radius: 14, part: 'shoulders' as const }],
        })),
      ),
      output: { ...size, rate },
    }
    const out = join(folder, 'film.mp4')
    const { plan } = await renderDocument(tool, breakdown, folder, { out })
    const last = plan.programme.shots.at(-1)!
    let checked = 0
    let farthest = 0
    await eachFrame(tool, out, size, (pixels, n) => {
      if (n >= last.start) return
      // The badge stands top right; the marks are looked for below it.
      const below = pixels.subarray(60 * size.width)
      const near = middle(below, size.width, 200, () => 1)
      expect(near, `a dot on frame ${n}`).not.toBeNull()
      // Weighted by how bright it is, edges included: to a fraction of a pixel.
      const dot = middle(
        below,
        size.width,
        90,
        (value) => value - 90,
        (at) => distance(at, near!) < 34,
      )
      // The ring is brighter than the ground and well clear of the dot.
      const ring = middle(
        below,
        size.width,
        90,
        (value) => value - 90,
        (at) => distance(at, dot!) > 36,
      )
      expect(ring, `a ring on frame ${n}`).not.toBeNull()
      farthest = Math.max(farthest, distance(dot!, ring!))
      checked++
    })
    expect(checked).toBe(last.start)
    expect(checked).toBeGreaterThan(120)
    expect(farthest).toBeLessThan(1)
  })
}
