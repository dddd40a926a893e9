import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { formatRational, rational } from '../../../app/time/rational'
import { enterAt, readFrame, seekTo, type Film } from '../../../main/media/exact-frame'
import { fileUrl } from '../../../main/media/file-url'
import { findFfmpeg, lookFor, type FfmpegTool } from '../../../main/media/find-ffmpeg'
import { readFilm } from '../../../main/media/frame-scan'
import { everyFrame } from '../../../main/media/frame-scan-decoded'
import { runFfmpeg, streamFfmpeg } from '../../../main/media/process'
import { makePatternFilm, readPattern, type PatternFilm } from '../../film-patterns'

/// Every way into a film is checked by what the frame itself says, on the system's ffmpeg and on the
/// oldest one we allow.

let folder: string
const tools: FfmpegTool[] = []
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-exact-'))
  const system = await findFfmpeg()
  const floor = await lookFor({ PATH: '' })
  tools.push(system, floor)
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const rates = ['24000/1001', '25', '30000/1001', '50', '60000/1001', '60', '120', '240']
const films: [string, PatternFilm][] = [
  ...rates.map((rate): [string, PatternFilm] => [`${rate.replace('/', '-')}.mp4`, { frames: 90, rate, bframes: 3, gop: 25 }]),
  ['ms-240.mkv', { frames: 90, rate: '240', bframes: 3, gop: 25 }],
  ['ms-29.mkv', { frames: 90, rate: '30000/1001', bframes: 2, gop: 250 }],
  ['long-gop.mp4', { frames: 300, rate: '60', bframes: 3, gop: 300 }],
  ['sound.mp4', { frames: 90, rate: '60', bframes: 3, gop: 25, sound: true }],
  ['late.mp4', { frames: 90, rate: '60', bframes: 3, gop: 25, sound: true, output: ['-output_ts_offset', '5'] }],
  ['quick.mov', { frames: 90, rate: '30000/1001', bframes: 3, gop: 25, sound: true }],
  ['variable.mkv', { frames: 90, rate: '30', vfr: [33, 33, 34, 50, 8, 17, 100], bframes: 2, gop: 25 }],
  ['variable.mp4', { frames: 90, rate: '30', vfr: [33, 33, 34, 50, 8, 17, 100], bframes: 2, gop: 25 }],
  ['stream.ts', { frames: 200, rate: '50', bframes: 3, gop: 12 }],
  ['stream-sound.ts', { frames: 200, rate: '30000/1001', bframes: 2, gop: 30, sound: true }],
  ['stream-one-group.ts', { frames: 90, rate: '50', bframes: 2, gop: 300 }],
  [
    'hevc.mp4',
    { frames: 60, rate: '60', codec: 'libx265', gop: 25, output: ['-preset', 'ultrafast', '-x265-params', 'log-level=error:open-gop=1'] },
  ],
  [
    'open-gop.mp4',
    { frames: 90, rate: '30000/1001', bframes: 3, gop: 25, output: ['-x264-params', 'bframes=3:b-adapt=0:scenecut=0:open-gop=1'] },
  ],
  ['prores.mov', { frames: 40, rate: '25', codec: 'prores', pixelFormat: 'yuv422p10le' }],
  [
    'vp9.webm',
    { frames: 60, rate: '30', codec: 'libvpx-vp9', gop: 20, output: ['-deadline', 'realtime', '-cpu-used', '8', '-b:v', '500k'] },
  ],
  ['h264.avi', { frames: 60, rate: '25', bframes: 2, gop: 12 }],
  ['mpeg4.avi', { frames: 60, rate: '25', codec: 'mpeg4', bframes: 2, gop: 12 }],
  ['mpeg2.mpg', { frames: 60, rate: '25', codec: 'mpeg2video', bframes: 2, gop: 12 }],
  [
    'vp8.webm',
    {
      frames: 60,
      rate: '30',
      codec: 'libvpx',
      gop: 20,
      output: ['-auto-alt-ref', '1', '-lag-in-frames', '8', '-b:v', '500k', '-deadline', 'realtime', '-cpu-used', '8'],
    },
  ],
]

/// First frames out of the film when entered at each index in turn.
async function entered(tool: FfmpegTool, film: Film, index: number, count: number): Promise<number[]> {
  const { input, filter } = enterAt(film, index)
  const chunks: Buffer[] = []
  await streamFfmpeg(
    tool,
    [
      '-v',
      'error',
      ...input,
      '-map',
      `0:${film.head.stream}`,
      '-vf',
      [filter, 'scale=80:48:flags=area', 'format=gray'].filter(Boolean).join(','),
      ...everyFrame(tool),
      '-frames:v',
      String(count),
      '-f',
      'rawvideo',
      'pipe:1',
    ],
    { onStdout: (c) => void chunks.push(c) },
  )
  const all = Buffer.concat(chunks)
  return Array.from({ length: all.length / 3840 }, (_, i) => readPattern(all.subarray(i * 3840, (i + 1) * 3840), 80, 48))
}

describe('entering a film', () => {
  it.each(films)('%s shows the frame asked for', { timeout: 60_000 }, async (name, spec) => {
    const path = join(folder, name)
    await makePatternFilm(tools[0]!, path, spec)
    const film = await readFilm(tools[0]!, path)
    expect(film.table.pts.length).toBe(spec.frames)
    if (!spec.vfr) expect(film.table.rate && formatRational(film.table.rate)).toBe(spec.rate)
    else expect(film.table.rate).toBeNull()
    const wrong: string[] = []
    const last = spec.frames - 1
    for (const tool of tools)
      for (const index of [0, 1, 24, 25, 26, 49, 51, last].filter((i) => i <= last)) {
        const shown = await entered(tool, film, index, 2)
        const wanted = index === last ? [index] : [index, index + 1]
        if (shown.join() !== wanted.join())
          wrong.push(`${tool.version} ${name} ${index}: ${shown.join()} (${JSON.stringify(seekTo(film, index))})`)
      }
    expect(wrong).toEqual([])
  })
})

describe('an edit list', () => {
  it('hides the frames before its start, and the rest is entered exactly', { timeout: 60_000 }, async () => {
    const whole = join(folder, 'whole.mp4')
    await makePatternFilm(tools[0]!, whole, { frames: 90, rate: '30000/1001', bframes: 3, gop: 25 })
    const path = join(folder, 'edited.mp4')
    await runFfmpeg(tools[0]!, ['-v', 'error', '-ss', '1.2', '-i', fileUrl(whole), '-c', 'copy', fileUrl(path)])
    const film = await readFilm(tools[0]!, path)
    expect(film.scan).toMatchObject({ hidden: 11, method: 'packets', seek: 'exact' })
    const first = (await entered(tools[0]!, film, 0, 1))[0]!
    expect(first).toBe(36)
    for (const tool of tools)
      for (let index = 0; index < film.table.pts.length; index += 9)
        expect((await entered(tool, film, index, 1))[0], `${tool.version} ${index}`).toBe(first + index)
  })
})

describe('a picture that starts apart from its sound', () => {
  it.each([
    ['later.mp4', '0.7'],
    ['later.mkv', '0.7'],
    ['sooner.mp4', '-0.4'],
  ] as const)('%s is entered exactly', { timeout: 60_000 }, async (name, offset) => {
    const flat = join(folder, 'for-offset.mp4')
    await makePatternFilm(tools[0]!, flat, { frames: 90, rate: '60', bframes: 3, gop: 25, sound: true })
    const path = join(folder, name)
    await runFfmpeg(tools[0]!, [
      '-v',
      'error',
      '-y',
      '-itsoffset',
      offset,
      '-i',
      fileUrl(flat),
      '-i',
      fileUrl(flat),
      '-map',
      '0:v',
      '-map',
      '1:a',
      '-c',
      'copy',
      fileUrl(path),
    ])
    const film = await readFilm(tools[0]!, path)
    const first = (await entered(tools[0]!, film, 0, 1))[0]!
    expect(first + film.table.pts.length).toBe(90)
    for (const tool of tools)
      for (const index of [1, 24, 25, 26, 55])
        expect((await entered(tool, film, index, 1))[0], `${tool.version} ${index}`).toBe(first + index)
  })
})

describe('readFrame', () => {
  it('answers grey, RGB and PNG of the upright square-pixel picture', async () => {
    const path = join(folder, 'turned.mp4')
    const flat = join(folder, 'flat.mp4')
    await makePatternFilm(tools[0]!, flat, { frames: 20, rate: '25', width: 320, height: 200, filter: 'setsar=3/2' })
    // ffmpeg 5.1 writes this as a quarter turn to the left.
    await runFfmpeg(tools[0]!, ['-v', 'error', '-i', fileUrl(flat), '-c', 'copy', '-metadata:s:v:0', 'rotate=90', fileUrl(path)])
    const film = await readFilm(tools[0]!, path)
    expect(film.head).toMatchObject({ width: 200, height: 480, rotation: 270, sampleAspect: rational(2, 3) })
    for (const tool of tools) {
      const upright = await readFrame(tool, film, 7, { format: 'gray' })
      expect([upright.width, upright.height]).toEqual([200, 480])
      const lying = new Uint8Array(200 * 480)
      for (let y = 0; y < 200; y++) for (let x = 0; x < 480; x++) lying[y * 480 + x] = upright.data[(479 - x) * 200 + y]!
      expect(readPattern(lying, 480, 200), tool.version).toBe(7)
    }
    const rgb = await readFrame(tools[0]!, film, 7, { width: 100 })
    expect([rgb.width, rgb.height, rgb.data.length]).toEqual([100, 240, 72_000])
    const png = await readFrame(tools[0]!, film, 7, { format: 'png' })
    expect(png.data.subarray(1, 4).toString()).toBe('PNG')
    expect([png.data.readUInt32BE(16), png.data.readUInt32BE(20)]).toEqual([200, 480])
  })
  it('refuses a frame that the film has not', async () => {
    const film = await readFilm(tools[0]!, join(folder, 'flat.mp4'))
    await expect(readFrame(tools[0]!, film, 20)).rejects.toThrow(RangeError)
  })
})
