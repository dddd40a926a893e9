import { minusSaid, withMinus } from './minus'
import { reasons, type ReasonCode } from './reason'
import type { Words } from './answer'

/// Rounding and wording of values. Rounding follows U.

/// Digits beyond which nobody reads on.
const MOST_PLACES = 12

/// Places after the point that leave U two significant digits; less than 0 for tens and more.
function placesOf(U: number): number {
  if (!(U > 0)) return 0
  return Math.max(-MOST_PLACES, Math.min(MOST_PLACES, 1 - Math.floor(Math.log10(U))))
}

/// What binary fractions leave behind the last digit meant.
const DUST = 1e-9

const upTo = (x: number, places: number): number => {
  const scale = 10 ** places
  return Math.ceil(x * scale - DUST * Math.max(1, Math.abs(x * scale))) / scale
}
const near = (x: number, places: number): number => {
  const scale = 10 ** places
  const rounded = Math.round(x * scale + DUST) / scale
  return rounded === 0 ? 0 : rounded
}
const shown = (x: number, places: number): string => {
  const size = Math.abs(x)
  const text = Number.isSafeInteger(size) && places <= 0 ? String(size) : size.toFixed(Math.max(0, Math.min(MOST_PLACES, places)))
  return x < 0 && Number(text) !== 0 ? withMinus(`-${text}`) : text
}

const isAngle = (unit: string): boolean => unit === '°'

/// A unit as it follows its number: "°" touches it, others stand apart.
export const attached = (number: string, unit: string): string =>
  unit === '' ? number : isAngle(unit) ? number + unit : `${number} ${unit}`

/// "145° ± 12°", "0.300 s ± 0.027 s", "1.00 ± 0.25 head heights". Degrees: U up to whole degrees
/// (at least 1), value to whole degrees. Seconds: both carry the unit. Other quantities: U to two
/// significant digits (up), value to the same place.
export function valueWithError(value: number, U: number, unit: string): string {
  const rounded = roundedWithError(value, U, unit)
  const { places } = rounded
  const numbers = [shown(rounded.value, places), shown(rounded.U, places)] as const
  if (isAngle(unit)) return `${numbers[0]}° ± ${numbers[1]}°`
  if (unit === 's' || unit === '°/s' || unit === 'm/s') return `${numbers[0]} ${unit} ± ${numbers[1]} ${unit}`
  return attached(numbers.join(' ± '), unit)
}

/// Value and U as they are shown, and to how many places.
function roundedWithError(value: number, U: number, unit: string): { readonly value: number; readonly U: number; readonly places: number } {
  if (isAngle(unit)) return { value: near(value, 0), U: Math.max(1, upTo(U, 0)), places: 0 }
  const places = placesOf(upTo(U, placesOf(U)))
  return { value: near(value, places), U: upTo(U, places), places }
}

/// "about 145°", "about 0.30 s": rounded as it is said aloud (`spoken`), and never without "about".
export const about = (value: number, U: number, unit: string): string =>
  isAngle(unit)
    ? `about ${shown(U >= 8 ? 5 * Math.round(value / 5) : near(value, 0), 0)}°`
    : `about ${attached(shown(near(value, placesOf(U) - 1), placesOf(U) - 1), unit)}`

/// "139° to 151°", "0.27 to 0.33 s": the 95 % interval. Its ends are the shown value less and plus the shown U, so that
/// "145° ± 6°" elsewhere in the film says the same; those of a lopsided or bounded interval are its own, rounded outwards.
export function fromTo(value: number, U: number, low: number, high: number, unit: string): string {
  const [from, to] = ends(value, U, low, high, unit)
  return isAngle(unit) ? `${from}° to ${to}°` : attached(`${from} to ${to}`, unit)
}

export function spokenFromTo(value: number, U: number, low: number, high: number, unit: string): string {
  const [from, to] = ends(value, U, low, high, unit).map(minusSaid)
  return `${from} to ${to} ${saidUnit(unit)}`.trim()
}

function ends(value: number, U: number, low: number, high: number, unit: string): readonly [string, string] {
  const rounded = roundedWithError(value, U, unit)
  const { places } = rounded
  const even = Math.abs(value - U - low) + Math.abs(value + U - high) <= DUST * Math.max(1, Math.abs(value), U)
  const [from, to] = even ? [rounded.value - rounded.U, rounded.value + rounded.U] : [-upTo(-low, places), upTo(high, places)]
  return [shown(near(from, places), places), shown(near(to, places), places)]
}

/// "roughly 20–70°": ends to whole fives of degrees, outwards; other units to two digits of the width.
export function range(low: number, high: number, unit: string): string {
  const [from, to] = rangeEnds(low, high, unit)
  return `roughly ${attached(`${from}–${to}`, unit)}`
}

function rangeEnds(low: number, high: number, unit: string): readonly [string, string] {
  if (isAngle(unit)) {
    const from = 5 * Math.floor(low / 5 + 1e-9)
    const to = 5 * Math.ceil(high / 5 - 1e-9)
    return [shown(near(from, 0), 0), from < 0 ? `+${shown(near(to, 0), 0)}`.replace('+−', '−') : shown(near(to, 0), 0)]
  }
  const places = placesOf((high - low) / 2) - 1
  return [shown(near(low, places), places), shown(near(high, places), places)]
}

const SAID: Readonly<Record<string, string>> = {
  '°': 'degrees',
  s: 'seconds',
  '°/s': 'degrees a second',
  'm/s': 'metres a second',
  m: 'metres',
  cm: 'centimetres',
}
const saidUnit = (unit: string): string => SAID[unit] ?? unit
const saidNumber = (x: number, places: number): string => minusSaid(shown(near(x, places), places))

/// From U ≥ 8° an angle is said with "about" and rounded to 5; other values are said to the place
/// of U's first digit.
export function spoken(value: number, U: number, unit: string): string {
  if (isAngle(unit)) return U >= 8 ? `about ${saidNumber(5 * Math.round(value / 5), 0)} degrees` : `${saidNumber(value, 0)} degrees`
  return `about ${saidNumber(value, placesOf(U) - 1)} ${saidUnit(unit)}`.trim()
}

export function spokenRange(low: number, high: number, unit: string): string {
  const [from, to] = rangeEnds(low, high, unit)
  return `roughly ${minusSaid(from)} to ${minusSaid(to.replace('+', ''))} ${saidUnit(unit)}`.trim()
}

export const refusalLabel = (words: Words, why: ReasonCode): string => `${words.short}: not measured, ${reasons[why].wording}`
