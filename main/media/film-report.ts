import type { Film } from '../../app/project/scanned-film'
import { intervalsOf, type Intervals } from '../../app/time/intervals'
import { formatRational, toNumber, type Rational } from '../../app/time/rational'
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

export interface FilmFinding {
  readonly code:
    | 'variable-rate'
    | 'missing-frames'
    | 'uneven-times'
    | 'rate-differs'
    | 'repeated-frames'
    | 'blended-frames'
    | 'interlaced'
    | 'high-dynamic-range'
    | 'turned'
    | 'oblong-pixels'
    | 'odd-matrix'
    | 'slowed-by-camera'
    | 'high-rate'
    | 'cuts'
    | 'stills'
    | 'no-keyframes'
    | 'entered-from-start'
    | 'decoded-count-differs'
    | 'hidden-frames'
  /// `note` informs; `warn` changes what may be measured.
  readonly weight: 'note' | 'warn'
  readonly text: string
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

function looksInterlaced(seen: FieldCount): boolean {
  const fields = seen.top + seen.bottom
  return fields > 0.2 * (fields + seen.progressive)
}

/// k = camera rate / file rate, where the camera names its rate and it differs.
function factorOf(camera: Rational | null, average: number): string | null {
  if (!camera || average <= 0) return null
  const factor = toNumber(camera) / average
  return Math.abs(factor - 1) < 0.02 ? null : String(Number(factor.toPrecision(3)))
}

function findingsOf(report: Omit<FilmReport, 'findings'>, film: Film, pictures: PictureScan | null): readonly FilmFinding[] {
  const found: FilmFinding[] = []
  const add = (code: FilmFinding['code'], weight: FilmFinding['weight'], text: string): void => void found.push({ code, weight, text })
  const { intervals } = report
  if (intervals?.kind === 'variable')
    add(
      'variable-rate',
      'warn',
      `The frame rate varies: one frame lasts from ${ms(intervals.shortest_s)} to ${ms(intervals.longest_s)} ms. Every frame keeps its own time.`,
    )
  if (intervals?.kind === 'jitter')
    add(
      'uneven-times',
      'note',
      `The frames come unevenly, by less than a tenth of an interval (${ms(intervals.shortest_s)} to ${ms(intervals.longest_s)} ms).`,
    )
  if (intervals?.kind === 'gaps')
    add(
      'missing-frames',
      'warn',
      `Frames are missing: ${times(intervals.gaps.length, 'place')} where one picture stands for more than one interval, the first after frame ${intervals.gaps[0]!.frame}.`,
    )
  if (report.containerRate && Math.abs(report.containerRate.offBy_percent) > 0.05)
    add(
      'rate-differs',
      'warn',
      `The file claims ${decimal(film.head.containerRate!)} frames a second; its frames come at ${fps(report)}. The frames' own times are used.`,
    )
  const looked = report.pictures
  if (looked && looked.repeats.length > 0)
    add(
      'repeated-frames',
      'warn',
      looked.cycle
        ? `${looked.cycle.repeated} of every ${looked.cycle.of} frames ${looked.cycle.repeated === 1 ? 'repeats' : 'repeat'} the one before: only ${round2(looked.effectiveRate!)} frames a second were shot.`
        : `${times(looked.repeats.length, 'frame')} ${looked.repeats.length === 1 ? 'repeats' : 'repeat'} the one before (${listed(looked.repeats)}).`,
    )
  if (looked && looked.blends.length > 0)
    add(
      'blended-frames',
      'warn',
      `${times(looked.blends.length, 'frame')} ${looked.blends.length === 1 ? 'is a mix of its' : 'are mixes of their'} neighbours (${listed(looked.blends)}): never shot, so nothing may be measured there.`,
    )
  if (report.fields.interlaced)
    add(
      'interlaced',
      'warn',
      `The picture is interlaced${report.fields.seen ? ` (${report.fields.seen.top + report.fields.seen.bottom} of ${pictures!.frames} frames show two instants)` : ''}: split it into fields before measuring.`,
    )
  if (report.fields.declared === 'progressive' && report.fields.seen && looksInterlaced(report.fields.seen))
    add(
      'interlaced',
      'warn',
      `${report.fields.seen.top + report.fields.seen.bottom} of ${pictures!.frames} frames look as if they showed two instants, though the file says progressive: look at a moving edge before measuring.`,
    )
  if (report.fields.interlaced === false && (report.fields.declared === 'top' || report.fields.declared === 'bottom'))
    add('interlaced', 'note', 'The file declares interlaced fields, but each frame shows one instant.')
  if (report.colour.hdr)
    add('high-dynamic-range', 'warn', 'The colours are high dynamic range: they are tone-mapped for the film, which says so.')
  if (report.picture.oddMatrix)
    add('odd-matrix', 'warn', 'The file asks for its picture to be mirrored or turned by no right angle. Convert it first.')
  if (report.picture.rotation !== 0)
    add('turned', 'note', `The stored picture is turned by ${report.picture.rotation}° clockwise to stand upright.`)
  if (report.picture.sampleAspect !== '1:1')
    add(
      'oblong-pixels',
      'note',
      `Its pixels are oblong (${report.picture.sampleAspect}); points are given in the square-pixel picture of ${report.picture.width} × ${report.picture.height}.`,
    )
  if (report.capture.cameraSays && report.capture.possibleFactor)
    add(
      'slowed-by-camera',
      'warn',
      `The camera says it shot at ${round2(toNumber(film.head.captureRate!))} frames a second: the capture factor is then ${report.capture.possibleFactor}, if nobody re-timed the file.`,
    )
  else if ((intervals?.average ?? 0) > 65)
    add(
      'high-rate',
      'note',
      `At ${fps(report)} frames a second the film runs in real time if it was shot at that rate; check with whoever shot it.`,
    )
  if (looked && looked.cuts.length > 0)
    add(
      'cuts',
      'note',
      `${times(looked.cuts.length, 'likely cut')}: frame ${listed(looked.cuts.map((c) => c.frame))}. A clip must not span one.`,
    )
  if (looked && looked.stills.length > 0)
    add(
      'stills',
      'note',
      `The picture stands still in ${times(looked.stills.length, 'span')} (${looked.stills
        .slice(0, 5)
        .map((s) => `${s.from}–${s.to - 1}`)
        .join(', ')}).`,
    )
  if (report.frameTimes.hidden > 0)
    add(
      'hidden-frames',
      'note',
      `${times(report.frameTimes.hidden, 'stored frame')} before the start ${report.frameTimes.hidden === 1 ? 'is' : 'are'} never shown and not counted.`,
    )
  if (film.seek === 'from-start')
    add(
      'entered-from-start',
      'note',
      'The file has no dependable index of times: it is read from its start for every shot, which is slow. Converting it once is worth it.',
    )
  if (pictures && pictures.frames !== report.frames)
    add(
      'decoded-count-differs',
      'warn',
      `${pictures.frames} frames can be decoded, but the file lists ${report.frames}: part of it is damaged.`,
    )
  return found
}

const looked = (frames: readonly number[]): string => (frames.length === 0 ? 'none seen' : String(frames.length))
const ms = (seconds: number): string => (seconds * 1000).toFixed(seconds < 0.01 ? 2 : 1)
const round2 = (value: number): string => String(Number(value.toFixed(2)))
const decimal = (rate: Rational): string => String(Number(toNumber(rate).toFixed(3)))
const times = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? '' : 's'}`
const fps = (report: Pick<FilmReport, 'intervals' | 'rate'>): string =>
  report.rate ? decimalText(report.rate) : String(Number((report.intervals?.average ?? 0).toFixed(3)))
const listed = (numbers: readonly number[]): string => numbers.slice(0, 8).join(', ') + (numbers.length > 8 ? ', …' : '')

/// The report as a person reads it in a terminal.
export function describeFilm(report: FilmReport): string {
  const { intervals, picture, colour, frameTimes } = report
  const exact = report.rate?.includes('/') ? ` (exactly ${report.rate})` : ''
  const rate = !intervals
    ? 'one frame'
    : report.rate
      ? `${fps(report)} frames a second, even${exact}`
      : `${fps(report)} frames a second on average, ${intervals.kind === 'gaps' ? 'with gaps' : intervals.kind === 'jitter' ? 'slightly uneven' : 'variable'}`
  const rows: readonly (readonly [string, string])[] = [
    ['frames', `${report.frames}, 0 to ${report.frames - 1}`],
    ['length', `${report.duration_s.toFixed(3)} s`],
    ['rate', rate],
    ...(report.containerRate
      ? [
          [
            'file claims',
            `${decimalText(report.containerRate.claimed)} frames a second${Math.abs(report.containerRate.offBy_percent) > 0.05 ? ` (off by ${report.containerRate.offBy_percent.toFixed(2)} %)` : ''}`,
          ] as const,
        ]
      : []),
    [
      'one frame',
      intervals
        ? report.rate
          ? `${ms(secondsPerFrame(report.rate))} ms`
          : `${ms(intervals.shortest_s)} – ${ms(intervals.median_s)} – ${ms(intervals.longest_s)} ms (shortest, middle, longest)`
        : '-',
    ],
    [
      'picture',
      `${picture.width} × ${picture.height}${picture.rotation ? `, turned ${picture.rotation}° clockwise` : ''}${picture.sampleAspect === '1:1' ? '' : `, pixels ${picture.sampleAspect}, stored ${picture.stored.width} × ${picture.stored.height}`}`,
    ],
    [
      'fields',
      report.fields.interlaced === null
        ? report.fields.declared === 'progressive'
          ? 'progressive by the file, in doubt by the picture'
          : 'not known'
        : report.fields.interlaced
          ? 'interlaced'
          : 'progressive',
    ],
    [
      'colour',
      `${colour.matrix ?? 'matrix not given'}, ${colour.range === 'pc' ? 'full range' : colour.range === 'tv' ? 'limited range' : 'range not given'}, ${colour.bits} bit${colour.hdr ? ', high dynamic range' : ''}`,
    ],
    ['coding', `${report.codec}, ${times(frameTimes.keyframes, 'keyframe')}, longest group ${frameTimes.longestGroup} frames`],
    ['sound', report.sound ? `${report.sound.codec}, ${report.sound.sampleRate} Hz, ${times(report.sound.channels, 'channel')}` : 'none'],
    ...(report.pictures
      ? ([
          ['repeats', looked(report.pictures.repeats)],
          ['blends', looked(report.pictures.blends)],
          [
            'likely cuts',
            report.pictures.cuts.length === 0
              ? 'none seen'
              : report.pictures.cuts
                  .slice(0, 12)
                  .map((c) => `${c.frame} (${c.at_s.toFixed(2)} s)`)
                  .join(', ') + (report.pictures.cuts.length > 12 ? `, … ${report.pictures.cuts.length} in all` : ''),
          ],
        ] as const)
      : []),
  ]
  const findings = report.findings.map((finding) => `${finding.weight === 'warn' ? '!' : '·'} ${finding.text}`)
  return [
    report.file,
    ...rows.map(([name, value]) => `  ${name.padEnd(12)} ${value}`),
    ...(findings.length ? ['', ...findings.map((line) => `  ${line}`)] : []),
  ].join('\n')
}

const secondsPerFrame = (rate: string): number => {
  const [n = '1', d = '1'] = rate.split('/')
  return Number(d) / Number(n)
}

const decimalText = (rate: string): string => {
  const [n = '0', d = '1'] = rate.split('/')
  return String(Number((Number(n) / Number(d)).toFixed(3)))
}
