import { intervalAt, secondsAt } from '../time/frame-table'
import { noAnswer, type Answer, type Words } from './answer'
import { captureFactor } from './capture-factor'
import type { MeasureContext } from './context'
import { COVERAGE, type Effect } from './effect'
import { POINT_LIMITS, type Kind, type MeasureOf } from './kind'
import { clipAt } from './on-frame'
import type { Instant, OverFrames } from './over-frames'
import type { Reading } from './reading'
import type { ReasonCode } from './reason'
import { turningPeak } from './turning-peak'
import { turningSeries } from './turning-series'
import { sayTurning } from './turning-words'

/// When a line or a joint turns fastest between two frames: real seconds since the first of them.
///
/// Its interval is made of what the placings leave possible (`turningPeak`), in quadrature with how
/// far the smoothing may have moved the peak and with the capture factor's own error. Refused
/// (`peak-at-end`) where the highest rate lies at an end of the span.
export const peakTimeKind: Kind<'peak-time'> = {
  kind: 'peak-time',
  inputs: 'two or three points tracked between two frames and beyond, the capture factor',
  formula:
    't* = argmax |ω(t)| (parabola through the highest three), carried back by what 0.7 fc against fc tells about the smoothing; interval {t: |ω̇(t)| ≤ 1.96·u(ω̇(t)) and |ω(t)| not below the highest by more than 1.645·(u of the difference ⊕ spread of two cut-offs/√3)} ⊕ 1.96·u_smoothing ⊕ t·u_k/k',
  source:
    'rates as angular-rate; where a rate neither rises nor falls (Fieller 1954) and stands no lower than any other; smoothing to its second moment: our own',
  budget: ['click', 'filter', 'capture factor'],
  limits: [...POINT_LIMITS, 'capture-unknown', 'film-not-read', 'too-few-samples', 'peak-at-end', 'elevation-missing'],
  wording: 'peak rate of hip line, seen from above: 0.058 s ± 0.021 s after frame 1200',
  over: itsRate,
  answer(measure, context): Answer {
    const short = `peak rate of ${sayTurning(measure.points, context.lead(measure.clip, measure.subject, measure.fromFrame))}`
    const words: Words = { short, what: `${short}${measure.above ? ', seen from above' : ''}, after frame ${measure.fromFrame}` }
    const clip = clipAt(context, { clip: measure.clip, frame: measure.fromFrame })
    if (!clip.ok) return noAnswer('s', 'time', words, clip.error)
    if (measure.toFrame <= measure.fromFrame + 1 || measure.toFrame >= clip.value.to) return noAnswer('s', 'time', words, ['outside-clip'])
    const found = turningSeries(context, clip.value, measure, measure.fromFrame, measure.toFrame, measure.cutoff)
    if (!found.ok) return noAnswer('s', 'time', words, found.error)
    const series = found.value
    const span = { first: series.run.frames.indexOf(measure.fromFrame), last: series.run.frames.indexOf(measure.toFrame) }
    const peak = turningPeak(series, span, measure.sign)
    if (!peak) return noAnswer('s', 'time', words, ['peak-at-end'])

    const start = secondsAt(context.table(clip.value)!, measure.fromFrame) / series.run.factor.k
    const value = peak.at - start
    const byFactor = Math.abs(value) * Math.hypot(...series.run.factor.effects.flatMap((e) => e.shift))
    const rest = COVERAGE * Math.hypot(peak.wander, byFactor)
    const low = value - Math.hypot(peak.at - peak.low, rest)
    const high = value + Math.hypot(peak.high - peak.at, rest)
    const effects: Effect[] = [
      { key: `click:${measure.id}`, part: 'click', shift: [(peak.high - peak.low) / 2 / COVERAGE] },
      { key: `filter:${measure.id}`, part: 'filter', shift: [peak.wander] },
      ...series.run.factor.effects.map((e): Effect => ({ ...e, shift: e.shift.map((s) => -value * s) })),
    ]
    const codes: ReasonCode[] = [...series.run.factor.warnings]
    return { value, effects, interval: [low, high], u: (high - low) / 2 / COVERAGE, unit: 's', plane: 'time', reasons: codes, words }
  },
}

/// The rate whose peak it is, frame by frame of its span, with the peak's instant.
function itsRate(measure: MeasureOf['peak-time']): OverFrames {
  const { id, clip, subject, points, above, cutoff, fromFrame, toFrame } = measure
  return {
    frame: Math.floor((fromFrame + toFrame) / 2),
    frames: () => Array.from({ length: Math.max(0, toFrame - fromFrame + 1) }, (_, i) => fromFrame + i),
    on: (frame) => ({
      id,
      kind: 'angular-rate',
      clip,
      subject,
      points,
      frame,
      ...(above ? { above } : {}),
      ...(cutoff === undefined ? {} : { cutoff }),
    }),
    instant: (reading, context) => instantOf(measure, reading, context),
  }
}

const FASTEST = { '+': 'opens fastest', '-': 'closes fastest', any: 'turns fastest' } as const

function instantOf(
  { clip: id, fromFrame, points, sign }: MeasureOf['peak-time'],
  { value, low, high, plate }: Reading,
  context: MeasureContext,
): Instant | null {
  const clip = context.clip(id)
  const table = clip && context.table(clip)
  const factor = clip && captureFactor(context, clip)
  if (!clip || !table || !factor?.ok || value === null || low === null || high === null) return null
  const frameOf = (seconds: number): number => {
    const at = secondsAt(table, fromFrame) + seconds * factor.value.k
    const after = (frame: number): boolean => frame + 1 < table.pts.length && secondsAt(table, frame + 1) <= at
    let frame = fromFrame
    while (after(frame)) frame++
    return frame + (at - secondsAt(table, frame)) / intervalAt(table, frame)
  }
  const name = FASTEST[points.length === 3 ? (sign ?? 'any') : 'any']
  return {
    name,
    earliest: frameOf(low),
    at: frameOf(value),
    latest: frameOf(high),
    words: `${name} ${plate.value} after frame ${fromFrame}`,
  }
}
