import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import { fileUrl } from '../../main/media/file-url'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { readFilm } from '../../main/media/frame-scan'
import { runFfmpeg } from '../../main/media/process'
import { makePatternFilm, readPattern, type PatternFilm } from '../film-patterns'
import { eachFrame, renderDocument, wordless } from './render-document'

/// Films that are stored in another shape than they are shown in, or in other colours, or that cannot be entered by time.

let tool: FfmpegTool
let folder: string
beforeAll(async () => {
  tool = await findFfmpeg()
  folder = await mkdtemp(join(tmpdir(), 'odd-'))
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const base: PatternFilm = { frames: 90, rate: '30', width: 320, height: 180, gop: 25, bframes: 2 }
const films: readonly {
  readonly name: string
  readonly what: string
  readonly film: PatternFilm
  readonly shown: { readonly width: number; readonly height: number }
}[] = [
  { name: 'oblong.mp4', what: 'oblong pixels', film: { ...base, filter: 'setsar=4/3' }, shown: { width: 426, height: 180 } },
  {
    name: 'full.mp4',
    what: 'full-range colours',
    film: { ...base, filter: 'scale=out_range=pc,setparams=range=pc', output: ['-color_range', 'pc'] },
    shown: { width: 320, height: 180 },
  },
  {
    name: 'old.avi',
    what: 'a film without times',
    film: { ...base, codec: 'mpeg4', container: 'avi' },
    shown: { width: 320, height: 180 },
  },
  {
    name: 'odd.mkv',
    what: 'an odd number of lines',
    film: { ...base, width: 322, height: 182, filter: 'crop=321:181:0:0:exact=1', pixelFormat: 'yuv444p' },
    shown: { width: 321, height: 181 },
  },
]

for (const { name, what, film, shown } of films) {
  it(`should render ${what} upright, square and on the right frames`, async () => {
    await makePatternFilm(tool, join(folder, name), film)
    const head = (await readFilm(tool, join(folder, name))).head
    expect(Math.abs(head.width - shown.width)).toBeLessThanOrEqual(1)
    expect(head.height).toBe(shown.height)
    await expectPlanned(name, { width: 640, height: 360 })
  })
}

it('should render a turned film upright', async () => {
  await makePatternFilm(tool, join(folder, 'flat.mp4'), { ...base, filter: 'transpose=2' })
  await runFfmpeg(tool, [
    '-v',
    'error',
    '-y',
    '-i',
    join(folder, 'flat.mp4'),
    '-c',
    'copy',
    '-metadata:s:v:0',
    'rotate=270',
    fileUrl(join(folder, 'turned.mp4')),
  ])
  const { head } = await readFilm(tool, join(folder, 'turned.mp4'))
  expect([head.rotation, head.width, head.height]).toEqual([90, 320, 180])
  await expectPlanned('turned.mp4', { width: 640, height: 360 })
})

/// A run and a hold of the film: every frame must say the number that the plan says.
async function expectPlanned(file: string, size: { width: number; height: number }): Promise<void> {
  const breakdown: Breakdown = {
    ...wordless({ footage: [{ id: 'f1', file }], clips: [{ id: 'c1', footage: 'f1', from: 0, to: 90, capture: { factor: '1', u: 0 } }] }, [
      { run: 'c1', from: 31, to: 55, speed: '1/2' },
      { hold: 'c1', at: 71, seconds: '1/5' },
    ]),
    output: { ...size, rate: '30/1' },
  }
  const out = join(folder, 'film.mp4')
  const { plan } = await renderDocument(tool, breakdown, folder, { out })
  const shots = plan.programme.shots.slice(0, 2)
  const wanted = shots.flatMap((shot) => [...shot.panels[0]!.frames])
  const [x, y, width, height] = shots[0]!.panels[0]!.place
  const seen: number[] = []
  await eachFrame(tool, out, size, (pixels, n) => {
    if (n < wanted.length) seen.push(readPattern(pixels, size.width, size.height, { x, y, width, height }))
  })
  expect(seen).toEqual(wanted)
}
