import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { CodedError } from '../../app/errors/coded-error'
import { fileUrl } from '../../main/media/file-url'
import { probeFilm } from '../../main/media/film-report'
import { readFilm } from '../../main/media/frame-scan'
import { readFrame } from '../../main/media/exact-frame'
import { runFfmpeg, runProgram } from '../../main/media/process'
import { builds } from '../ffmpeg-builds'
import { makePatternFilm, readPattern } from '../film-patterns'

/// Whatever is handed in as a film: an error with a code that names the file, and nothing written.

let folder = ''
let asked: string[] = []
const server = createServer((request, answer) => {
  asked.push(request.url ?? '')
  answer.end()
})

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-bad-'))
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done))
  const address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`
  const tool = await builds[0]!.tool()
  const at = (name: string): string => join(folder, name)
  const film = { frames: 120, rate: '25', bframes: 2, gop: 25 }
  await makePatternFilm(tool, at('index-last.mp4'), film)
  await makePatternFilm(tool, at('index-first.mp4'), { ...film, output: ['-movflags', '+faststart'] })
  await makePatternFilm(tool, at('whole.mkv'), film)
  await makePatternFilm(tool, at('whole.avi'), { ...film, codec: 'mpeg4' })
  const cut = async (from: string, to: string, share: number): Promise<void> => {
    const bytes = await readFile(at(from))
    await writeFile(at(to), bytes.subarray(0, Math.floor(bytes.length * share)))
  }
  await cut('index-last.mp4', 'cut-without-index.mp4', 0.7)
  await cut('index-first.mp4', 'cut-after-index.mp4', 0.7)
  await cut('index-first.mp4', 'cut-in-head.mp4', 0.05)
  await cut('whole.mkv', 'cut.mkv', 0.7)
  await cut('whole.avi', 'cut.avi', 0.7)
  await writeFile(at('empty.mp4'), '')
  await writeFile(at('words.mp4'), 'This is a note, and not a film.\n'.repeat(50))
  await writeFile(at('noise.mp4'), Buffer.from(Array.from({ length: 50_000 }, (_, i) => ((i * 2654435761) >>> 13) & 255)))
  await writeFile(
    at('playlist.mp4'),
    `#EXTM3U\n#EXT-X-VERSION:3\n#EXT-X-TARGETDURATION:10\n#EXTINF:10,\n${address}/part.ts\n#EXT-X-ENDLIST\n`,
  )
  await writeFile(at('local-playlist.mp4'), `#EXTM3U\n#EXT-X-VERSION:3\n#EXT-X-TARGETDURATION:10\n#EXTINF:10,\nwhole.mkv\n#EXT-X-ENDLIST\n`)
  await writeFile(at('list.mp4'), 'ffconcat version 1.0\nfile whole.mkv\n')
  await writeFile(
    at('session.mp4'),
    'v=0\no=- 0 0 IN IP4 127.0.0.1\ns=x\nc=IN IP4 127.0.0.1\nt=0 0\nm=video 5004 RTP/AVP 96\na=rtpmap:96 H264/90000\n',
  )
  await mkdir(at('folder.mp4'))
  await runProgram('mkfifo', [at('pipe.mp4')])
  const make = (input: readonly string[], out: readonly string[], name: string): Promise<void> =>
    runFfmpeg(tool, ['-v', 'error', '-y', '-f', 'lavfi', ...input, ...out, fileUrl(at(name))])
  await make(['-i', 'sine=d=1'], [], 'sound.wav')
  await make(['-i', 'sine=d=1'], ['-c:a', 'aac'], 'sound.mp4')
  await make(['-i', 'sine=d=1'], ['-c:a', 'aac'], 'sound.mkv')
  await make(['-i', 'testsrc=d=1'], ['-frames:v', '1'], 'still.png')
  await make(['-i', 'testsrc=d=1'], ['-frames:v', '1'], 'still.jpg')
  await make(['-i', 'testsrc=d=1'], ['-frames:v', '1', '-c:v', 'png', '-f', 'image2pipe'], 'still.mp4')
  await make(
    ['-i', 'sine=d=1', '-i', at('still.png')],
    ['-map', '0', '-map', '1', '-c:v', 'copy', '-disposition:v:0', 'attached_pic', '-c:a', 'aac', '-f', 'mp4'],
    'cover.mp4',
  )
  await make(['-i', 'testsrc=d=1'], ['-t', '0', '-c:v', 'libx264'], 'no-time.mp4')
})
afterAll(async () => {
  server.close()
  await rm(folder, { recursive: true, force: true })
})

const cases: readonly (readonly [name: string, code: string])[] = [
  ['not-there.mp4', 'file-missing'],
  ['words.mp4/inside.mp4', 'file-missing'],
  ['folder.mp4', 'file-unreadable'],
  ['pipe.mp4', 'file-unreadable'],
  ['empty.mp4', 'film-empty'],
  ['no-time.mp4', 'film-empty'],
  ['words.mp4', 'not-a-video'],
  ['noise.mp4', 'not-a-video'],
  ['playlist.mp4', 'not-a-video'],
  ['local-playlist.mp4', 'not-a-video'],
  ['list.mp4', 'not-a-video'],
  ['session.mp4', 'not-a-video'],
  ['sound.wav', 'no-picture'],
  ['sound.mp4', 'no-picture'],
  ['sound.mkv', 'no-picture'],
  ['cover.mp4', 'no-picture'],
  ['still.png', 'no-picture'],
  ['still.jpg', 'no-picture'],
  ['still.mp4', 'no-picture'],
  ['cut-without-index.mp4', 'film-damaged'],
  ['cut-after-index.mp4', 'film-damaged'],
  ['cut-in-head.mp4', 'film-damaged'],
  ['cut.mkv', 'film-damaged'],
  ['cut.avi', 'film-damaged'],
]

describe.each(builds)('bad input with $name', ({ tool }) => {
  it.each(cases)('%s is refused as %s', async (name, code) => {
    const path = join(folder, name)
    const before = (await readdir(folder)).sort()
    asked = []
    const error = await probeFilm(await tool(), path).then(
      () => null,
      (x: unknown) => x,
    )
    expect(error).toBeInstanceOf(CodedError)
    expect((error as CodedError).code, String(error)).toBe(code)
    expect((error as CodedError).message).toContain(path)
    expect((await readdir(folder)).sort()).toEqual(before)
    expect(asked).toEqual([])
  })

  it.runIf(process.platform === 'linux')('a file that the system will not let be read is refused, for root too', async () => {
    await expect(readFilm(await tool(), '/proc/self/mem')).rejects.toMatchObject({
      code: 'file-unreadable',
      parameters: { file: '/proc/self/mem' },
    })
  })
})

describe('names', () => {
  it.each([
    '-i.mp4',
    "it's.mp4",
    'a "b".mp4',
    'a:b.mp4',
    'http:x.mp4',
    '100%.mp4',
    '%03d.mp4',
    'a\nb.mp4',
    '[in],b;c=d.mp4',
    'säge 斧.mp4',
    ' blank .mp4',
    '$(x)`y`.mp4',
    'back\\slash.mp4',
  ])('%j is only a name', async (name) => {
    const tool = await builds[0]!.tool()
    const path = join(folder, name)
    await makePatternFilm(tool, path, { frames: 12, rate: '25' })
    const film = await readFilm(tool, path)
    expect(film.table.pts.length).toBe(12)
    const frame = await readFrame(tool, film, 9, { format: 'gray' })
    expect(readPattern(frame.data, frame.width, frame.height)).toBe(9)
    await rm(path)
  })
})
