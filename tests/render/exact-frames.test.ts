import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { makePatternFilm, readPattern } from '../film-patterns'
import { eachFrame, renderDocument, wordless } from './render-document'

/// Films whose frames carry their own number are run, held and paired at every rate; each frame of the
/// rendered film is decoded and its number read. What it should be is worked out here from first principles, in whole
/// numbers, apart from the code under test.

const SOURCES: readonly { readonly name: string; readonly rate: string; readonly vfr?: readonly number[] }[] = [
  { name: 'f23', rate: '24000/1001' },
  { name: 'f25', rate: '25/1' },
  { name: 'f29', rate: '30000/1001' },
  { name: 'f50', rate: '50/1' },
  { name: 'f59', rate: '60000/1001' },
  { name: 'f60', rate: '60/1' },
  { name: 'f120', rate: '120/1' },
  { name: 'f240', rate: '240/1' },
  { name: 'vfr', rate: '30/1', vfr: [25, 42, 33, 17, 50] },
]
const OUTPUTS = ['25/1', '30/1', '50/1', '60/1']
const FRAMES = 160

let tool: FfmpegTool
let folder: string
beforeAll(async () => {
  tool = await findFfmpeg()
  folder = await mkdtemp(join(tmpdir(), 'frames-'))
  for (const { name, rate, vfr } of SOURCES) {
    await makePatternFilm(tool, join(folder, `${name}.mkv`), {
      frames: FRAMES,
      rate,
      gop: 50,
      bframes: vfr ? 0 : 2,
      ...(vfr ? { vfr } : {}),
    })
  }
})
afterAll(() => rm(folder, { recursive: true, force: true }))

/// Time of a source frame as an exact fraction [numerator, denominator] of seconds.
function timeOf(source: (typeof SOURCES)[number], frame: number): [bigint, bigint] {
  if (!source.vfr) {
    const [n, d] = source.rate.split('/').map(BigInt) as [bigint, bigint]
    return [BigInt(frame) * d, n]
  }
  let ms = 0
  for (let i = 0; i < frame; i++) ms += source.vfr[i % source.vfr.length]!
  return [BigInt(ms), 1000n]
}

/// The last frame whose time is at or before that of `origin` plus `n` output frames at `speed`.
function expectedFrame(
  source: (typeof SOURCES)[number],
  origin: number,
  n: number,
  speed: [bigint, bigint],
  output: string,
  from: number,
  to: number,
): number {
  const [on, od] = output.split('/').map(BigInt) as [bigint, bigint]
  const [a, b] = timeOf(source, origin)
  // a/b + n·od/on·speed
  const num = a * on * speed[1] + BigInt(n) * od * speed[0] * b
  const den = b * on * speed[1]
  let frame = from
  for (let i = from; i < to; i++) {
    const [p, q] = timeOf(source, i)
    if (p * den <= num * q) frame = i
  }
  return frame
}

/// Every source run, slowed, held, and paired with another of a different rate, in one film.
function everySource(output: string): Breakdown {
  const partner = (i: number): number => (i + 3) % SOURCES.length
  return {
    ...wordless(
      {
        footage: SOURCES.map(({ name }) => ({ id: name, file: `${name}.mkv` })),
        clips: SOURCES.map(({ name }) => ({ id: name, footage: name, from: 5, to: 155, capture: { factor: '1', u: 0 } })),
        events: SOURCES.flatMap(({ name }) => [
          { id: `${name}.a`, clip: name, name: 'contact', earliest: 71, latest: 72 },
          { id: `${name}.b`, clip: name, name: 'contact', earliest: 90, latest: 90 },
        ]),
      },
      SOURCES.flatMap(({ name }, i) => [
        { run: name, from: 33, to: 63, speed: '1' },
        { run: name, from: 33, to: 45, speed: '1/4' },
        { hold: name, at: 77, seconds: '1/5' },
        {
          pair: [
            { clip: name, event: `${name}.a` },
            { clip: SOURCES[partner(i)]!.name, event: `${SOURCES[partner(i)]!.name}.b` },
          ],
          before: '1/5',
          after: '1/10',
          speed: '1/2',
          layout: 'beside' as const,
          still: '1/10',
        },
      ]),
    ),
    output: { width: 320, height: 180, rate: output },
  }
}

describe('the rendered film', () => {
  for (const output of OUTPUTS) {
    it(`should show exactly the planned frame on every frame of runs, holds and pairs at ${output}`, async () => {
      const out = join(folder, 'film.mp4')
      const { plan } = await renderDocument(tool, everySource(output), folder, { out })
      const shots = plan.programme.shots
      const last = shots.at(-1)!
      const seen: number[][] = []
      let at = 0
      await eachFrame(tool, out, { width: 320, height: 180 }, (pixels, n) => {
        while (n >= shots[at]!.start + shots[at]!.frames) at++
        seen.push(
          n >= last.start
            ? []
            : shots[at]!.panels.map(({ place: [x, y, width, height] }) => readPattern(pixels, 320, 180, { x, y, width, height })),
        )
      })

      let wrong = 0
      let checked = 0
      const check = (n: number, got: number | undefined, wanted: number): void => {
        checked++
        if (got === wanted) return
        wrong++
        console.error(`${output}: output frame ${n} shows ${got}, not ${wanted}`)
      }
      const still = Math.round(Number(output.split('/')[0]) / 10)
      for (const [i, source] of SOURCES.entries()) {
        const partner = SOURCES[(i + 3) % SOURCES.length]!
        const [run, slow, hold, pair] = shots.slice(i * 4, i * 4 + 4)
        for (let n = 0; n < run!.frames; n++)
          check(run!.start + n, seen[run!.start + n]![0], expectedFrame(source, 33, n, [1n, 1n], output, 33, 63))
        for (let n = 0; n < slow!.frames; n++)
          check(slow!.start + n, seen[slow!.start + n]![0], expectedFrame(source, 33, n, [1n, 4n], output, 33, 45))
        for (let n = 0; n < hold!.frames; n++) check(hold!.start + n, seen[hold!.start + n]![0], 77)
        const contact = pair!.eventAt.get(`${source.name}.a`)!
        expect(seen[pair!.start + contact]).toEqual([71, 90])
        for (let n = 0; n < pair!.frames; n++) {
          const offset = n < contact ? n - contact : n < contact + still ? 0 : n - contact - still
          check(pair!.start + n, seen[pair!.start + n]![0], expectedFrame(source, 71, offset, [1n, 2n], output, 5, 155))
          check(pair!.start + n, seen[pair!.start + n]![1], expectedFrame(partner, 90, offset, [1n, 2n], output, 5, 155))
        }
      }
      expect(checked).toBeGreaterThan(700)
      expect(wrong).toBe(0)
    })
  }
})
