import { mkdir, readFile, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Breakdown } from '../../../app/project/breakdown'
import { FINAL } from '../../../app/render/encoding'
import { fileUrl } from '../../../main/media/file-url'
import { FilmLibrary } from '../../../main/media/film-library'
import { findFfmpeg } from '../../../main/media/find-ffmpeg'
import { runFfmpeg } from '../../../main/media/process'
import { filmFaces } from '../../../main/render/faces'
import { planFilm } from '../../../main/render/film-plan'
import { renderFilm } from '../../../main/render/render-film'
import type { Comparison } from '../comparison'

/// 5 s at full speed, 5 s at a quarter with a ring that follows, a 4 s hold with a value, two clips side by
/// side for 4 s at an eighth, a card.
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two right hands',
  output: { width: 1920, height: 1080, rate: '60/1' },
  footage: [{ id: 'f1', file: 'bout.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 1200, capture: { factor: '1', u: 0 } }],
  events: [
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 400, latest: 400 },
    { id: 'e2', clip: 'c1', name: 'contact', earliest: 900, latest: 900 },
  ],
  landmarks: [
    ...(['hip.left', 'knee.left', 'ankle.left'] as const).map((point, i) => ({
      clip: 'c1',
      subject: 's1',
      point,
      samples: [{ frame: 400, at: [900 + 60 * (i % 2), 400 + 200 * i] as [number, number], sigma: 4 }],
    })),
    {
      clip: 'c1',
      subject: 's1',
      point: 'wrist.left',
      samples: Array.from({ length: 75 }, (_, i) => ({
        frame: 330 + i,
        at: [700 + 4 * i, 500 + 60 * Math.sin(i / 12)] as [number, number],
        sigma: 4,
      })),
    },
  ],
  measures: [{ id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 400, points: ['hip.left', 'knee.left', 'ankle.left'] }],
  script: [
    {
      id: 'p1',
      text: [],
      shots: [
        { run: 'c1', from: 100, to: 400, speed: '1' },
        { run: 'c1', from: 330, to: 405, speed: '1/4', marks: [{ ring: { subject: 's1', point: 'wrist.left' }, radius: 60 }] },
        { hold: 'c1', at: 400, seconds: '4', marks: ['m1'] },
        {
          pair: [
            { clip: 'c1', event: 'e1' },
            { clip: 'c1', event: 'e2' },
          ],
          before: '1/4',
          after: '1/4',
          speed: '1/8',
          layout: 'beside',
        },
        { card: 'caution', seconds: '4' },
      ],
    },
  ],
}

async function planned(folder: string): Promise<{
  plan: Awaited<ReturnType<typeof planFilm>>
  library: FilmLibrary
  faces: Awaited<ReturnType<typeof filmFaces>>
  cache: string
}> {
  const cache = join(folder, 'cache')
  const library = new FilmLibrary(await findFfmpeg(), folder, cache, 'confined')
  const faces = await filmFaces()
  return { plan: await planFilm({ breakdown, library, typeface: faces.typeface, takes: new Map(), draft: false }), library, faces, cache }
}

export const renderFilmTrial: Comparison = {
  name: 'render-film',
  question:
    'A whole 1080p60 film of 22 s (run, slow run with a following mark, hold with a value, pair, card) from nothing, against one ffmpeg command written by hand for the same pictures with the same encoder settings.',
  rounds: 5,
  async programs() {
    return `ffmpeg ${(await findFfmpeg()).version}`
  },
  async prepare(folder) {
    const tool = await findFfmpeg()
    await runFfmpeg(tool, [
      '-v',
      'error',
      '-y',
      '-f',
      'lavfi',
      '-i',
      'testsrc2=s=1920x1080:r=60:d=20,noise=alls=6:allf=t',
      '-c:v',
      'libx264',
      '-preset',
      'veryfast',
      '-g',
      '250',
      '-pix_fmt',
      'yuv420p',
      fileUrl(join(folder, 'bout.mp4')),
    ])
    const { plan, faces } = await planned(folder)
    await rm(join(folder, 'cache'), { recursive: true, force: true })
    await mkdir(join(folder, 'fonts'))
    for (const [i, file] of faces.files.entries()) await writeFile(join(folder, 'fonts', `${i}.ttf`), await readFile(file))
    for (const [i, job] of plan.jobs.entries()) await writeFile(join(folder, `marks-${i}.ass`), job.ass ?? '')
  },
  contenders: [
    {
      name: 'one ffmpeg command, written by hand',
      async run(folder) {
        const tool = await findFfmpeg()
        const marks = (i: number): string => `settb=1/1000,setpts=N*100,ass=marks-${i}.ass:fontsdir=fonts,settb=1/60,setpts=N`
        const colour = 'scale=in_color_matrix=bt709:out_color_matrix=bt709:out_range=tv,format=yuv420p,setsar=1'
        const graph = [
          `[0:v]trim=end_frame=300,${colour},setpts=N/60/TB,fps=60[a]`,
          `[1:v]trim=end_frame=75,${colour},setpts=4*N/60/TB,fps=60,trim=end_frame=300,${marks(1)}[b]`,
          `[2:v]trim=end_frame=1,${colour},loop=loop=240:size=1:start=0,settb=1/60,setpts=N,fps=60,trim=end_frame=240,${marks(2)}[c]`,
          `[3:v]trim=end_frame=30,scale=958:538,${colour},setpts=8*N/60/TB,fps=60,trim=end_frame=240,pad=1920:1080:0:270[l]`,
          `[4:v]trim=end_frame=30,scale=958:538,${colour},setpts=8*N/60/TB,fps=60,trim=end_frame=240[r]`,
          `[l][r]overlay=x=962:y=270:format=yuv420,${marks(3)}[d]`,
          `color=c=0x14181b:s=1920x1080:r=60,format=yuv420p,trim=end_frame=240,${marks(4)}[e]`,
          `[a][b][c][d][e]concat=n=5,fps=60[v]`,
        ].join(';')
        const from = (frame: number): string[] => ['-ss', ((frame - 0.5) / 60).toFixed(6), '-i', 'bout.mp4']
        await runFfmpeg(
          tool,
          [
            '-v',
            'error',
            '-y',
            ...from(100),
            ...from(330),
            ...from(400),
            ...from(385),
            ...from(885),
            '-f',
            'lavfi',
            '-i',
            'anullsrc=r=48000:cl=stereo',
            '-filter_complex',
            graph,
            '-map',
            '[v]',
            '-map',
            '5:a',
            '-shortest',
            '-c:v',
            'libx264',
            '-preset',
            FINAL.preset,
            '-crf',
            String(FINAL.crf),
            '-threads',
            String(FINAL.threads),
            '-x264-params',
            'keyint=120:min-keyint=120:scenecut=0:open-gop=0',
            '-c:a',
            'aac',
            '-b:a',
            '192k',
            '-movflags',
            '+faststart',
            'hand.mp4',
          ],
          { cwd: folder },
        )
        return undefined
      },
    },
    {
      name: 'the whole render, checks included',
      wanted: { ratio: 1.25 },
      async run(folder) {
        await rm(join(folder, 'cache'), { recursive: true, force: true })
        const { plan, library, faces, cache } = await planned(folder)
        const report = await renderFilm({ plan, library, faces, out: join(folder, 'film.mp4'), cache })
        return { frames: report.frames }
      },
    },
  ],
}
