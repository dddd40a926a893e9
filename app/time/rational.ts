/// A fraction in lowest terms with a positive denominator. Rates (frames a second), speeds
/// and capture factors are rationals; nothing in the core rounds them.
/// Numerator and denominator are safe integers; arithmetic that would leave them throws.
export interface Rational {
  readonly n: number
  readonly d: number
}

function gcd(a: bigint, b: bigint): bigint {
  while (b !== 0n) [a, b] = [b, a % b]
  return a < 0n ? -a : a
}

function reduced(n: bigint, d: bigint): Rational {
  if (d === 0n) throw new RangeError('a rational needs a denominator other than zero')
  if (d < 0n) [n, d] = [-n, -d]
  const g = gcd(n, d)
  const value = { n: Number(n / g), d: Number(d / g) }
  if (!Number.isSafeInteger(value.n) || !Number.isSafeInteger(value.d)) throw new RangeError(`${n}/${d} is too large`)
  return value
}

/// Makes n/d in lowest terms. Throws when d is 0 or either is not a safe integer.
export function rational(n: number, d = 1): Rational {
  if (!Number.isSafeInteger(n) || !Number.isSafeInteger(d)) throw new RangeError(`${n}/${d} is not a fraction of whole numbers`)
  return reduced(BigInt(n), BigInt(d))
}

/// Reads "60/1", "1/4", "2" or "0.25" (a finite decimal is exact). Null when the text is none of these,
/// has a zero denominator, or is too large to be exact.
export function parseRational(text: string): Rational | null {
  const match = /^(-?)(\d{1,15})(?:\.(\d{1,12})|\/(\d{1,15}))?$/.exec(text)
  if (!match) return null
  const [, sign, whole = '', decimals, below] = match
  const n = BigInt(whole + (decimals ?? '')) * (sign ? -1n : 1n)
  const d = below !== undefined ? BigInt(below) : 10n ** BigInt(decimals?.length ?? 0)
  if (d === 0n) return null
  try {
    return reduced(n, d)
  } catch {
    return null
  }
}

export const add = (a: Rational, b: Rational): Rational =>
  reduced(BigInt(a.n) * BigInt(b.d) + BigInt(b.n) * BigInt(a.d), BigInt(a.d) * BigInt(b.d))
export const subtract = (a: Rational, b: Rational): Rational => add(a, { n: -b.n, d: b.d })
export const multiply = (a: Rational, b: Rational): Rational => reduced(BigInt(a.n) * BigInt(b.n), BigInt(a.d) * BigInt(b.d))
export const divide = (a: Rational, b: Rational): Rational => reduced(BigInt(a.n) * BigInt(b.d), BigInt(a.d) * BigInt(b.n))
export const compare = (a: Rational, b: Rational): number => {
  const left = BigInt(a.n) * BigInt(b.d)
  const right = BigInt(b.n) * BigInt(a.d)
  return left < right ? -1 : left > right ? 1 : 0
}
/// The whole number at or below the fraction.
export const floor = (a: Rational): number =>
  Number((BigInt(a.n) - (((BigInt(a.n) % BigInt(a.d)) + BigInt(a.d)) % BigInt(a.d))) / BigInt(a.d))
/// The whole number at or above the fraction.
export const ceil = (a: Rational): number => -floor({ n: -a.n, d: a.d })
/// The nearest whole number, halves away from zero for positive values (up).
export const round = (a: Rational): number => floor(add(a, { n: 1, d: 2 }))
/// For display, ffmpeg's door and error budgets only.
export const toNumber = (a: Rational): number => a.n / a.d
export const formatRational = (a: Rational): string => (a.d === 1 ? String(a.n) : `${a.n}/${a.d}`)
