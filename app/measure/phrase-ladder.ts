/// How strongly a regularity may be put.

export interface Seen {
  readonly k: number
  readonly n: number
  readonly unusable: number
  /// How the cases were chosen is stated, and those in which it did not happen, or that ended
  /// otherwise, are among them.
  readonly selectionStated: boolean
}

/// "here", "again in a second clip", "in all 3 clips I checked", "in 5 of the 6 I could see well (of
/// 8)", "usually (11 of 13)". Always names cases that could not be seen. Null where nothing was seen.
export function phraseFor({ k, n, unusable, selectionStated }: Seen): string | null {
  if (k <= 0 || n <= 0 || k > n) return null
  const seen = unusable > 0 ? ` (of ${n + unusable})` : ''
  if (n === 1) return `here${unusable > 0 ? ` (1 of ${1 + unusable} could be seen)` : ''}`
  if (n >= 10 && selectionStated && k > n / 2) return `usually (${k} of ${n}${unusable > 0 ? `, ${unusable} not usable` : ''})`
  if (k === n && n === 2) return `again in a second clip${seen}`
  if (k === n && n <= 4) return `in all ${n} clips I checked${seen}`
  return `in ${k} of the ${n} I could see well${seen}`
}

/// Whether "habit" or "signature" may be said without "looks like".
export const mayCallHabit = ({ k, n, selectionStated }: Seen): boolean => n >= 10 && selectionStated && k > n / 2
