import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { builds } from '../ffmpeg-builds'
import { makePatternFilm } from '../film-patterns'
import { eachFrame, renderDocument } from './render-document'

/// Captions burned into rendered pixels: there on exactly their frames and nowhere else, and segments without words kept.

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'burned-'))
  await makePatternFilm(await builds[0]!.tool(), join(folder, 'bout.mp4'), { frames: 60, rate: '30' })
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const size = { width: 320, height: 180 }
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'A test',
  output: { ...size, rate: '30/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 60, capture: { factor: '1', u: 0 } }],
  script: [
    { id: 'p1', text: ['Both hips turn first.'], shots: [{ hold: 'c1', at: 20, seconds: '4', marks: [{ word: 'hips', at: [160, 160] }] }] },
    {
      id: 'p2',
      text: [],
      shots: [
        { run: 'c1', from: 0, to: 30, speed: '1' },
        { card: 'caution', seconds: '1/5' },
      ],
    },
  ],
}

it.each(builds)('are in the picture from their first frame to their last, moved off a word, and nowhere else ($name)', async ({ tool }) => {
  const ffmpeg = await tool()
  const film = async (burnCaptions: boolean) => {
    const out = join(folder, `${burnCaptions}.mp4`)
    const { plan, report } = await renderDocument(ffmpeg, breakdown, folder, { out, burnCaptions })
    const frames: Buffer[] = []
    await eachFrame(ffmpeg, out, size, (pixels) => void frames.push(Buffer.from(pixels)))
    return { plan, report, frames }
  }
  const plain = await film(false)
  const burned = await film(true)
  const [caption] = burned.plan.captions
  const box = caption!.block.boxes[0]!
  expect(burned.plan.captions).toHaveLength(1)
  expect(caption!.clear).toBe(true)
  expect(box.y).toBeLessThan(0.82 * size.height)
  expect(burned.frames).toHaveLength(plain.frames.length)
  const differs = (n: number, inside: boolean): number => {
    let [sum, count] = [0, 0]
    for (let y = 0; y < size.height; y++)
      for (let x = 0; x < size.width; x++) {
        const within = x > box.x + 2 && x < box.x + box.width - 2 && y > box.y + 2 && y < box.y + box.height - 2
        const far = x < box.x - 8 || x > box.x + box.width + 8 || y < box.y - 8 || y > box.y + box.height + 8
        if (inside ? !within : !far) continue
        sum += Math.abs(burned.frames[n]![y * size.width + x]! - plain.frames[n]![y * size.width + x]!)
        count++
      }
    return sum / count
  }
  const seen = plain.frames.map((_, n) => differs(n, true) > 12)
  expect([seen.indexOf(true), seen.lastIndexOf(true) + 1]).toEqual([caption!.from, caption!.to])
  expect(seen.slice(caption!.from, caption!.to).every(Boolean)).toBe(true)
  expect(Math.max(...plain.frames.map((_, n) => differs(n, false)))).toBeLessThan(3)
  // Segments on which nothing is said are the ones made before.
  expect(burned.report.segments.kept).toBeGreaterThanOrEqual(2)
})
