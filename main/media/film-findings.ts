import type { Film } from '../../app/project/scanned-film'
import { toNumber } from '../../app/time/rational'
import { averageWords, countOf, millisecondsWords, rateWords } from './film-figures'
import type { FilmReport } from './film-report'
import type { FieldCount, PictureScan } from './picture-scan'

/// Something about a film that whoever measures in it has to know.
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

type Weighed = Omit<FilmReport, 'findings'>

const note = (code: FilmFinding['code'], text: string): FilmFinding => ({ code, weight: 'note', text })
const warn = (code: FilmFinding['code'], text: string): FilmFinding => ({ code, weight: 'warn', text })

/// What a report finds remarkable, in the order in which it is read. `pictures`: null where they were not looked at.
export const findingsOf = (report: Weighed, film: Film, pictures: PictureScan | null): readonly FilmFinding[] => [
  ...ofItsTimes(report, film),
  ...ofWhatWasShot(report),
  ...ofItsFields(report, pictures),
  ...ofItsPicture(report),
  ...ofItsCapture(report, film),
  ...ofItsCourse(report),
  ...ofItsFile(report, film, pictures),
]

/// How evenly the frames come, and whether as the file claims.
function ofItsTimes(report: Weighed, film: Film): FilmFinding[] {
  const { intervals, containerRate } = report
  const found: FilmFinding[] = []
  const lasts = intervals && `${millisecondsWords(intervals.shortest_s)} to ${millisecondsWords(intervals.longest_s)} ms`
  if (intervals?.kind === 'variable')
    found.push(warn('variable-rate', `The frame rate varies: one frame lasts from ${lasts}. Every frame keeps its own time.`))
  if (intervals?.kind === 'jitter')
    found.push(note('uneven-times', `The frames come unevenly, by less than a tenth of an interval (${lasts}).`))
  if (intervals?.kind === 'gaps')
    found.push(
      warn(
        'missing-frames',
        `Frames are missing: ${countOf(intervals.gaps.length, 'place')} where one picture stands for more than one interval, the first after frame ${intervals.gaps[0]!.frame}.`,
      ),
    )
  if (containerRate && Math.abs(containerRate.offBy_percent) > 0.05)
    found.push(
      warn(
        'rate-differs',
        `The file claims ${rateWords(film.head.containerRate!)} frames a second; its frames come at ${averageWords(report)}. The frames' own times are used.`,
      ),
    )
  return found
}

/// Frames that were never shot: repeats and mixes.
function ofWhatWasShot({ pictures }: Weighed): FilmFinding[] {
  if (!pictures) return []
  const { repeats, blends, cycle, effectiveRate } = pictures
  const found: FilmFinding[] = []
  if (repeats.length > 0 && cycle)
    found.push(
      warn(
        'repeated-frames',
        `${cycle.repeated} of every ${cycle.of} frames ${cycle.repeated === 1 ? 'repeats' : 'repeat'} the one before: only ${hundredths(effectiveRate!)} frames a second were shot.`,
      ),
    )
  if (repeats.length > 0 && !cycle)
    found.push(
      warn(
        'repeated-frames',
        `${countOf(repeats.length, 'frame')} ${repeats.length === 1 ? 'repeats' : 'repeat'} the one before (${listed(repeats)}).`,
      ),
    )
  if (blends.length > 0)
    found.push(
      warn(
        'blended-frames',
        `${countOf(blends.length, 'frame')} ${blends.length === 1 ? 'is a mix of its' : 'are mixes of their'} neighbours (${listed(blends)}): never shot, so nothing may be measured there.`,
      ),
    )
  return found
}

/// Frames that show two instants, by the file and by the picture.
function ofItsFields({ fields: { declared, seen, interlaced } }: Weighed, pictures: PictureScan | null): FilmFinding[] {
  const found: FilmFinding[] = []
  const share = seen && `${seen.top + seen.bottom} of ${pictures!.frames} frames`
  if (interlaced)
    found.push(
      warn(
        'interlaced',
        `The picture is interlaced${share ? ` (${share} show two instants)` : ''}: split it into fields before measuring.`,
      ),
    )
  if (declared === 'progressive' && seen && looksInterlaced(seen))
    found.push(
      warn(
        'interlaced',
        `${share} look as if they showed two instants, though the file says progressive: look at a moving edge before measuring.`,
      ),
    )
  if (interlaced === false && (declared === 'top' || declared === 'bottom'))
    found.push(note('interlaced', 'The file declares interlaced fields, but each frame shows one instant.'))
  return found
}

/// Whether so many frames show two instants that the picture is taken to be interlaced.
export function looksInterlaced(seen: FieldCount): boolean {
  const fields = seen.top + seen.bottom
  return fields > 0.2 * (fields + seen.progressive)
}

/// Its colours, which way up it is, and the form of its pixels.
function ofItsPicture({ colour, picture }: Weighed): FilmFinding[] {
  const found: FilmFinding[] = []
  if (colour.hdr)
    found.push(warn('high-dynamic-range', 'The colours are high dynamic range: they are tone-mapped for the film, which says so.'))
  if (picture.oddMatrix)
    found.push(warn('odd-matrix', 'The file asks for its picture to be mirrored or turned by no right angle. Convert it first.'))
  if (picture.rotation !== 0) found.push(note('turned', `The stored picture is turned by ${picture.rotation}° clockwise to stand upright.`))
  if (picture.sampleAspect !== '1:1')
    found.push(
      note(
        'oblong-pixels',
        `Its pixels are oblong (${picture.sampleAspect}); points are given in the square-pixel picture of ${picture.width} × ${picture.height}.`,
      ),
    )
  return found
}

/// Frames a second above which a film may have been shot at a high rate and kept so.
const HIGH_RATE = 65

/// At which rate it may really have been shot.
function ofItsCapture(report: Weighed, film: Film): FilmFinding[] {
  const { capture, intervals } = report
  if (capture.cameraSays && capture.possibleFactor)
    return [
      warn(
        'slowed-by-camera',
        `The camera says it shot at ${hundredths(toNumber(film.head.captureRate!))} frames a second: the capture factor is then ${capture.possibleFactor}, if nobody re-timed the file.`,
      ),
    ]
  if ((intervals?.average ?? 0) > HIGH_RATE)
    return [
      note(
        'high-rate',
        `At ${averageWords(report)} frames a second the film runs in real time if it was shot at that rate; check with whoever shot it.`,
      ),
    ]
  return []
}

/// Where it is cut, and where it stands still.
function ofItsCourse({ pictures }: Weighed): FilmFinding[] {
  if (!pictures) return []
  const { cuts, stills } = pictures
  const found: FilmFinding[] = []
  if (cuts.length > 0)
    found.push(
      note('cuts', `${countOf(cuts.length, 'likely cut')}: frame ${listed(cuts.map(({ frame }) => frame))}. A clip must not span one.`),
    )
  if (stills.length > 0) {
    const spans = stills.slice(0, 5).map(({ from, to }) => `${from}–${to - 1}`)
    found.push(note('stills', `The picture stands still in ${countOf(stills.length, 'span')} (${spans.join(', ')}).`))
  }
  return found
}

/// How well the file can be read.
function ofItsFile({ frames, frameTimes: { hidden } }: Weighed, film: Film, pictures: PictureScan | null): FilmFinding[] {
  const found: FilmFinding[] = []
  if (hidden > 0)
    found.push(
      note(
        'hidden-frames',
        `${countOf(hidden, 'stored frame')} before the start ${hidden === 1 ? 'is' : 'are'} never shown and not counted.`,
      ),
    )
  if (film.seek === 'from-start')
    found.push(
      note(
        'entered-from-start',
        'The file has no dependable index of times: it is read from its start for every shot, which is slow. Converting it once is worth it.',
      ),
    )
  if (pictures && pictures.frames !== frames)
    found.push(
      warn('decoded-count-differs', `${pictures.frames} frames can be decoded, but the file lists ${frames}: part of it is damaged.`),
    )
  return found
}

const hundredths = (value: number): string => String(Number(value.toFixed(2)))

/// The first eight numbers.
const listed = (numbers: readonly number[]): string => numbers.slice(0, 8).join(', ') + (numbers.length > 8 ? ', …' : '')
