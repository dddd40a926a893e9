import type { Film } from '../../app/project/scanned-film'
import { intervalsOf, type Intervals } from '../../app/time/intervals'
import { formatRational, toNumber, type Rational } from '../../app/time/rational'
import { findingsOf, looksInterlaced, type FilmFinding } from './film-findings'
import type { FfmpegTool } from './find-ffmpeg'
import { readFilm, type FrameScan } from './frame-scan'
import { findBlends, findCuts, findRepeats, findStills, repeatCycle, type Cut } from './picture-change'
import { scanPictures, type FieldCount, type PictureScan } from './picture-scan'
import type { FilmHead } from './probe'

/// What is to be known about a film before anything is measured in it.
export interface FilmReport {
  readonly file: string
  readonly bytes: number
  readonly container: string
  readonly codec: string
  readonly frames: number
  readonly duration_s: number
  /// Exact rate ("30000/1001"); null when the frames are not evenly spaced.
  readonly rate: string | null
  readonly intervals: Intervals | null
  /// What the container claims, and by how much the frames themselves differ from it.
  readonly containerRate: { readonly claimed: string; readonly offBy_percent: number } | null
  readonly frameTimes: {
    readonly method: FrameScan['method']
    readonly base: string
    readonly first_s: number
    readonly keyframes: number
    readonly longestGroup: number
    readonly hidden: number
  }
  readonly picture: {
    readonly width: number
    readonly height: number
    readonly stored: { readonly width: number; readonly height: number }
    readonly rotation: number
    readonly oddMatrix: boolean
    readonly sampleAspect: string
    readonly pixelFormat: string
  }
  readonly colour: FilmHead['colour']
  /// `interlaced` is null where it is not known, or file and picture disagree.
  readonly fields: { readonly declared: FilmHead['fieldOrder']; readonly seen: FieldCount | null; readonly interlaced: boolean | null }
  /// Null when the pictures were not looked at.
  readonly pictures: {
    readonly repeats: readonly number[]
    readonly cycle: { readonly repeated: number; readonly of: number } | null
    /// Frames that are a mix of their neighbours, as far as it can be seen.
    readonly blends: readonly number[]
    /// Frames per second that really differ, where repeats come in a cycle.
    readonly effectiveRate: number | null
    readonly cuts: readonly (Cut & { readonly at_s: number })[]
    readonly stills: readonly { readonly from: number; readonly to: number }[]
  } | null
  readonly capture: { readonly cameraSays: string | null; readonly possibleFactor: string | null }
  readonly sound: FilmHead['sound']
  readonly findings: readonly FilmFinding[]
}

export interface ProbeOptions {
  readonly signal?: AbortSignal | undefined
  readonly onProgress?: ((fraction: number) => void) | undefined
  /// False leaves out the pass over every picture (repeats, cuts, fields), which decodes the film.
  readonly pictures?: boolean | undefined
}

/// Reads a film through and reports on it. Rejects as `scanFrames` does.
export async function probeFilm(tool: FfmpegTool, path: string, options: ProbeOptions = {}): Promise<FilmReport> {
  const looking = options.pictures ?? true
  const share = looking ? 0.1 : 1
  const film = await readFilm(tool, path, { signal: options.signal, onProgress: (x) => options.onProgress?.(x * share) })
  const pictures = looking
    ? await scanPictures(tool, film, { signal: options.signal, onProgress: (x) => options.onProgress?.(share + x * (1 - share)) })
    : null
  options.onProgress?.(1)
  return reportFilm(film, film.scan, pictures)
}

/// The report, from what has been read.
export function reportFilm(film: Film, scan: Pick<FrameScan, 'method' | 'hidden'>, pictures: PictureScan | null): FilmReport {
  const { head, table } = film
  const frames = table.pts.length
  const unit = toNumber(table.base)
  const intervals = intervalsOf(table)
  const average = table.rate ? toNumber(table.rate) : (intervals?.average ?? 0)
  const seen = pictures?.fields ?? null
  const repeats = pictures ? findRepeats(pictures.changes) : []
  const cycle = repeatCycle(repeats, frames)
  const still = Math.max(5, Math.round(average))
  const first = table.pts[0] ?? 0
  const report: Omit<FilmReport, 'findings'> = {
    file: film.path,
    bytes: head.bytes,
    container: head.container,
    codec: head.codec,
    frames,
    duration_s: (table.end - first) * unit,
    rate: table.rate && formatRational(table.rate),
    intervals,
    containerRate:
      head.containerRate && intervals
        ? { claimed: formatRational(head.containerRate), offBy_percent: offBy(head.containerRate, average) }
        : null,
    frameTimes: {
      method: scan.method,
      base: formatRational(table.base),
      first_s: first * unit,
      keyframes: film.keyframes.length,
      longestGroup: longestGroup(film.keyframes, frames),
      hidden: scan.hidden,
    },
    picture: {
      width: head.width,
      height: head.height,
      stored: head.coded,
      rotation: head.rotation,
      oddMatrix: head.oddMatrix,
      sampleAspect: `${head.sampleAspect.n}:${head.sampleAspect.d}`,
      pixelFormat: head.pixelFormat,
    },
    colour: head.colour,
    fields: { declared: head.fieldOrder, seen, interlaced: isInterlaced(head, seen) },
    pictures: pictures && {
      repeats,
      cycle,
      blends: findBlends(pictures.changes),
      effectiveRate: cycle ? (average * (cycle.of - cycle.repeated)) / cycle.of : null,
      cuts: findCuts(pictures.changes).map((cut) => ({ ...cut, at_s: ((table.pts[cut.frame] ?? 0) - first) * unit })),
      stills: findStills(pictures.changes, still),
    },
    capture: { cameraSays: head.captureRate && formatRational(head.captureRate), possibleFactor: factorOf(head.captureRate, average) },
    sound: head.sound,
  }
  return { ...report, findings: findingsOf(report, film, pictures) }
}

function offBy(claimed: Rational, average: number): number {
  const off = (average / toNumber(claimed) - 1) * 100
  return Math.abs(off) < 1e-9 ? 0 : off
}

function longestGroup(keyframes: Int32Array, frames: number): number {
  let longest = 0
  keyframes.forEach((from, i) => (longest = Math.max(longest, (keyframes[i + 1] ?? frames) - from)))
  return longest
}

/// Where declaration and picture disagree the answer is open: fine patterns look like fields, and
/// films are declared progressive by converters that did not split them.
function isInterlaced(head: FilmHead, seen: FieldCount | null): boolean | null {
  const declared = head.fieldOrder === 'unknown' ? null : head.fieldOrder !== 'progressive'
  if (!seen || seen.top + seen.bottom + seen.progressive === 0) return declared
  const looks = looksInterlaced(seen)
  return declared === false && looks ? null : looks
}

/// k = camera rate / file rate, where the camera names its rate and it differs.
function factorOf(camera: Rational | null, average: number): string | null {
  if (!camera || average <= 0) return null
  const factor = toNumber(camera) / average
  return Math.abs(factor - 1) < 0.02 ? null : String(Number(factor.toPrecision(3)))
}
