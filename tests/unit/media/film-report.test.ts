import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { secondsAt } from '../../../app/time/frame-table'
import { fileUrl } from '../../../main/media/file-url'
import { describeFilm } from '../../../main/media/film-description'
import { probeFilm, type FilmReport } from '../../../main/media/film-report'
import { findFfmpeg, type FfmpegTool } from '../../../main/media/find-ffmpeg'
import { readFilm } from '../../../main/media/frame-scan'
import { openFilm } from '../../../main/media/probe'
import { runFfmpeg } from '../../../main/media/process'
import { scanPictures } from '../../../main/media/picture-scan'
import { builds } from '../../ffmpeg-builds'
import { makePatternFilm } from '../../film-patterns'

const walk = join(import.meta.dirname, '../../data/video/asl_walk.mkv')
const ball = join(import.meta.dirname, '../../data/video/bmc_projetil.mp4')

let folder = ''
let tool: FfmpegTool
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-report-'))
  tool = await findFfmpeg()
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const at = (name: string): string => join(folder, name)
const make = (args: readonly string[], name: string): Promise<void> => runFfmpeg(tool, ['-v', 'error', '-y', ...args, fileUrl(at(name))])
const h264 = ['-c:v', 'libx264', '-preset', 'ultrafast']
const codes = (report: FilmReport): string[] => report.findings.map((f) => f.code)

describe.each(builds)('real films with $name', ({ tool: build }) => {
  it('the signer: 30 frames a second behind a millisecond clock, full range, nothing to warn of', async () => {
    const report = await probeFilm(await build(), walk)
    expect(report).toMatchObject({
      frames: 89,
      rate: '30',
      picture: { width: 640, height: 480, rotation: 0 },
      colour: { range: 'pc', hdr: false },
      sound: null,
      fields: { interlaced: false },
      findings: [],
    })
    expect(report.pictures).toMatchObject({ repeats: [], blends: [], cuts: [], stills: [] })
  })
  it('the ball: 138 frames at exactly 8694000/72439 a second, at the times of the stored track', async () => {
    const film = await readFilm(await build(), ball)
    expect(film.table.rate).toEqual({ n: 8_694_000, d: 72_439 })
    expect(film.head).toMatchObject({ width: 1080, height: 1920, colour: { matrix: 'bt709', range: 'tv', hdr: false } })
    const rows = (await readFile(join(import.meta.dirname, '../../data/video/bmc_projetil_blob_track_px.csv'), 'utf8'))
      .split('\n')
      .filter((line) => /^\d/.test(line))
      .map((line) => line.split(',').map(Number))
    expect(rows).toHaveLength(138)
    for (const [frame, seconds] of rows) expect(Math.abs(secondsAt(film.table, frame!) - seconds!)).toBeLessThanOrEqual(0.0006)
    const report = await probeFilm(await build(), ball)
    expect(codes(report)).toEqual(['high-rate'])
  })
})

describe('probeFilm', () => {
  it('names frames that were repeated to reach a rate', async () => {
    await make(['-i', fileUrl(walk), '-vf', 'fps=75/2', ...h264], 'repeats.mp4')
    const report = await probeFilm(tool, at('repeats.mp4'))
    expect(report).toMatchObject({ rate: '75/2', pictures: { cycle: { repeated: 1, of: 5 }, effectiveRate: 30 } })
    expect(codes(report)).toContain('repeated-frames')
    expect(describeFilm(report)).toContain('1 of every 5 frames repeats the one before: only 30 frames a second were shot.')
  })
  it('names frames that a converter mixed', async () => {
    await make(['-i', fileUrl(walk), '-vf', 'minterpolate=fps=60:mi_mode=blend', ...h264], 'blends.mp4')
    const report = await probeFilm(tool, at('blends.mp4'))
    const odd = report.pictures!.blends.filter((frame) => frame % 2 === 1)
    expect(odd.length).toBeGreaterThanOrEqual(80)
    expect(report.pictures!.blends).toEqual(odd)
    expect(codes(report)).toContain('blended-frames')
  })
  it('finds the cuts of a film that was joined from three pieces, and none at a flash', async () => {
    const size = 'scale=640:480,setsar=1,fps=30'
    await make(
      [
        '-i',
        fileUrl(walk),
        '-i',
        fileUrl(ball),
        '-filter_complex',
        `[0:v]${size},trim=end_frame=40,setpts=PTS-STARTPTS,split[a][b];[1:v]${size},trim=end_frame=25,setpts=PTS-STARTPTS[c];[a][c][b]concat=n=3:v=1`,
        ...h264,
      ],
      'cuts.mp4',
    )
    const report = await probeFilm(tool, at('cuts.mp4'))
    expect(report.pictures?.cuts.map((c) => c.frame)).toEqual([40, 65])
    await make(['-i', fileUrl(walk), '-vf', "eq=brightness='if(eq(n,40),0.5,0)':eval=frame", ...h264], 'flash.mp4')
    expect((await probeFilm(tool, at('flash.mp4'))).pictures?.cuts).toEqual([])
  })
  it('tells fields that show two instants from a mere declaration of fields', async () => {
    const fields = ['-flags', '+ilme+ildct', '-c:v', 'mpeg2video', '-q:v', '3', '-top', '1']
    await make(['-f', 'lavfi', '-i', 'testsrc2=s=720x576:r=50:d=1', '-vf', 'interlace=scan=tff', ...fields], 'fields.mkv')
    expect(await probeFilm(tool, at('fields.mkv'))).toMatchObject({ fields: { declared: 'top', interlaced: true } })
    // Without -top the muxer declares the order "swapped"; the frames still say top first.
    await make(['-f', 'lavfi', '-i', 'testsrc2=s=720x576:r=50:d=1', '-vf', 'interlace=scan=tff', ...fields.slice(0, -2)], 'swapped.mkv')
    expect((await openFilm(tool, at('swapped.mkv'))).fieldOrder).toBe('top')
    await make(['-i', fileUrl(walk), '-vf', 'setfield=tff', ...fields], 'declared.mkv')
    const declared = await probeFilm(tool, at('declared.mkv'))
    expect(declared.fields.interlaced).toBe(false)
    expect(declared.findings.find((f) => f.code === 'interlaced')?.weight).toBe('note')
  })
  it('reports a varying rate, missing frames and a rate that the container claims wrongly', async () => {
    await makePatternFilm(tool, at('varies.mkv'), { frames: 60, rate: '30', vfr: [33, 20, 61, 17] })
    expect(codes(await probeFilm(tool, at('varies.mkv'), { pictures: false }))).toContain('variable-rate')
    await makePatternFilm(tool, at('gaps.mkv'), { frames: 60, rate: '25', vfr: [...Array<number>(19).fill(40), 80] })
    const gaps = await probeFilm(tool, at('gaps.mkv'), { pictures: false })
    expect(gaps.intervals?.gaps.map((g) => g.frame)).toEqual([19, 39])
    expect(codes(gaps)).toContain('missing-frames')
    await makePatternFilm(tool, at('claims.mkv'), { frames: 60, rate: '30', vfr: [40] })
    const claims = await probeFilm(tool, at('claims.mkv'), { pictures: false })
    expect(claims).toMatchObject({ frames: 60, rate: '25', containerRate: { claimed: '30' } })
    expect(codes(claims)).toEqual(['rate-differs'])
    await makePatternFilm(tool, at('old.avi'), { frames: 30, rate: '25', bframes: 2, gop: 12 })
    expect(codes(await probeFilm(tool, at('old.avi'), { pictures: false }))).toContain('entered-from-start')
  })
  it('reports colour, pixel shape, turn and the rate that a phone says it shot at', async () => {
    await make(
      [
        '-f',
        'lavfi',
        '-i',
        'testsrc2=s=320x200:r=25:d=1',
        '-vf',
        'setsar=4/3,format=yuv420p10le',
        '-c:v',
        'libx264',
        '-preset',
        'ultrafast',
        '-color_trc',
        'smpte2084',
        '-color_primaries',
        'bt2020',
        '-colorspace',
        'bt2020nc',
        '-color_range',
        'tv',
      ],
      'hdr.mp4',
    )
    const hdr = await probeFilm(tool, at('hdr.mp4'), { pictures: false })
    expect(hdr).toMatchObject({
      picture: { width: 427, height: 200, sampleAspect: '4:3' },
      colour: { hdr: true, transfer: 'smpte2084', bits: 10 },
    })
    expect(codes(hdr)).toEqual(expect.arrayContaining(['high-dynamic-range', 'oblong-pixels']))
    await makePatternFilm(tool, at('slow.mp4'), {
      frames: 50,
      rate: '30',
      output: ['-movflags', 'use_metadata_tags', '-metadata', 'com.android.capture.fps=240.000000'],
    })
    const slow = await probeFilm(tool, at('slow.mp4'), { pictures: false })
    expect(slow.capture).toEqual({ cameraSays: '240', possibleFactor: '8' })
    expect(codes(slow)).toContain('slowed-by-camera')
  })
  it('can be cancelled, and counts its progress up to 1', async () => {
    const seen: number[] = []
    await probeFilm(tool, ball, { onProgress: (x) => seen.push(x) })
    expect(seen.length).toBeGreaterThan(20)
    expect(seen).toEqual([...seen].sort((a, b) => a - b))
    expect(seen.at(-1)).toBe(1)
    const abort = new AbortController()
    await expect(probeFilm(tool, ball, { signal: abort.signal, onProgress: (x) => void (x > 0.3 && abort.abort()) })).rejects.toMatchObject(
      { code: 'cancelled' },
    )
  })
})

describe('scanPictures', () => {
  it('decodes as many frames as the table has', async () => {
    const film = await readFilm(tool, walk)
    const scan = await scanPictures(tool, film)
    expect(scan.frames).toBe(89)
    expect(scan.changes).toHaveLength(88)
  })
})

describe('openFilm', () => {
  it('sees a mirrored display matrix', async () => {
    await makePatternFilm(tool, at('plain.mp4'), { frames: 10, rate: '25' })
    const bytes = await readFile(at('plain.mp4'))
    expect((await openFilm(tool, at('plain.mp4'))).oddMatrix).toBe(false)
    const matrix = Buffer.from('000100000000000000000000000000000001000000000000000000000000000040000000', 'hex')
    const place = bytes.indexOf(matrix, bytes.indexOf('tkhd'))
    expect(place).toBeGreaterThan(0)
    bytes.writeInt32BE(-0x10000, place)
    await writeFile(at('mirrored.mp4'), bytes)
    expect((await openFilm(tool, at('mirrored.mp4'))).oddMatrix).toBe(true)
  })
})
