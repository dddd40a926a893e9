import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Breakdown } from '../../app/project/breakdown'
import type { Shot } from '../../app/project/picture'
import { CodedError } from '../../app/errors/coded-error'
import { findFfmpeg, type FfmpegTool } from '../../main/media/find-ffmpeg'
import { fileUrl } from '../../main/media/file-url'
import { runFfmpeg } from '../../main/media/process'
import { filmFaces } from '../../main/render/faces'
import { drawContext } from '../../main/render/film-plan'
import { reviewFilm, type FilmReview } from '../../main/render/film-review'
import { makePatternFilm } from '../film-patterns'
import { renderDocument, wordless } from './render-document'

let folder: string
let tool: FfmpegTool

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'review-'))
  tool = await findFfmpeg()
  await makePatternFilm(tool, join(folder, 'numbers.mp4'), { frames: 90, rate: '60' })
  // 30 pictures a second: dark and light grey by turns, then black, then one picture that stands.
  const level = `if(lt(N,45),if(mod(N,2),170,205),if(lt(N,60),16,if(lt(N,120),90,120)))`
  await runFfmpeg(tool, [
    '-v',
    'error',
    '-y',
    '-f',
    'lavfi',
    '-i',
    `color=c=gray:s=320x180:r=30:d=5,geq=lum='${level}':cb=128:cr=128`,
    '-c:v',
    'libx264',
    '-qp',
    '4',
    fileUrl(join(folder, 'flashing.mp4')),
  ])
})

afterAll(() => rm(folder, { recursive: true, force: true }))

const filmed = (file: string, frames: number, shots: readonly Shot[], rate = '60/1'): Breakdown =>
  wordless(
    {
      output: { width: 640, height: 360, rate },
      footage: [{ id: 'f1', file }],
      clips: [
        { id: 'c1', footage: 'f1', from: 0, to: frames, capture: { factor: '1', u: 0 } },
        { id: 'c2', footage: 'f1', from: 0, to: frames, mirrored: true, capture: { factor: '1', u: 0 } },
      ],
      events: [
        { id: 'a', clip: 'c1', name: 'contact', earliest: 30, latest: 30 },
        { id: 'b', clip: 'c2', name: 'contact', earliest: 41, latest: 41 },
      ],
    },
    [...shots],
  )

async function reviewed(breakdown: Breakdown, file?: string): Promise<FilmReview> {
  const out = join(folder, 'film.mp4')
  const { plan } = await renderDocument(tool, breakdown, folder, { out })
  const faces = await filmFaces()
  const context = drawContext(plan.breakdown, plan.programme, plan.films, plan.readings, faces.typeface)
  return reviewFilm({ tool, file: file ?? out, programme: plan.programme, context, films: plan.films, folder })
}

const holds = (first: number): readonly Shot[] => [
  { hold: 'c1', at: first, seconds: '1/2', marks: [{ ring: [200, 90], radius: 30 }] },
  { hold: 'c2', at: 77, seconds: '1/2', frame: [80, 45, 160, 90] },
  {
    pair: [
      { clip: 'c1', event: 'a' },
      { clip: 'c2', event: 'b' },
    ],
    before: '1/4',
    after: '1/4',
    speed: '1/2',
    layout: 'beside',
    still: '1/2',
  },
]

describe('the review of a finished film', () => {
  it('finds every chosen frame in the decoded pictures, mirrored, cut out and beside another', async () => {
    const review = await reviewed(filmed('numbers.mp4', 90, holds(23)))
    expect(review.approved).toEqual({ frames: 4, compared: 4, shown: 4 })
    expect(review.remarks.filter((r) => r.weight === 'stop')).toEqual([])
  })

  it('finds that the next frame stands where another was chosen', async () => {
    const other = join(folder, 'other.mp4')
    await renderDocument(tool, filmed('numbers.mp4', 90, holds(24)), folder, { out: other })
    const review = await reviewed(filmed('numbers.mp4', 90, holds(23)), other)
    expect(review.approved).toEqual({ frames: 4, compared: 4, shown: 3 })
    expect(review.remarks.filter((r) => r.weight === 'stop').map((r) => [r.code, r.problem])).toEqual([
      ['frame-not-approved', 'frame 23 of c1 should stand here, and another picture does'],
    ])
  })

  it('finds flashes, black pictures and pictures that stand in rendered film, where they are', async () => {
    const review = await reviewed(filmed('flashing.mp4', 150, [{ run: 'c1', from: 0, to: 150, speed: '1' }], '30/1'))
    const card = review.flashes.frames - 150 - 3
    const at = (code: string): (number | null)[] => review.remarks.filter((r) => r.code === code).map((r) => r.frame)
    expect(review.flashes.general.exceeded).toBe(true)
    expect(at('flash')).toHaveLength(1)
    expect(at('flash')[0]).toBeLessThan(card + 45)
    expect(at('black')).toEqual([card + 45])
    expect(at('stands-still').length).toBeGreaterThan(0)
    expect(review.remarks.find((r) => r.code === 'flash')!.problem).toContain('W3C')
  })

  /// W3C, "general flash and red flash thresholds", on a screen of 1024 × 768, whose window is 341 × 256 pixels.
  describe('of the flash definition’s own cases, rendered and decoded', () => {
    /// 8-bit levels of relative luminance 0.40, 0.60, 0.85 and 0.95 (IEC 61966-2-1, backwards).
    const [dark, light, bright, brighter] = ['aaaaaa', 'cbcbcb', 'ededed', 'f9f9f9'] as const
    const whole = [1024, 768] as const
    const ofWindow = (share: number): readonly [number, number] => [341 * Math.sqrt(share), 256 * Math.sqrt(share)]
    const ofScreen = [1024 * Math.sqrt(0.24), 768 * Math.sqrt(0.24)] as const
    it.each([
      ['luminance 0.40 and 0.60 at 15 Hz', dark, light, 15, whole, 'general'],
      ['luminance 0.40 and 0.60 at 1 Hz', dark, light, 1, whole, 'none'],
      ['a block of 24 % of the window', dark, light, 15, ofWindow(0.24), 'none'],
      ['a block of 26 % of the window', dark, light, 15, ofWindow(0.26), 'general'],
      ['a block of 24 % of the screen', dark, light, 15, ofScreen, 'general'],
      ['saturated red at 15 Hz', '000000', 'ff0000', 15, whole, 'red'],
      ['luminance 0.85 and 0.95 at 15 Hz', bright, brighter, 15, whole, 'none'],
    ] as const)('%s', async (name, ground, flash, hertz, [width, height], exceeded) => {
      const file = `case-${name.replaceAll(/[^a-z0-9]+/g, '-')}.mp4`
      // Of whole pixels, as near to the share as they allow.
      const [w, h] = [Math.round(width), Math.round(height)]
      const block = `drawbox=x=${Math.round((1024 - w) / 2)}:y=${Math.round((768 - h) / 2)}:w=${w}:h=${h}:color=0x${flash}:t=fill:enable='mod(floor(${2 * hertz}*n/30+0.001),2)'`
      await runFfmpeg(tool, [
        '-v',
        'error',
        '-y',
        '-f',
        'lavfi',
        '-i',
        `color=c=0x${ground}:s=1024x768:r=30:d=1.5,format=yuv444p,${block}`,
        '-pix_fmt',
        'yuv420p',
        '-c:v',
        'libx264',
        '-preset',
        'veryfast',
        '-qp',
        '2',
        '-colorspace',
        'smpte170m',
        '-color_range',
        'tv',
        fileUrl(join(folder, file)),
      ])
      const { flashes } = await reviewed({
        ...filmed(file, 45, [{ run: 'c1', from: 0, to: 45, speed: '1' }], '30/1'),
        output: { width: 1024, height: 768, rate: '30/1' },
      })
      expect([flashes.general.exceeded && 'general', flashes.red.exceeded && 'red'].filter(Boolean)).toEqual(
        exceeded === 'none' ? [] : exceeded === 'red' ? expect.arrayContaining(['red']) : [exceeded],
      )
    })
  })

  it('reads contrast where a word begins, not only where it ends', async () => {
    // A film that lost the word's plate, and whose picture is light first and black at the end.
    const run = { run: 'c1', from: 30, to: 60, speed: '1/2' } as const
    const bare = join(folder, 'bare.mp4')
    await renderDocument(tool, filmed('flashing.mp4', 150, [run], '30/1'), folder, { out: bare })
    const review = await reviewed(
      filmed('flashing.mp4', 150, [{ ...run, marks: [{ word: 'the hand drops', at: [60, 90] }] }], '30/1'),
      bare,
    )
    expect(review.remarks.filter(({ code }) => code === 'contrast-low').map(({ problem }) => problem)).toEqual([
      expect.stringMatching(/^“the hand drops” stands out at 1\.\d\d : 1/),
    ])
  })

  it('keeps a film that flashes from its name when the whole film is made', async () => {
    const { renderFilm } = await import('../../main/render/render-film')
    const out = join(folder, 'kept.mp4')
    const { plan } = await renderDocument(tool, filmed('flashing.mp4', 150, [{ run: 'c1', from: 0, to: 60, speed: '1' }], '30/1'), folder, {
      out: join(folder, 'draft.mp4'),
    })
    const { FilmLibrary } = await import('../../main/media/film-library')
    const library = new FilmLibrary(tool, folder, join(folder, 'cache'), 'confined')
    const rendering = renderFilm({ plan, library, faces: await filmFaces(), out, cache: join(folder, 'cache'), review: true })
    await expect(rendering).rejects.toThrow(CodedError)
    await expect(rendering).rejects.toThrow(/flashes within one second/)
    await expect(readFile(out)).rejects.toThrow(/ENOENT/)
  })
})
