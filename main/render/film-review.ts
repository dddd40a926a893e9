import { mkdtemp, open, rm } from 'node:fs/promises'
import { join } from 'node:path'
import type { DrawContext } from '../../app/marks/draw-context'
import type { Programme } from '../../app/programme/programme'
import { approvedFrames, barePoints, differenceOf, showsApproved, type ApprovedFrame } from '../../app/safety/approved-frame'
import { filmLabels, labelRemarks, wordsOf, type FilmLabel } from '../../app/safety/film-label'
import type { FlashFigure } from '../../app/safety/flash-channel'
import { FlashMeter, flashPicture, type FlashReport } from '../../app/safety/flash-meter'
import type { FilmRemark } from '../../app/safety/film-remark'
import { contrastOnPicture, LEAST_CONTRAST, type DecodedPicture } from '../../app/safety/label-contrast'
import { PictureMeter, type Stretch } from '../../app/safety/picture-meter'
import { sourceFacts } from '../../app/render/source-facts'
import { toNumber } from '../../app/time/rational'
import type { LibraryFilm } from '../media/film-library'
import { readFrame } from '../media/exact-frame'
import { fileUrl } from '../media/file-url'
import type { FfmpegTool } from '../media/find-ffmpeg'
import { streamFfmpeg } from '../media/process'
import { wholePictures } from '../media/whole-pictures'

/// What the decoded film was held against, and what was found.
export interface FilmReview {
  readonly remarks: readonly FilmRemark[]
  readonly flashes: FlashReport
  readonly labels: { readonly looked: number; readonly lowestContrast: number | null }
  readonly approved: { readonly frames: number; readonly compared: number; readonly shown: number }
}

export interface ReviewInput {
  readonly tool: FfmpegTool
  /// The finished film.
  readonly file: string
  readonly programme: Programme
  readonly context: DrawContext
  readonly films: ReadonlyMap<string, LibraryFilm>
  /// First output frame of the programme that the file holds, and how many.
  readonly from?: number | undefined
  readonly frames?: number | undefined
  /// For what is decoded in between.
  readonly folder: string
  readonly signal?: AbortSignal | undefined
  readonly onProgress?: ((fraction: number) => void) | undefined
}

/// Widest picture that lettering is looked at in.
const LABEL_WIDTH = 1280
/// A picture that should move may stand this long, seconds (common practice, no source).
const STANDS = 1
/// A black picture may stand this long, seconds: a fade's darkest moment.
const BLACK = 0.1

/// Decodes a finished film once and looks at its pictures: flashes, black and standing pictures, the contrast and place
/// of everything written on it, and whether every frame that was chosen is the one that is shown. Rejects with CodedError.
export async function reviewFilm(input: ReviewInput): Promise<FilmReview> {
  const { programme, context, from = 0 } = input
  const frames = input.frames ?? programme.frames
  const within = (frame: number): boolean => frame >= from && frame < from + frames
  const labels = filmLabels(programme, context).filter((label) => within(label.to - 1))
  const approved = approvedFrames(programme).filter(({ at }) => within(at))
  const folder = await mkdtemp(join(input.folder, 'review-'))
  try {
    const seen = await decode(input, frames, labels, approved, folder)
    const remarks = [
      ...flashRemarks(seen.flashes, from),
      ...stretchRemarks(seen.pictures, programme, from),
      ...labelRemarks(labels, programme),
      ...(await contrastRemarks(labels, seen, input)),
    ]
    const shown = await compareApproved(approved, seen.kept, input)
    return {
      remarks: [...remarks, ...shown.remarks].map((remark) => (remark.frame === null ? remark : { ...remark, frame: remark.frame - from })),
      flashes: seen.flashes,
      labels: { looked: labels.length, lowestContrast: seen.lowestContrast },
      approved: { frames: approved.length, compared: shown.compared, shown: shown.shown },
    }
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

interface Seen {
  readonly flashes: FlashReport
  readonly pictures: PictureMeter
  /// Decoded pictures of approved frames, by output frame.
  readonly kept: ReadonlyMap<number, DecodedPicture>
  readonly labelFile: string
  readonly labelFrames: readonly number[]
  readonly labelSize: { readonly width: number; readonly height: number }
  lowestContrast: number | null
}

async function decode(
  input: ReviewInput,
  frames: number,
  labels: readonly FilmLabel[],
  approved: readonly ApprovedFrame[],
  folder: string,
): Promise<Seen> {
  const { tool, programme, from = 0 } = input
  const size = flashPicture(programme)
  const flash = new FlashMeter(size, programme.rate)
  const pictures = new PictureMeter(size)
  const wanted = new Set(approved.map(({ at }) => at))
  const kept = new Map<number, DecodedPicture>()
  const labelFrames = [...new Set(labels.flatMap(({ looks }) => looks.map(({ frame }) => frame)))]
    .filter((frame) => frame >= from && frame < from + frames)
    .sort((a, b) => a - b)
  const scale = Math.min(1, LABEL_WIDTH / programme.width)
  const labelSize = { width: Math.round(programme.width * scale), height: Math.round(programme.height * scale) }
  const labelFile = join(folder, 'labels.rgb')
  const colours = 'in_color_matrix=bt709:in_range=tv'
  const picked = labelFrames.map((frame) => `eq(n,${frame - from})`).join('+')
  const graph = [
    `[0:v:0]${labelFrames.length > 0 ? 'split[a][b];[a]' : ''}scale=${size.width}:${size.height}:flags=area:${colours},format=rgb24[small]`,
    ...(labelFrames.length > 0
      ? [`[b]select='${picked}',scale=${labelSize.width}:${labelSize.height}:flags=area:${colours},format=rgb24[large]`]
      : []),
  ].join(';')
  const through = tool.has.fpsMode ? ['-fps_mode', 'passthrough'] : ['-vsync', '0']
  let [n, told] = [from, 0]
  await streamFfmpeg(
    tool,
    [
      '-v',
      'error',
      '-y',
      '-i',
      fileUrl(input.file),
      '-filter_complex',
      graph,
      '-map',
      '[small]',
      ...through,
      '-f',
      'rawvideo',
      'pipe:1',
      ...(labelFrames.length > 0 ? ['-map', '[large]', ...through, '-f', 'rawvideo', fileUrl(labelFile)] : []),
    ],
    {
      signal: input.signal,
      what: 'the check of the film',
      onStdout: wholePictures(size.width * size.height * 3, (picture) => {
        flash.add(picture)
        pictures.add(picture)
        if (wanted.has(n)) kept.set(n, { ...size, rgb: Uint8Array.from(picture) })
        n++
        const done = (n - from) / frames
        if (done - told >= 0.01) input.onProgress?.(0.9 * (told = done))
      }),
    },
  )
  return { flashes: flash.report(), pictures, kept, labelFile, labelFrames, labelSize, lowestContrast: null }
}

function flashRemarks(report: FlashReport, start: number): FilmRemark[] {
  const remark = (code: 'flash' | 'red-flash', what: string, figure: FlashFigure): FilmRemark[] =>
    figure.stretches.map(({ from, share }) => ({
      code,
      weight: 'stop',
      frame: start + from,
      problem: `more than three ${what} within one second on ${Math.round(100 * share)} % of a window, where 25 % is the limit (W3C, general flash and red flash thresholds)`,
      wayOut: 'Play that stretch slower or faster, darken it, take colour out of it, or cut it shorter. A warning beside it is not enough.',
    }))
  return [...remark('flash', 'flashes', report.general), ...remark('red-flash', 'red flashes', report.red)]
}

function stretchRemarks(pictures: PictureMeter, programme: Programme, from: number): FilmRemark[] {
  const rate = toNumber(programme.rate)
  const long = (stretches: readonly Stretch[], seconds: number): Stretch[] =>
    stretches.filter((s) => s.to - s.from >= Math.max(2, seconds * rate))
  const black = long(pictures.black, BLACK).map((s): FilmRemark => ({
    code: 'black',
    weight: 'look',
    frame: from + s.from,
    problem: `the picture is black for ${((s.to - s.from) / rate).toFixed(1)} s`,
    wayOut: 'Cut the shot so that it begins and ends on a picture.',
  }))
  const still = pictures.still.flatMap((stretch) =>
    programme.shots.flatMap((shot) => movingPart(shot, { from: from + stretch.from, to: from + stretch.to })),
  )
  return [
    ...black,
    ...long(still, STANDS).map((s): FilmRemark => ({
      code: 'stands-still',
      weight: 'look',
      frame: s.from,
      problem: `the picture stands for ${((s.to - s.from) / rate).toFixed(1)} s where the footage should run`,
      wayOut: 'Look whether the footage itself stands there; if not, render it again.',
    })),
  ]
}

/// The part of a stretch in which a shot shows one new footage frame after the other.
function movingPart(shot: Programme['shots'][number], stretch: Stretch): Stretch[] {
  const [from, to] = [Math.max(stretch.from, shot.start), Math.min(stretch.to, shot.start + shot.frames)]
  const frames = shot.panels[0]?.frames
  if (!frames || shot.kind === 'hold' || from >= to) return []
  const distinct = new Set(frames.subarray(from - shot.start, to - shot.start)).size
  return distinct > 3 ? [{ from, to }] : []
}

async function contrastRemarks(labels: readonly FilmLabel[], seen: Seen, { programme, context }: ReviewInput): Promise<FilmRemark[]> {
  if (seen.labelFrames.length === 0) return []
  const { width, height } = seen.labelSize
  const bytes = width * height * 3
  const worst = new Map<FilmLabel, number>()
  const file = await open(seen.labelFile, 'r')
  try {
    for (const [i, frame] of seen.labelFrames.entries()) {
      const rgb = new Uint8Array(bytes)
      const { bytesRead } = await file.read(rgb, 0, bytes, i * bytes)
      if (bytesRead < bytes) break
      for (const label of labels)
        for (const { texts } of label.looks.filter((look) => look.frame === frame)) {
          const found = Math.min(
            ...texts.map((text) => contrastOnPicture(text, { width, height, rgb }, width / programme.width, context) ?? Infinity),
          )
          worst.set(label, Math.min(worst.get(label) ?? Infinity, found))
        }
    }
  } finally {
    await file.close()
  }
  return [...worst].flatMap(([label, found]): FilmRemark[] => {
    if (!Number.isFinite(found)) return []
    seen.lowestContrast = Math.min(seen.lowestContrast ?? Infinity, found)
    if (found >= LEAST_CONTRAST) return []
    return [
      {
        code: 'contrast-low',
        weight: 'look',
        frame: label.from,
        problem: `“${wordsOf(label)}” stands out at ${(Math.floor(found * 100) / 100).toFixed(2)} : 1 where ${LEAST_CONTRAST} : 1 is needed`,
        wayOut: 'Put it where the picture is darker, or on a plate.',
      },
    ]
  })
}

async function compareApproved(
  approved: readonly ApprovedFrame[],
  kept: ReadonlyMap<number, DecodedPicture>,
  input: ReviewInput,
): Promise<{ remarks: FilmRemark[]; compared: number; shown: number }> {
  const { programme, context, films, tool, signal } = input
  const remarks: FilmRemark[] = []
  const pictures = new Map<string, Promise<DecodedPicture | null>>()
  const size = flashPicture(programme)
  const read = (each: ApprovedFrame, frame: number): Promise<DecodedPicture | null> => {
    const key = `${each.footage}/${frame}`
    const known = pictures.get(key)
    if (known) return known
    const film = films.get(each.footage)
    const panel = each.shot.panels[each.panel]
    const width = panel
      ? Math.max(64, Math.round((panel.source.width * (panel.place[2] / panel.shown[0][2]) * size.width) / programme.width))
      : size.width
    const made =
      !film || frame < 0 || frame >= film.table.pts.length
        ? Promise.resolve(null)
        : readFrame(tool, film, frame, { width: Math.min(width, film.head.width), colours: sourceFacts(film, tool.has), signal }).then(
            ({ width: w, height: h, data }) => ({ width: w, height: h, rgb: data }),
          )
    pictures.set(key, made)
    return made
  }
  let [compared, shown] = [0, 0]
  for (const [i, each] of approved.entries()) {
    const film = kept.get(each.at)
    const bare = barePoints(each, context)
    const own = await read(each, each.frame)
    const difference = film && own ? differenceOf(each, bare, film, own, programme) : null
    if (film && difference !== null) {
      compared++
      const neighbours: (number | null)[] = []
      for (const frame of [each.frame - 1, each.frame + 1]) {
        const other = await read(each, frame)
        neighbours.push(other ? differenceOf(each, bare, film, other, programme) : null)
      }
      if (showsApproved(difference, neighbours)) shown++
      else
        remarks.push({
          code: 'frame-not-approved',
          weight: 'stop',
          frame: each.at,
          problem: `frame ${each.frame} of ${each.clip} should stand here, and another picture does`,
          wayOut: 'Render the film again; if it stays so, tell us which footage it is.',
        })
    }
    input.onProgress?.(0.9 + (0.1 * (i + 1)) / approved.length)
  }
  return { remarks, compared, shown }
}
