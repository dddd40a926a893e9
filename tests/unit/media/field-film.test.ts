import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { readFrame } from '../../../main/media/exact-frame'
import { makeFieldFilm } from '../../../main/media/field-film'
import { FilmLibrary } from '../../../main/media/film-library'
import { findFfmpeg, lookFor, type FfmpegTool } from '../../../main/media/find-ffmpeg'
import { drawPattern, makePatternFilm, readPattern } from '../../film-patterns'

/// A film of fields: every field at its place in the order, at its own time, its own lines where they were shot and nothing of
/// another instant between them. The interlaced films are woven by ffmpeg from 50 numbered pictures a second.

const WIDTH = 320
const HEIGHT = 240
const FIELDS = 16

let folder = ''
let tool: FfmpegTool
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-fields-'))
  tool = await findFfmpeg()
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const woven = (
  file: string,
  scan: 'tff' | 'bff',
  more: { readonly vfr?: readonly number[]; readonly output?: readonly string[] } = {},
): Promise<void> =>
  makePatternFilm(tool, join(folder, file), {
    frames: FIELDS,
    rate: '50',
    width: WIDTH,
    height: HEIGHT,
    filter: `interlace=scan=${scan}:lowpass=0`,
    output: ['-qp', '0', '-flags', '+ilme+ildct', '-x264-params', `${scan}=1:bframes=0:scenecut=0`],
    ...more,
  })

async function split(file: string, first: 'top' | 'bottom', by: FfmpegTool = tool) {
  const library = new FilmLibrary(by, folder, join(folder, 'cache'), 'free')
  const source = await library.film({ id: file, file })
  await makeFieldFilm(by, source, first, join(folder, `${file}-${first}-fields.mp4`), {
    signal: new AbortController().signal,
    onProgress: () => undefined,
  })
  const made = await library.film({ id: `${file}-${first}`, file: `${file}-${first}-fields.mp4` })
  return { source, made }
}

describe('a film of fields', () => {
  it.each([
    ['tff', 'top'],
    ['bff', 'bottom'],
  ] as const)('should show field after field as they were shot, whichever is first: %s', async (scan, first) => {
    await woven(`${scan}.mp4`, scan)
    const { source, made } = await split(`${scan}.mp4`, first)
    expect(source.head.fieldOrder).toBe(first)
    expect(made.head.fieldOrder).not.toBe(first)
    expect(made.table.pts.length).toBe(FIELDS)
    expect(made.table.rate).toEqual({ n: 50, d: 1 })
    for (let i = 0; i < FIELDS; i++) {
      const { data } = await readFrame(tool, made, i, { format: 'gray' })
      expect(readPattern(data, WIDTH, HEIGHT)).toBe(i)
      const drawn = drawPattern(i, WIDTH, HEIGHT)
      let own = 0
      let between = 0
      for (let y = 0; y < HEIGHT; y++)
        for (let x = 0; x < WIDTH; x++) {
          const isOwn = ((y % 2 === 0) === (first === 'top')) === (i % 2 === 0)
          // Where blocks meet above and below, the line between is the mean of both.
          const meets = !isOwn && drawn[Math.max(0, y - 1) * WIDTH + x] !== drawn[Math.min(HEIGHT - 1, y + 1) * WIDTH + x]
          const off = data[y * WIDTH + x]! - drawn[y * WIDTH + x]!
          if (isOwn) own += off ** 2
          else if (!meets) between += off ** 2
        }
      // Root mean squares, of 255 levels: what coding adds.
      expect(Math.sqrt((2 * own) / (WIDTH * HEIGHT))).toBeLessThanOrEqual(2)
      expect(Math.sqrt((2 * between) / (WIDTH * HEIGHT))).toBeLessThanOrEqual(2)
    }
  })

  it('should give each field its own time, also where frames come unevenly', async () => {
    await woven('uneven.mp4', 'tff', { vfr: [20, 20, 20, 30] })
    const { source, made } = await split('uneven.mp4', 'top')
    const seconds = ({ table }: typeof made, i: number): number => ((table.pts[i]! - table.pts[0]!) * table.base.n) / table.base.d
    expect(source.table.rate).toBeNull()
    for (let i = 0; i + 1 < source.table.pts.length; i++) {
      expect(seconds(made, 2 * i)).toBeCloseTo(seconds(source, i), 6)
      expect(seconds(made, 2 * i + 1)).toBeCloseTo((seconds(source, i) + seconds(source, i + 1)) / 2, 6)
    }
  })

  it('should come out of the oldest ffmpeg that we carry as out of the newest', async () => {
    const old = await lookFor({
      CLAIMFRAME_FFMPEG: join('node_modules', '@ffmpeg-installer', 'linux-x64', 'ffmpeg'),
      CLAIMFRAME_FFPROBE: tool.ffprobe,
    })
    await woven('again.mp4', 'tff')
    const { made } = await split('again.mp4', 'top', old)
    for (const i of [0, 1, 6, 7, FIELDS - 1])
      expect(readPattern((await readFrame(tool, made, i, { format: 'gray' })).data, WIDTH, HEIGHT)).toBe(i)
  })
})
