/// The answer to a measure.
export interface Reading {
  readonly id: string
  readonly kind: string
  readonly clip: string | null
  readonly frame: number | null
  /// In `unit`; null when refused.
  readonly value: number | null
  /// Standard uncertainty, 1 σ; null when refused.
  readonly u: number | null
  /// Half width of the 95 % interval (the larger half where it is lopsided); null when refused.
  readonly U: number | null
  /// Ends of the 95 % interval, in `unit`; null when refused.
  readonly low: number | null
  readonly high: number | null
  /// "°", "s", "frames", or a body unit such as "head heights"; "" for an order.
  readonly unit: string
  readonly plane: 'image' | 'true' | 'ground' | 'above' | 'time'
  readonly verdict: Verdict
  /// Reason codes, the weightiest first; their wording is in the registry's table.
  readonly reasons: readonly string[]
  /// The error budget: each part's own 95 % half width.
  readonly parts: readonly BudgetPart[]
  /// The whole label as it is burned in, e.g. "apparent knee angle, image plane: 145° ± 12°".
  readonly label: string
  /// The label in two: what stands large on the plate and what stands beneath.
  readonly plate: { readonly value: string; readonly what: string }
  /// The value as it is said: "about one hundred and forty-five degrees" is written "about 145 degrees".
  readonly spoken: string
}

export type Verdict = 'good' | 'warned' | 'range' | 'refused'

export interface BudgetPart {
  readonly name: string
  readonly U: number
  /// What the error is constant over: parts with one key are shared and cancel in differences.
  readonly key?: string
}
