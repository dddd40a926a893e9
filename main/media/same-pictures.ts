import { bitsApart } from './picture-hash'
import { SMALL_SIDE, TRACK_RATE, type PictureTrack } from './picture-track'

/// Two films held against each other for pictures that both show: the same film uploaded twice, whole or in part, mirrored
/// or not. Hashes find where one may lie on the other; the small pictures decide, by what moves in them.
/// Thresholds: set on films made for it and on a real film of people in one room; no source.

/// A stretch that two films seem to share, samples of their tracks; `to` excluded.
export interface SharedStretch {
  readonly from: number
  readonly to: number
  readonly otherFrom: number
  readonly otherTo: number
  readonly mirrored: boolean
  /// How alike what moves in both is: 1 the same, 0 nothing to do with each other.
  readonly likeness: number
}

/// Samples of the first film that are held against the second: every fourth, two a second.
const STRIDE = 4
/// That many of them are moved along together: four seconds; and of shorter films at least two.
const WINDOW = 8
const LEAST_WINDOW = 4
/// Bits of 64 by which shared pictures differ at most, on average of a window. Two pictures that have nothing to do with
/// each other differ by 32.
const ALIKE = 12
/// By so many bits less at least do they differ than a second to either side: where nothing moves, one place is as good as another.
const STANDS_OUT = 1
/// How a blank picture differs from any.
const BLANK = 32
/// How alike what moves must be, in a short stretch and in a long one. Different people who come through one door the same
/// way reach 0.91 for four seconds and 0.86 for ten; one film cropped by a tenth against itself 0.90.
const LEAST_LIKENESS = 0.92
const LEAST_OF_LONG = 0.87
const LONG = 12 * TRACK_RATE
/// Where too little moves in four seconds, coding noise takes its share.
const LEAST_OF_WINDOW = 0.75
/// How far the films may drift against each other from window to window, and how long one may show something else, samples.
const DRIFT = 2
const LONGEST_GAP = 10 * TRACK_RATE
/// Drift over a stretch: 24 frames a second played at 25 make 4 %.
const STEEPEST = 0.06

/// Comparisons between two breaths: a few milliseconds.
const SLICE = 30_000

interface Found {
  readonly at: number
  readonly other: number
}

/// Stretches of `film` that `other` shows as well, the longest first. `breathe` is awaited between slices of work, so that
/// a long pair holds nothing up.
export async function sharedStretches(
  film: PictureTrack,
  other: PictureTrack,
  breathe: () => Promise<void> = () => Promise.resolve(),
): Promise<readonly SharedStretch[]> {
  const found: SharedStretch[] = []
  for (const mirrored of [false, true]) found.push(...(await stretches(film, other, mirrored, breathe)))
  const best = found.sort((a, b) => b.to - b.from - (a.to - a.from))
  return best.filter((stretch, i) => !best.slice(0, i).some((longer) => longer.from < stretch.to && stretch.from < longer.to))
}

async function stretches(
  film: PictureTrack,
  other: PictureTrack,
  mirrored: boolean,
  breathe: () => Promise<void>,
): Promise<SharedStretch[]> {
  const [length, otherLength] = [film.blank.length, other.blank.length]
  const window = Math.min(WINDOW, Math.floor((Math.min(length, otherLength) - 1) / STRIDE) + 1)
  if (window < LEAST_WINDOW) return []
  const words = mirrored ? film.mirrored : film.hashes
  const apart = (at: number, there: number): number =>
    film.blank[at] || other.blank[there]
      ? BLANK
      : bitsApart(words[2 * at]!, words[2 * at + 1]!, other.hashes[2 * there]!, other.hashes[2 * there + 1]!)
  const rowsInSlice = Math.max(1, Math.min(8, Math.floor(SLICE / otherLength)))
  const rows: Uint8Array[] = []
  const found: Found[] = []
  const places = otherLength - (window - 1) * STRIDE
  const sums = new Uint16Array(places)
  for (let at = 0; at < length; at += STRIDE) {
    const row = rows.length === window ? rows.shift()! : new Uint8Array(otherLength)
    for (let there = 0; there < otherLength; there++) row[there] = apart(at, there)
    rows.push(row)
    if ((at / STRIDE) % rowsInSlice === 0) await breathe()
    if (rows.length < window) continue
    sums.fill(0)
    rows.forEach((each, k) => {
      for (let there = 0; there < places; there++) sums[there]! += each[there + k * STRIDE]!
    })
    const best = standsOut(sums, rows)
    const start = at - (window - 1) * STRIDE
    if (best !== null && movingAlike(film, other, mirrored, start, at + 1, (sample) => sample + best - start) >= LEAST_OF_WINDOW)
      found.push({ at: start, other: best })
  }
  return joined(found).flatMap((run) => {
    const place = placeOf(run)
    const inside = (at: number): boolean => at >= 0 && at < length && place(at) >= 0 && place(at) < otherLength
    const middle = mean(run.map(({ at }) => apart(at, place(at))))
    const fits = (at: number): boolean => inside(at) && apart(at, place(at)) <= middle + 6
    let from = run[0]!.at
    let to = Math.min(length, run.at(-1)!.at + (window - 1) * STRIDE + 1)
    while (from > 0 && fits(from - 1)) from--
    while (fits(to)) to++
    while (to - from > 1 && !fits(from)) from++
    while (to - from > 1 && !fits(to - 1)) to--
    const likeness = movingAlike(film, other, mirrored, from, to, place)
    return likeness < (to - from >= LONG ? LEAST_OF_LONG : LEAST_LIKENESS)
      ? []
      : [{ from, to, otherFrom: place(from), otherTo: place(to - 1) + 1, mirrored, likeness }]
  })
}

/// Where a window lies best, if it lies well there and clearly better than a second to either side; else null.
function standsOut(sums: Uint16Array, rows: readonly Uint8Array[]): number | null {
  const window = rows.length
  let best = 0
  for (let there = 1; there < sums.length; there++) if (sums[there]! < sums[best]!) best = there
  const bits = sums[best]! / window
  if (bits > ALIKE) return null
  const beside: number[] = []
  for (let away = TRACK_RATE; away <= 4 * TRACK_RATE; away++)
    for (const there of [best - away, best + away]) if (there >= 0 && there < sums.length) beside.push(sums[there]! / window)
  // A film hardly longer than the window has no place beside: then its own pictures a second apart.
  if (beside.length < TRACK_RATE)
    rows.forEach((row, k) => {
      for (let l = 0; l < window; l++) if (Math.abs(k - l) * STRIDE >= TRACK_RATE) beside.push(row[best + l * STRIDE]!)
    })
  beside.sort((a, b) => a - b)
  return beside[beside.length >> 1]! - bits >= STANDS_OUT ? best : null
}

/// Windows that follow each other at nearly one offset.
function joined(found: readonly Found[]): Found[][] {
  const runs: Found[][] = []
  for (const each of found) {
    const run = runs.findLast((known) => {
      const last = known.at(-1)!
      return (
        each.at - last.at <= LONGEST_GAP &&
        Math.abs(each.other - each.at - (last.other - last.at)) <= DRIFT + STEEPEST * (each.at - last.at)
      )
    })
    if (run) run.push(each)
    else runs.push([each])
  }
  return runs
}

/// Where a sample of the first film lies on the second: a straight line through the run's windows (least squares), no
/// steeper than a conversion of rates makes it.
function placeOf(run: readonly Found[]): (at: number) => number {
  const [at, offset] = [mean(run.map((each) => each.at)), mean(run.map((each) => each.other - each.at))]
  const spread = run.reduce((sum, each) => sum + (each.at - at) ** 2, 0)
  const slope = spread === 0 ? 0 : run.reduce((sum, each) => sum + (each.at - at) * (each.other - each.at - offset), 0) / spread
  const steep = Math.max(-STEEPEST, Math.min(STEEPEST, slope))
  return (sample) => Math.round(sample + offset + steep * (sample - at))
}

/// How alike what moves in a stretch of both is: the correlation of their small pictures, each pixel less its own mean over
/// four seconds, so that a hall that stands behind different people says nothing.
function movingAlike(
  film: PictureTrack,
  other: PictureTrack,
  mirrored: boolean,
  from: number,
  to: number,
  place: (at: number) => number,
): number {
  const pixels = SMALL_SIDE * SMALL_SIDE
  let [cross, own, its] = [0, 0, 0]
  for (let start = from; start < to; start += WINDOW * STRIDE) {
    const samples: number[] = []
    for (let at = start; at < Math.min(to, start + WINDOW * STRIDE); at += 2)
      if (place(at) >= 0 && place(at) < other.blank.length) samples.push(at)
    if (samples.length < 4) continue
    for (let pixel = 0; pixel < pixels; pixel++) {
      const seen = mirrored ? pixel - (pixel % SMALL_SIDE) + SMALL_SIDE - 1 - (pixel % SMALL_SIDE) : pixel
      const a = samples.map((at) => film.small[at * pixels + seen]!)
      const b = samples.map((at) => other.small[place(at) * pixels + pixel]!)
      const [meanA, meanB] = [mean(a), mean(b)]
      a.forEach((level, i) => {
        cross += (level - meanA) * (b[i]! - meanB)
        own += (level - meanA) ** 2
        its += (b[i]! - meanB) ** 2
      })
    }
  }
  return own === 0 || its === 0 ? 0 : cross / Math.sqrt(own * its)
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length
