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
export function merged(effects: readonly Effect[]): Effect[] {
  const byKey = new Map<string, { part: PartName; shift: number[] }>()
  for (const { key, part, shift } of effects) {
    const known = byKey.get(key)
    if (!known) byKey.set(key, { part, shift: [...shift] })
    else shift.forEach((s, i) => (known.shift[i] = (known.shift[i] ?? 0) + s))
  }
  return [...byKey].map(([key, { part, shift }]) => ({ key, part, shift }))
}

/// u, 1 σ, of merged effects.
export const uncertaintyOf = (effects: readonly Effect[]): number => Math.hypot(...effects.map((e) => Math.hypot(...e.shift)))

/// The budget as it is shown: each part's own 95 % half width, the largest first. A part that comes
/// from a single source carries that source's key.
export function partsOf(effects: readonly Effect[]): BudgetPart[] {
  const byPart = new Map<PartName, { u: number; keys: string[] }>()
  for (const { key, part, shift } of effects) {
    const known = byPart.get(part) ?? { u: 0, keys: [] }
    byPart.set(part, { u: Math.hypot(known.u, ...shift), keys: [...known.keys, key] })
  }
  return [...byPart]
    .filter(([, { u }]) => u > 0)
    .sort((a, b) => b[1].u - a[1].u)
    .map(([name, { u, keys }]) => (keys.length === 1 ? { name, U: COVERAGE * u, key: keys[0]! } : { name, U: COVERAGE * u }))
}

/// The effects on a − b: what both share is taken out.
export const differenceOf = (a: readonly Effect[], b: readonly Effect[]): Effect[] =>
  merged([...a, ...b.map((e) => ({ ...e, shift: e.shift.map((s) => -s) }))])
