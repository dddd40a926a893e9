import type { Point } from '../project/fields'
import type { BudgetPart } from './reading'

/// The error budget of a reading, as independent sources.

export type PartName =
  | 'click'
  | 'placing'
  | 'anatomical'
  | 'blur'
  | 'plane'
  | 'roll'
  | 'event'
  | 'scale'
  | 'capture factor'
  | 'filter'
  | 'camera motion'
  | 'floor marks'
  | 'width'
  | 'tilt'
  | 'model'
  | 'judging'
  | 'elevation'
  | 'view'

/// One source of error. `key` names what it is constant over ("anatomical:c1:s1:knee.left": one
/// offset for a landmark throughout a clip), so that readings which share a key share the very
/// same error. `shift` is how far one σ of the source moves the value, in the reading's unit: one
/// number for each of its independent directions (two for a point on the picture), with its sign.
export interface Effect {
  readonly key: string
  readonly part: PartName
  readonly shift: readonly number[]
}

/// U = 1.96 u: the two-sided 95 % point of the normal distribution.
export const COVERAGE = 1.959963984540054

/// An error of a placed point, the same σ along x and along y, in pixels.
export interface PointError {
  readonly key: string
  readonly part: PartName
  readonly sigma: number
}

/// What a point's errors do to a value with this slope (unit per pixel along x and y).
export const effectsOf = (errors: readonly PointError[], slope: Point): Effect[] =>
  errors.map(({ key, part, sigma }) => ({ key, part, shift: [sigma * slope[0], sigma * slope[1]] }))

/// Effects with one key become one: what is the same error twice adds with its sign.
export function merged(effects: readonly Effect[]): readonly Effect[] {
  if (!hasTwins(effects)) return effects
  const byKey = new Map<string, { key: string; part: PartName; shift: number[] }>()
  for (const { key, part, shift } of effects) {
    const known = byKey.get(key)
    if (!known) byKey.set(key, { key, part, shift: [...shift] })
    else shift.forEach((s, i) => (known.shift[i] = (known.shift[i] ?? 0) + s))
  }
  return [...byKey.values()]
}

/// Most budgets are short and hold every key once: seen without making anything.
function hasTwins(effects: readonly Effect[]): boolean {
  if (effects.length > 24) return true
  for (let i = 1; i < effects.length; i++) for (let j = 0; j < i; j++) if (effects[i]!.key === effects[j]!.key) return true
  return false
}

/// u, 1 σ, of merged effects.
export function uncertaintyOf(effects: readonly Effect[]): number {
  let variance = 0
  for (const { shift } of effects) for (const s of shift) variance += s * s
  return Math.sqrt(variance)
}

/// The budget as it is shown: each part's own 95 % half width, the largest first. A part that comes
/// from a single source carries that source's key.
export function partsOf(effects: readonly Effect[]): BudgetPart[] {
  const parts: { name: PartName; variance: number; key: string | null }[] = []
  for (const { key, part, shift } of effects) {
    let variance = 0
    for (const s of shift) variance += s * s
    if (!(variance > 0)) continue
    const known = parts.find((p) => p.name === part)
    if (!known) parts.push({ name: part, variance, key })
    else {
      known.variance += variance
      known.key = null
    }
  }
  return parts
    .sort((a, b) => b.variance - a.variance)
    .map(({ name, variance, key }) =>
      key === null ? { name, U: COVERAGE * Math.sqrt(variance) } : { name, U: COVERAGE * Math.sqrt(variance), key },
    )
}

/// The effects on a − b: what both share is taken out.
export const differenceOf = (a: readonly Effect[], b: readonly Effect[]): readonly Effect[] =>
  merged([...a, ...b.map((e) => ({ ...e, shift: e.shift.map((s) => -s) }))])
