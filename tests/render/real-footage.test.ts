import { copyFile, mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { toNumber } from '../../app/time/rational'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { readFrame } from '../../main/media/exact-frame'
import { readFilm } from '../../main/media/frame-scan'
import { eachFrame, renderDocument, wordless } from './render-document'

/// Two films that a camera really shot, the whole way (see tests/data/video/NOTICE.md): a signer at
/// 30 frames a second with blurred hands, and an upright clip of a ball in flight at 120 frames a second.

const data = resolve('tests/data/video')
let tool: FfmpegTool
let folder: string
beforeAll(async () => {
  tool = await findFfmpeg()
  folder = await mkdtemp(join(tmpdir(), 'real-'))
  for (const name of ['asl_walk.mkv', 'bmc_projetil.mp4']) await copyFile(join(data, name), join(folder, name))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

/// Peak signal-to-noise ratio of two 8-bit pictures, dB.
function psnr(a: Uint8Array, b: Uint8Array): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += (a[i]! - b[i]!) ** 2
  return 10 * Math.log10((255 ** 2 * a.length) / sum)
}

it('should show each planned frame of the signer, nearer to it than to its neighbours', async () => {
  const film = await readFilm(tool, join(folder, 'asl_walk.mkv'))
  expect(film.table.rate && toNumber(film.table.rate)).toBeCloseTo(30, 1)
  const breakdown: Breakdown = {
    ...wordless(
      {
        footage: [{ id: 'f1', file: 'asl_walk.mkv' }],
        clips: [{ id: 'c1', footage: 'f1', from: 0, to: film.table.pts.length, capture: { factor: '1', u: 0 } }],
      },
      [
        { run: 'c1', from: 20, to: 40, speed: '1/2' },
        { hold: 'c1', at: 55, seconds: '1/2' },
      ],
    ),
    output: { width: 640, height: 480, rate: '30/1' },
  }
  const out = join(folder, 'signer.mp4')
  const { plan } = await renderDocument(tool, breakdown, folder, { out })
  const shown = plan.programme.shots.slice(0, 2).flatMap((shot) => [...shot.panels[0]!.frames])
  const stills = new Map<number, Uint8Array>()
  for (const frame of new Set([...shown, 19, 40, 54, 56])) stills.set(frame, (await readFrame(tool, film, frame, { format: 'gray' })).data)
  // The badge stands top right and is left out.
  const part = (pixels: Uint8Array): Uint8Array => pixels.subarray(640 * 90)
  let checked = 0
  await eachFrame(tool, out, { width: 640, height: 480 }, (pixels, n) => {
    const frame = shown[n]
    if (frame === undefined) return
    const own = psnr(part(pixels), part(stills.get(frame)!))
    expect(own, `output frame ${n}`).toBeGreaterThan(32)
    for (const other of [frame - 1, frame + 1]) {
      const neighbour = stills.get(other)
      if (neighbour) expect(own, `output frame ${n} against ${other}`).toBeGreaterThan(psnr(part(pixels), part(neighbour)))
    }
    checked++
  })
  expect(checked).toBe(40 + 15)
})

it('should follow the ball where the outside track has it, and that track be one parabola for 60 frames', async () => {
  const rows = (await readFile(join(data, 'bmc_projetil_blob_track_px.csv'), 'utf8')).trim().split('\n')
  const header = rows[0]!.split(',').map((name) => name.trim())
  const track = rows.slice(1).map((row) => Object.fromEntries(row.split(',').map((value, i) => [header[i]!, Number(value)])))
  const [frameKey, xKey, yKey] = [
    header.find((h) => /frame/i.test(h))!,
    header.find((h) => /^x|x_/i.test(h))!,
    header.find((h) => /^y|y_/i.test(h))!,
  ]
  const samples = track
    .slice(0, 60)
    .map((row) => ({ frame: row[frameKey]!, at: [row[xKey]! + 0.5, row[yKey]! + 0.5] as [number, number], sigma: 1 }))
  const film = await readFilm(tool, join(folder, 'bmc_projetil.mp4'))
  expect([film.head.width, film.head.height, film.table.pts.length]).toEqual([1080, 1920, 138])

  // Least squares y = a + b·n + c·n² on the stored track: its residual is the data's own (README there: rms 0.40 px).
  expect(parabolaRms(samples.map((s) => [s.frame, s.at[1]]))).toBeLessThan(0.5)

  const breakdown: Breakdown = {
    ...wordless(
      {
        footage: [{ id: 'f1', file: 'bmc_projetil.mp4' }],
        clips: [{ id: 'c1', footage: 'f1', from: 0, to: 138, capture: { factor: '1', u: 0 } }],
        landmarks: [{ clip: 'c1', subject: 's1', point: 'ball', samples }],
      },
      [
        {
          run: 'c1',
          from: samples[5]!.frame,
          to: samples[45]!.frame,
          speed: '1/4',
          marks: [{ ring: { subject: 's1', point: 'ball' }, radius: 60, part: 'shoulders' }],
        },
      ],
    ),
    output: { width: 540, height: 960, rate: '30/1' },
  }
  const out = join(folder, 'ball.mp4')
  const { plan } = await renderDocument(tool, breakdown, folder, { out })
  const run = plan.programme.shots[0]!
  const rings: [number, number][] = []
  await eachFrame(
    tool,
    out,
    { width: 540, height: 960 },
    (pixels, n) => {
      if (n >= run.frames) return
      let [x, y, sum] = [0, 0, 0]
      for (let i = 0; i < pixels.length; i += 3) {
        const [r, g, b] = [pixels[i]!, pixels[i + 1]!, pixels[i + 2]!]
        const orange = Math.min(r - b - 90, r - g - 20)
        if (orange <= 0 || g < b) continue
        x += orange * ((i / 3) % 540)
        y += orange * Math.floor(i / 3 / 540)
        sum += orange
      }
      rings.push([x / sum + 0.5, y / sum + 0.5])
    },
    'rgb24',
  )
  expect(rings).toHaveLength(run.frames)
  const off = rings.map(([x, y], n) => {
    const sample = samples.find((s) => s.frame === run.panels[0]!.frames[n])!
    return [x - sample.at[0] / 2, y - sample.at[1] / 2] as const
  })
  // The hall's own colours blur the ring's measured middle by a pixel or two; a frame's flight is 10 to 13.
  expect(Math.max(...off.map(([x, y]) => Math.hypot(x, y)))).toBeLessThan(3)
  for (const axis of [0, 1] as const) expect(Math.abs(off.reduce((sum, d) => sum + d[axis], 0) / off.length)).toBeLessThan(0.5)
})

function parabolaRms(points: readonly (readonly [number, number])[]): number {
  const mean = points.reduce((sum, [n]) => sum + n, 0) / points.length
  const rows = points.map(([n, y]) => ({ t: [1, n - mean, (n - mean) ** 2] as const, y }))
  const matrix = [0, 1, 2].map((i) => [
    ...[0, 1, 2].map((j) => rows.reduce((s, r) => s + r.t[i]! * r.t[j]!, 0)),
    rows.reduce((s, r) => s + r.t[i]! * r.y, 0),
  ])
  for (let i = 0; i < 3; i++)
    for (let k = 0; k < 3; k++) {
      if (k === i) continue
      const factor = matrix[k]![i]! / matrix[i]![i]!
      matrix[k] = matrix[k]!.map((value, j) => value - factor * matrix[i]![j]!)
    }
  const [a, b, c] = [0, 1, 2].map((i) => matrix[i]![3]! / matrix[i]![i]!)
  return Math.sqrt(rows.reduce((s, r) => s + (r.y - a! - b! * r.t[1] - c! * r.t[2]) ** 2, 0) / rows.length)
}
