import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Point } from '../app/project/fields'
import type { GreyPicture } from '../app/track/grey-picture'
import { trackPoints, type PlannedPoint } from '../app/track/track-run'
import { CIRCLE_95, type Trackable } from '../app/track/tracked-error'
import { FilmPainting } from '../demo-data/film/film-painting'
import type { FilmRecipe } from '../demo-data/film/recipes'
import type { Truth, TruthTrack } from '../demo-data/film/truth'
import { findFfmpeg } from '../main/media/find-ffmpeg'
import { runFfmpeg, streamFfmpeg } from '../main/media/process'

/// Films of known truth for the tracker, and a hand that places points when it is asked to.

const CAPTURE = 'demo-data/mocap/cmu_13_18_first_15s.bvh.gz'

/// Every frame of a film in grey.
export async function greysOf(path: string, width: number, height: number): Promise<GreyPicture[]> {
  const pieces: Buffer[] = []
  await streamFfmpeg(await findFfmpeg(), ['-v', 'error', '-i', path, '-vsync', '0', '-pix_fmt', 'gray', '-f', 'rawvideo', 'pipe:1'], {
    onStdout: (piece) => void pieces.push(piece),
  })
  const bytes = Buffer.concat(pieces)
  return Array.from({ length: bytes.length / (width * height) }, (_, n) => ({
    width,
    height,
    data: new Uint8Array(bytes.buffer, bytes.byteOffset + n * width * height, width * height),
  }))
}

/// Some frames of one of the demo's films, painted and coded as the demo codes them, with their truth.
export async function paintedFilm(recipe: FilmRecipe): Promise<{ readonly greys: readonly GreyPicture[]; readonly truth: Truth }> {
  const painting = new FilmPainting(recipe, CAPTURE)
  const { width, height } = recipe.camera
  const folder = await mkdtemp(join(tmpdir(), 'claimframe-track-'))
  try {
    const path = join(folder, 'film.mp4')
    const frames = Array.from({ length: recipe.frames }, (_, n) => painting.paint(n).slice())
    await runFfmpeg(
      await findFfmpeg(),
      [
        '-y',
        '-f',
        'rawvideo',
        '-pix_fmt',
        'yuv420p',
        '-s',
        `${width}x${height}`,
        '-r',
        '30',
        '-i',
        'pipe:0',
        '-c:v',
        'libx264',
        '-preset',
        'veryfast',
        '-crf',
        '18',
        path,
      ],
      { stdin: frames },
    )
    return { greys: await greysOf(path, width, height), truth: painting.truth() }
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

export interface Found {
  readonly point: string
  readonly frame: number
  /// From the truth, px.
  readonly off: number
  readonly radius: number
  readonly unsure: boolean
}

export interface Followed {
  readonly found: readonly Found[]
  readonly placings: number
}

/// A hand that places a point exactly on every `stride`-th frame on which it is seen, has it followed between, and places
/// it where it is asked to, up to `answers` times for each stretch.
export async function followedByHand(
  greys: readonly GreyPicture[],
  track: TruthTrack,
  stride: number,
  answers: number,
  of: { readonly figureHeight: number | null; readonly rate: number },
): Promise<Followed> {
  const pictures = (frame: number): Promise<GreyPicture | null> => Promise.resolve(greys[frame] ?? null)
  const seen = (frame: number): boolean => track.seen[frame] === 's'
  const found: Found[] = []
  let placings = 0
  const bridge = async (from: number, to: number, left: number): Promise<void> => {
    const planned: PlannedPoint = { point: track.name, kind: 'joint', at: track.px[from]!, to: { frame: to, at: track.px[to]! } }
    const [run] = (await trackPoints(
      { from, last: to, points: [planned], ...of },
      pictures,
      () => true,
      () => undefined,
    ))!
    if (run!.ask !== null && left > 0 && seen(run!.ask)) {
      placings++
      await bridge(from, run!.ask, left - 1)
      return bridge(run!.ask, to, left - 1)
    }
    for (const { frame, at, sigma, unsure } of run!.places)
      found.push({ point: track.name, frame, off: away(at, track.px[frame]!), radius: sigma * CIRCLE_95, unsure })
  }
  const placed = track.px.flatMap((_, frame) => (frame % stride === 0 && seen(frame) ? [frame] : []))
  placings += placed.length
  for (let i = 1; i < placed.length; i++) await bridge(placed[i - 1]!, placed[i]!, answers)
  return { found, placings }
}

/// From one placing alone, in both directions.
export async function followedFrom(
  greys: readonly GreyPicture[],
  at: (frame: number) => Point,
  from: number,
  reach: number,
  of: Trackable,
): Promise<{ readonly found: readonly Found[]; readonly stops: readonly string[] }> {
  const found: Found[] = []
  const stops: string[] = []
  for (const last of [Math.min(greys.length - 1, from + reach), Math.max(0, from - reach)]) {
    const [run] = (await trackPoints(
      { from, last, points: [{ point: 'p', kind: of.kind, at: at(from), to: null }], figureHeight: of.figureHeight, rate: of.rate },
      (frame) => Promise.resolve(greys[frame] ?? null),
      () => true,
      () => undefined,
    ))!
    for (const place of run!.places)
      found.push({
        point: 'p',
        frame: place.frame,
        off: away(place.at, at(place.frame)),
        radius: place.sigma * CIRCLE_95,
        unsure: place.unsure,
      })
    if (run!.stopped) stops.push(run!.stopped.why)
  }
  return { found, stops }
}

/// What a set of found places says of the tracker.
export function summaryOf(found: readonly Found[]) {
  const share = (some: readonly Found[]): number => some.length / Math.max(1, found.length)
  const sorted = found.map(({ off }) => off).sort((a, b) => a - b)
  return {
    kept: found.length,
    inside: share(found.filter(({ off, radius }) => off <= radius)),
    unsure: share(found.filter(({ unsure }) => unsure)),
    farUnflagged: found.filter(({ off, unsure }) => off > 6 && !unsure).length,
    median: sorted[Math.floor(sorted.length / 2)] ?? 0,
    p95: sorted[Math.floor(sorted.length * 0.95)] ?? 0,
  }
}

const away = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1])
