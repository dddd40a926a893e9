import type { Side } from '../body/landmark-name'
import { toDegrees, toRadians, wrapped } from '../geometry/angle'
import { length, minus } from '../geometry/vector'
import { ok, refused, type Result } from '../result'
import { secondsAt } from '../time/frame-table'
import { noAnswer, type Answer, type Words } from './answer'
import type { MeasureContext } from './context'
import { COVERAGE, differenceOf, merged, uncertaintyOf, type Effect } from './effect'
import { headingDifference, headingOf, signed, type Heading } from './foreshortening'
import { POINT_LIMITS, type Kind, type MeasureOf } from './kind'
import type { Located } from './located'
import { clipAt, endVariance, placedPoints, type PlacedPoints } from './on-frame'
import { onOther, placedFrames, type OverFrames } from './over-frames'
import type { ReasonCode } from './reason'
import { LEAST_ELEVATION_DEG, lineHeading } from './turning'
import { range, spokenRange } from './wording'

/// 1 σ of a width as a share of it: shoulders are drawn forward, hips are not seen quite square [J].
const WIDTH_U = 0.05
/// 1 σ of the ratio that perspective and a line's own tilt add (tuned on captured boxing).
const RATIO_U = 0.03
/// 1 σ of a line's own tilt out of the horizontal, degrees (tuned on captured boxing).
const TILT_DEG = { hips: 6, shoulders: 10 } as const
/// Beyond this a trunk does not turn [M].
const PLAUSIBLE_DEG = 60
const SMALL_DEG = 20
const LARGE_DEG = 45
/// Above this half width a separation says nothing [J].
const LARGEST_U_DEG = 45

type Asked = MeasureOf['separation']

/// How far the shoulder line is turned against the hip line, as from above. + when the rear
/// shoulder is drawn back against the rear hip; counter-clockwise from above where the lead side is
/// unknown.
export const separationKind: Kind<'separation'> = {
  kind: 'separation',
  inputs:
    "both hips and both shoulders; from the side: frames on which each line is square to the camera, and which end of each is nearer; from above: the view's elevation",
  formula:
    'side: θ = ± arccos(w/√(W² − rise²)) for each line with every θ that the span does not turn down, S = θ_s − θ_h, halves in quadrature; above: headings with depth rescaled by 1/sin ε; u: clicks ⊕ tilt·cot ε ⊕ elevation',
  source: 'geometry; lopsided halves in quadrature',
  budget: ['click', 'placing', 'anatomical', 'blur', 'width', 'tilt', 'elevation', 'model'],
  limits: [
    ...POINT_LIMITS,
    'widths-missing',
    'side-camera',
    'side-not-resolved',
    'elevation-missing',
    'camera-not-high',
    'separation-large',
    'too-uncertain',
  ],
  wording: 'apparent hip–shoulder separation: roughly 20–70° (estimate, side camera); hip–shoulder separation, seen from above: 40° ± 12°',
  over: overClearFrames,
  answer: (measure, context) => (measure.view === 'above' ? fromAbove(measure, context) : fromSide(measure, context)),
}

const POINTS = ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right'] as const
const SHORT = 'hip–shoulder separation'

/// Hips and shoulders turn no faster than this, degrees a second of real time [J].
const FASTEST_DEG_S = 1500

/// Frames on which all four points are placed. From the side, where it is stated which ends are nearer, that holds on the measure's own
/// frame, and on those beside it to which no line can have come through square, where the nearer end changes: on every frame on the way
/// both lines are clear of square by more than their error, and too far from it to cross it between two frames.
function overClearFrames(measure: Asked): OverFrames {
  const placed = (context: MeasureContext): number[] =>
    placedFrames(context, measure.clip, measure.subject, POINTS[0]).filter(
      (frame) => placedPoints(context, { ...measure, frame }, POINTS).ok,
    )
  return {
    frame: measure.frame,
    frames: (context) => (measure.view === 'above' || !measure.near ? placed(context) : clearFrames(measure, context, placed(context))),
    on: (frame) => onOther(measure, frame),
  }
}

function clearFrames(measure: Asked, context: MeasureContext, placed: readonly number[]): number[] {
  const clip = clipAt(context, measure)
  const table = clip.ok ? context.table(clip.value) : null
  const own = placed.indexOf(measure.frame)
  if (!clip.ok || own < 0) return []
  // How far each line is from square at least: 0 where it may be square.
  const clear = (frame: number): readonly [number, number] | null => {
    const lines = linesFromSide({ ...measure, frame }, context)
    return lines.ok ? [squareOff(lines.value.hips.heading), squareOff(lines.value.shoulders.heading)] : null
  }
  const reach = (step: 1 | -1): number[] => {
    const found: number[] = []
    let before = clear(measure.frame)
    for (let i = own + step; before && table; i += step) {
      const frame = placed[i]
      if (frame === undefined || Math.abs(frame - placed[i - step]!) !== 1) break
      const here = clear(frame)
      const turn = FASTEST_DEG_S * Math.abs(secondsAt(table, frame) - secondsAt(table, frame - step))
      if (!here || [0, 1].some((line) => !(before![line]! > 0 && here[line]! > 0 && before![line]! + here[line]! > turn))) break
      found.push(frame)
      before = here
    }
    return found
  }
  return [...reach(-1).reverse(), measure.frame, ...reach(1)]
}

const squareOff = ({ low, high }: Heading): number => Math.max(0, Math.min(low, 180 - high))

/// Sign of our convention against counter-clockwise from above: with the left side leading, the
/// right shoulder drawn back turns the shoulder line clockwise.
const signFor = (lead: Side | null): 1 | -1 => (lead === 'left' ? -1 : 1)

function fromAbove(measure: Asked, context: MeasureContext): Answer {
  const words: Words = { short: SHORT, what: `${SHORT}, seen from above`, range: 'estimate, high camera' }
  const found = placedPoints(context, measure, POINTS)
  if (!found.ok) return noAnswer('°', 'above', words, found.error)
  const elevation = context.view(measure.clip, measure.subject, measure.frame)?.elevation
  if (!elevation) return noAnswer('°', 'above', words, ['elevation-missing'])
  if (elevation.deg < LEAST_ELEVATION_DEG) return noAnswer('°', 'above', words, ['camera-not-high'])
  const [hipLeft, hipRight, shoulderLeft, shoulderRight] = found.value.points as [Located, Located, Located, Located]
  const hips = lineHeading(hipRight, hipLeft, elevation.deg)
  const shoulders = lineHeading(shoulderRight, shoulderLeft, elevation.deg)
  if (!hips || !shoulders) return noAnswer('°', 'above', words, ['points-coincide'])
  const sign = signFor(found.value.lead)
  const cot = 1 / Math.tan(toRadians(Math.min(elevation.deg, 90)))
  const tilt = (deg: number, tilted: number): number => toDegrees(Math.tan(toRadians(tilted))) * cot * Math.cos(toRadians(deg))
  const leans = (deg: number): number => (toDegrees(1) * Math.sin(2 * toRadians(deg)) * cot * toRadians(elevation.u)) / 2
  const effects = merged([
    ...differenceOf(merged(shoulders.effects), merged(hips.effects)).map((e) => ({ ...e, shift: e.shift.map((s) => sign * s) })),
    { key: `tilt:hips:${measure.clip}:${measure.frame}`, part: 'tilt', shift: [tilt(hips.deg, TILT_DEG.hips)] },
    { key: `tilt:shoulders:${measure.clip}:${measure.frame}`, part: 'tilt', shift: [tilt(shoulders.deg, TILT_DEG.shoulders)] },
    { key: `elevation:${measure.clip}:${measure.subject}`, part: 'elevation', shift: [sign * (leans(shoulders.deg) - leans(hips.deg))] },
  ])
  const value = sign * wrapped(shoulders.deg - hips.deg)
  const codes: ReasonCode[] = [...found.value.warnings]
  if (COVERAGE * uncertaintyOf(effects) > LARGEST_U_DEG) codes.push('too-uncertain')
  if (Math.abs(value) > PLAUSIBLE_DEG) codes.push('separation-large')
  return { value, effects, unit: '°', plane: 'above', reasons: codes, words }
}

function fromSide(measure: Asked, context: MeasureContext): Answer {
  const words: Words = { short: SHORT, what: `apparent ${SHORT}`, range: 'estimate, side camera' }
  const lines = linesFromSide(measure, context)
  if (!lines.ok) return noAnswer('°', 'image', words, lines.error)
  const { found, hips, shoulders } = lines.value
  const codes: ReasonCode[] = ['side-camera', ...found.warnings]
  const base = { effects: [] as Effect[], unit: '°', plane: 'image' } as const
  if (measure.near) {
    // Heading of right→left, + towards the camera, which is clockwise from above.
    const sign = signFor(found.lead)
    const towards = (near: Side): 1 | -1 => (near === 'left' ? 1 : -1)
    const d = headingDifference(
      signed(shoulders.heading, towards(measure.near.shoulders)),
      signed(hips.heading, towards(measure.near.hips)),
    )
    const spread = sign === 1 ? signed(d, -1) : d
    const value = wrapped(spread.at)
    const shift = value - spread.at
    if (Math.abs(value) > PLAUSIBLE_DEG) codes.push('separation-large')
    if (isUseless(spread)) codes.push('too-uncertain')
    const [low, high] = [spread.low + shift, spread.high + shift]
    const plate = `${range(low, high, '°')}${binOf(low, high)}`
    const u = halfOf(spread) / COVERAGE
    return {
      ...base,
      ...partsFor(u, hips, shoulders),
      value,
      u,
      interval: [low, high],
      reasons: codes,
      words: { ...words, own: { plate: `${plate} (estimate, side camera)`, spoken: spokenRange(low, high, '°') } },
    }
  }
  codes.push('side-not-resolved')
  const same = sized(headingDifference(shoulders.heading, hips.heading))
  const opposite = sized(headingDifference(shoulders.heading, signed(hips.heading, -1)))
  const [near, far] = same.at <= opposite.at ? [same, opposite] : [opposite, same]
  if (isUseless(near) || isUseless(far)) codes.push('too-uncertain')
  const value = (near.at + far.at) / 2
  const u = Math.sqrt(((halfOf(near) / COVERAGE) ** 2 + (halfOf(far) / COVERAGE) ** 2) / 2 + ((far.at - near.at) / 2) ** 2)
  const interval = [Math.min(near.low, far.low), Math.max(near.high, far.high)] as const
  const either =
    near.high >= far.low ? range(interval[0], interval[1], '°') : `${range(near.low, near.high, '°')} or ${range(far.low, far.high, '°')}`
  return {
    ...base,
    ...partsFor(u, hips, shoulders),
    value,
    u,
    interval,
    bounds: [0, 180],
    reasons: codes,
    words: { ...words, own: { plate: `${either} (estimate, side camera)`, spoken: spokenRange(interval[0], interval[1], '°') } },
  }
}

interface LinesFromSide {
  readonly found: PlacedPoints
  readonly hips: LineSpread
  readonly shoulders: LineSpread
}

function linesFromSide(measure: Asked, context: MeasureContext): Result<LinesFromSide, readonly ReasonCode[]> {
  const found = placedPoints(context, measure, POINTS)
  if (!found.ok) return found
  if (!measure.widths) return refused(['widths-missing'])
  const hipsThere = placedPoints(context, { ...measure, frame: measure.widths.hipsFrame }, POINTS.slice(0, 2))
  const shouldersThere = placedPoints(context, { ...measure, frame: measure.widths.shouldersFrame }, POINTS.slice(2))
  if (!hipsThere.ok || !shouldersThere.ok)
    return refused([...(hipsThere.ok ? [] : hipsThere.error), ...(shouldersThere.ok ? [] : shouldersThere.error)])
  const roll = toRadians(found.value.clip.roll?.deg ?? 0)
  const [hipLeft, hipRight, shoulderLeft, shoulderRight] = found.value.points as [Located, Located, Located, Located]
  const hips = headingSpread(hipLeft, hipRight, hipsThere.value.points as [Located, Located], roll)
  const shoulders = headingSpread(shoulderLeft, shoulderRight, shouldersThere.value.points as [Located, Located], roll)
  return hips && shoulders ? ok({ found: found.value, hips, shoulders }) : refused(['points-coincide'])
}

const halfOf = ({ low, high }: Heading): number => (high - low) / 2
const isUseless = (h: Heading): boolean => halfOf(h) > LARGEST_U_DEG

/// The size of a difference, whichever way: an interval across 0 is folded there.
function sized(d: Heading): Heading {
  const shift = wrapped(d.at) - d.at
  const [at, low, high] = [d.at + shift, d.low + shift, d.high + shift]
  if (low >= 0) return { at, low, high: Math.min(180, high) }
  if (high <= 0) return { at: -at, low: -high, high: Math.min(180, -low) }
  return { at: Math.abs(at), low: 0, high: Math.min(180, Math.max(high, -low)) }
}

/// "small", "moderate", "large", where the interval leaves no more than two of them.
function binOf(low: number, high: number): string {
  const [least, most] = low >= 0 ? [low, high] : high <= 0 ? [-high, -low] : [0, Math.max(high, -low)]
  const bins = [
    ...(least < SMALL_DEG ? ['small'] : []),
    ...(least < LARGE_DEG && most > SMALL_DEG ? ['moderate'] : []),
    ...(most > LARGE_DEG ? ['large'] : []),
  ]
  return bins.length <= 2 ? `, ${bins.join(' to ')}` : ''
}

interface LineSpread {
  readonly heading: Heading
  readonly clickU: number
  readonly widthU: number
}

function headingSpread(left: Located, right: Located, there: readonly [Located, Located], roll: number): LineSpread | null {
  const width = length(minus(there[0].at, there[1].at))
  if (!(width > 0)) return null
  const drawn = minus(left.at, right.at)
  const span = drawn[0] * Math.cos(roll) - drawn[1] * Math.sin(roll)
  // A tilted line is short as well; its tilt shows as height on a low camera's picture.
  const rise = drawn[0] * Math.sin(roll) + drawn[1] * Math.cos(roll)
  const level = Math.sqrt(Math.max(width * width - rise * rise, (width * width) / 4))
  const clickU = Math.sqrt(endVariance(left, right)) / width
  const widthU = Math.hypot(WIDTH_U, Math.sqrt(endVariance(there[0], there[1])) / width)
  return { heading: headingOf(span / level, Math.hypot(clickU, RATIO_U), widthU), clickU, widthU }
}

/// The parts in proportion: a distribution has no slopes, but its sources have sizes.
function partsFor(u: number, hips: LineSpread, shoulders: LineSpread): { readonly effects: readonly Effect[] } {
  const [click, width, model] = [Math.hypot(hips.clickU, shoulders.clickU), Math.hypot(hips.widthU, shoulders.widthU), Math.SQRT2 * RATIO_U]
  const whole = Math.hypot(click, width, model)
  return {
    effects: [
      { key: 'click', part: 'click', shift: [(u * click) / whole] },
      { key: 'width', part: 'width', shift: [(u * width) / whole] },
      { key: 'model', part: 'model', shift: [(u * model) / whole] },
    ],
  }
}
