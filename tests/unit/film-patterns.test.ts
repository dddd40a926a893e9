import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { fileUrl } from '../../main/media/file-url'
import { findFfmpeg } from '../../main/media/find-ffmpeg'
import { streamFfmpeg } from '../../main/media/process'
import { drawPattern, makePatternFilm, readPattern, type PatternFilm } from '../film-patterns'

let folder: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-patterns-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

async function numbersOf(path: string, width: number, height: number, filter = 'null'): Promise<number[]> {
  const tool = await findFfmpeg()
  const chunks: Buffer[] = []
  await streamFfmpeg(
    tool,
    [
      '-v',
      'error',
      '-i',
      fileUrl(path),
      '-vf',
      filter,
      '-f',
      'rawvideo',
      '-pix_fmt',
      'gray',
      tool.has.fpsMode ? '-fps_mode' : '-vsync',
      'passthrough',
      'pipe:1',
    ],
    { onStdout: (c) => void chunks.push(c) },
  )
  const all = Buffer.concat(chunks)
  return Array.from({ length: all.length / (width * height) }, (_, i) =>
    readPattern(all.subarray(i * width * height, (i + 1) * width * height), width, height),
  )
}

const count = (frames: number, first = 0): number[] => Array.from({ length: frames }, (_, i) => first + i)

describe('pattern films', () => {
  it('reads what it draws, mirrored and in a part of the picture too', () => {
    for (const n of [0, 1, 255, 256, 30_001, 65_535]) {
      const picture = drawPattern(n, 64, 48)
      expect(readPattern(picture, 64, 48)).toBe(n)
      const mirrored = picture.map((_, i) => picture[Math.floor(i / 64) * 64 + 63 - (i % 64)]!)
      expect(readPattern(mirrored, 64, 48, undefined, true)).toBe(n)
      const large = new Uint8Array(200 * 100)
      for (let y = 0; y < 48; y++) large.set(picture.subarray(y * 64, (y + 1) * 64), (y + 30) * 200 + 77)
      expect(readPattern(large, 200, 100, { x: 77, y: 30, width: 64, height: 48 })).toBe(n)
    }
  })
  it('sees no number in an empty or a torn picture', () => {
    expect(readPattern(new Uint8Array(64 * 48).fill(128), 64, 48)).toBe(-1)
    const torn = drawPattern(5, 64, 48)
    torn.set(drawPattern(260, 64, 48).subarray(0, 64 * 24), 0)
    expect(readPattern(torn, 64, 48)).toBe(-1)
  })
  it.each<[string, PatternFilm]>([
    ['a.mp4', { frames: 70, rate: '30000/1001', gop: 20 }],
    ['b.mkv', { frames: 70, rate: '240', bframes: 3, gop: 250, first: 1000 }],
    ['c.mkv', { frames: 40, rate: '30', vfr: [33, 33, 34, 50, 8], bframes: 2, sound: true }],
    ['d.avi', { frames: 30, rate: '25', codec: 'mpeg4' }],
  ])('%s shows every number in order', async (name, film) => {
    const path = join(folder, name)
    await makePatternFilm(await findFfmpeg(), path, film)
    expect(await numbersOf(path, 320, 180)).toEqual(count(film.frames, film.first))
  })
})
