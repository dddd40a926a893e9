import type { Event } from '../project/film'
import { fDistribution } from './distribution'

/// How well markings agree: a first marking against a blind second one, or several markers.

export type IccForm = '(1,1)' | '(2,1)' | '(3,1)' | '(1,k)' | '(2,k)' | '(3,k)'

export interface Icc {
  readonly form: IccForm
  readonly value: number
  /// 95 % interval.
  readonly low: number
  readonly high: number
}

export interface IccTable {
  readonly meanSquares: { readonly targets: number; readonly within: number; readonly judges: number; readonly error: number }
  readonly coefficients: readonly Icc[]
}

/// The six intraclass correlations of Shrout and Fleiss 1979, with their 95 % intervals (McGraw and
/// Wong 1996 for (2,1) and (2,k)). Rows are targets, columns judges. Null for fewer than two of
/// either, ragged rows, or where nothing varies.
export function intraclass(ratings: readonly (readonly number[])[]): IccTable | null {
  const n = ratings.length
  const k = ratings[0]?.length ?? 0
  if (n < 2 || k < 2 || ratings.some((row) => row.length !== k || !row.every(Number.isFinite))) return null
  const mean = (xs: readonly number[]): number => xs.reduce((s, x) => s + x, 0) / xs.length
  const grand = mean(ratings.flat())
  const rowMeans = ratings.map(mean)
  const columnMeans = Array.from({ length: k }, (_, j) => mean(ratings.map((row) => row[j]!)))
  const squares = (xs: readonly number[]): number => xs.reduce((s, x) => s + (x - grand) ** 2, 0)
  const total = squares(ratings.flat())
  const between = k * squares(rowMeans)
  const judges = n * squares(columnMeans)
  const BMS = between / (n - 1)
  const WMS = (total - between) / (n * (k - 1))
  const JMS = judges / (k - 1)
  const EMS = (total - between - judges) / ((n - 1) * (k - 1))
  if (!(BMS > 0) || !(WMS > 0)) return null

  const single = {
    1: (BMS - WMS) / (BMS + (k - 1) * WMS),
    2: (BMS - EMS) / (BMS + (k - 1) * EMS + (k * (JMS - EMS)) / n),
    3: (BMS - EMS) / (BMS + (k - 1) * EMS),
  }
  const averaged = { 1: (BMS - WMS) / BMS, 2: (BMS - EMS) / (BMS + (JMS - EMS) / n), 3: (BMS - EMS) / BMS }
  const F = (p: number, a: number, b: number): number => fDistribution(p, a, b)
  const oneWay = [BMS / WMS / F(0.975, n - 1, n * (k - 1)), (BMS / WMS) * F(0.975, n * (k - 1), n - 1)] as const
  const mixed = [BMS / EMS / F(0.975, n - 1, (n - 1) * (k - 1)), (BMS / EMS) * F(0.975, (n - 1) * (k - 1), n - 1)] as const
  const ofSingle = (f: number): number => (f - 1) / (f + k - 1)
  const ofMean = (f: number): number => 1 - 1 / f

  const Fj = JMS / EMS
  const r = single[2]
  const above = (k - 1) * (n - 1) * (k * r * Fj + n * (1 + (k - 1) * r) - k * r) ** 2
  const below = (n - 1) * (k * r) ** 2 * Fj ** 2 + (n * (1 + (k - 1) * r) - k * r) ** 2
  const v = above / below
  const [Fu, Fl] = [F(0.975, n - 1, v), F(0.975, v, n - 1)]
  const low2 = (n * (BMS - Fu * EMS)) / (Fu * (k * JMS + (k * n - k - n) * EMS) + n * BMS)
  const high2 = (n * (Fl * BMS - EMS)) / (k * JMS + (k * n - k - n) * EMS + n * Fl * BMS)
  const stepped = (x: number): number => (x * k) / (1 + x * (k - 1))

  return {
    meanSquares: { targets: BMS, within: WMS, judges: JMS, error: EMS },
    coefficients: [
      { form: '(1,1)', value: single[1], low: ofSingle(oneWay[0]), high: ofSingle(oneWay[1]) },
      { form: '(2,1)', value: single[2], low: low2, high: high2 },
      { form: '(3,1)', value: single[3], low: ofSingle(mixed[0]), high: ofSingle(mixed[1]) },
      { form: '(1,k)', value: averaged[1], low: ofMean(oneWay[0]), high: ofMean(oneWay[1]) },
      { form: '(2,k)', value: averaged[2], low: stepped(low2), high: stepped(high2) },
      { form: '(3,k)', value: averaged[3], low: ofMean(mixed[0]), high: ofMean(mixed[1]) },
    ],
  }
}

export interface BlandAltman {
  readonly n: number
  /// Mean of first − second.
  readonly bias: number
  readonly sd: number
  /// bias ± 1.96 sd.
  readonly limits: readonly [number, number]
}

/// Bland and Altman 1986. Null for fewer than two pairs or lists of unequal length.
export function blandAltman(first: readonly number[], second: readonly number[]): BlandAltman | null {
  const n = first.length
  if (n < 2 || n !== second.length) return null
  const d = first.map((x, i) => x - second[i]!)
  const bias = d.reduce((s, x) => s + x, 0) / n
  const sd = Math.sqrt(d.reduce((s, x) => s + (x - bias) ** 2, 0) / (n - 1))
  if (!Number.isFinite(sd)) return null
  return { n, bias, sd, limits: [bias - 1.96 * sd, bias + 1.96 * sd] }
}

export interface MarkedTwice {
  readonly event: string
  /// Frames from the middle of the first bracket to that of the second: + later.
  readonly difference: number
  /// Whether the two brackets share a frame.
  readonly meet: boolean
}

/// The events that were marked a second time, blind, in their order.
export const markedTwice = (events: readonly Event[]): MarkedTwice[] =>
  events.flatMap(({ id, markings }) =>
    markings
      ? [
          {
            event: id,
            difference: (markings.second.earliest + markings.second.latest - markings.first.earliest - markings.first.latest) / 2,
            meet: markings.second.earliest <= markings.first.latest && markings.first.earliest <= markings.second.latest,
          },
        ]
      : [],
  )

/// How far a second marking lies from the first, in frames, over all events marked twice: bias and limits of second − first.
/// Null for fewer than two. Frames of one rate only: the events of one clip.
export function eventAgreement(events: readonly Event[]): BlandAltman | null {
  const differences = markedTwice(events).map(({ difference }) => difference)
  return blandAltman(
    differences,
    differences.map(() => 0),
  )
}
