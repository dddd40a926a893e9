import { ok, refused, type Result } from '../result'
import { ceil, toNumber, type Rational } from './rational'

/// Timecode after SMPTE ST 12-1: HH:MM:SS:FF without dropped numbers, HH:MM:SS;FF with them.
/// Drop frame skips *numbers*, never frames: at 30000/1001 the numbers 0 and 1 of every minute,
/// except minutes divisible by ten; in proportion at 60000/1001 and 120000/1001.

export type TimecodeProblem =
  | { readonly code: 'not-a-timecode'; readonly text: string }
  | { readonly code: 'number-out-of-range'; readonly text: string }
  /// `;` at a rate that has no drop frame.
  | { readonly code: 'no-drop-frame-at-rate'; readonly text: string; readonly rate: Rational }
  /// A number that drop frame skips, such as 00:01:00;00.
  | { readonly code: 'dropped-number'; readonly text: string }

/// Frames counted to a timecode second: 24 for 24000/1001, 30 for 30000/1001.
export const nominalRate = (rate: Rational): number => ceil(rate)

/// Numbers dropped each minute at this rate: 2 at 30000/1001, 4 at 60000/1001, 8 at 120000/1001, else 0.
export const droppedEachMinute = (rate: Rational): number => (rate.d === 1001 && rate.n % 30_000 === 0 ? 2 * (rate.n / 30_000) : 0)

/// Whether the rate has a drop-frame count.
export const allowsDropFrame = (rate: Rational): boolean => droppedEachMinute(rate) > 0

/// Frames in a day of timecode, after which it starts again.
function framesOfDay(rate: Rational, drop: boolean): number {
  const nominal = nominalRate(rate)
  return 24 * 60 * 60 * nominal - (drop ? droppedEachMinute(rate) * (24 * 60 - 24 * 6) : 0)
}

const pad = (n: number, digits: number): string => String(n).padStart(digits, '0')

/// Timecode of frame `frame` (0 is 00:00:00:00) at `rate`; a day later it starts again. Throws
/// RangeError for a frame that is no whole number of zero or more, and for `drop` at a rate without
/// drop frame.
export function formatTimecode(frame: number, rate: Rational, drop: boolean = false): string {
  if (!Number.isSafeInteger(frame) || frame < 0) throw new RangeError(`${frame} is no frame number`)
  const dropped = drop ? droppedEachMinute(rate) : 0
  if (drop && dropped === 0) throw new RangeError(`${toNumber(rate)} frames a second have no drop frame`)
  const nominal = nominalRate(rate)
  let number = frame % framesOfDay(rate, drop)
  if (dropped > 0) {
    const minute = 60 * nominal - dropped
    const tenMinutes = 10 * minute + dropped
    const tens = Math.floor(number / tenMinutes)
    const rest = number % tenMinutes
    const minutes = rest < 60 * nominal ? 0 : 1 + Math.floor((rest - 60 * nominal) / minute)
    number += dropped * (9 * tens + minutes)
  }
  const seconds = Math.floor(number / nominal)
  const digits = nominal > 100 ? 3 : 2
  return `${pad(Math.floor(seconds / 3600), 2)}:${pad(Math.floor(seconds / 60) % 60, 2)}:${pad(seconds % 60, 2)}${drop ? ';' : ':'}${pad(number % nominal, digits)}`
}

/// Frame number of a timecode at `rate`; `;` before the frames means drop frame. Refused when the
/// text is no timecode, a number is out of range or dropped, or the rate has no drop frame.
export function parseTimecode(text: string, rate: Rational): Result<number, TimecodeProblem> {
  const match = /^(\d{2}):(\d{2}):(\d{2})([:;])(\d{2,3})$/.exec(text)
  if (!match) return refused({ code: 'not-a-timecode', text })
  const [hours, minutes, seconds, frames] = [match[1], match[2], match[3], match[5]].map(Number) as [number, number, number, number]
  const dropped = match[4] === ';' ? droppedEachMinute(rate) : 0
  if (match[4] === ';' && dropped === 0) return refused({ code: 'no-drop-frame-at-rate', text, rate })
  const nominal = nominalRate(rate)
  if (hours > 23 || minutes > 59 || seconds > 59 || frames >= nominal) return refused({ code: 'number-out-of-range', text })
  if (frames < dropped && seconds === 0 && minutes % 10 !== 0) return refused({ code: 'dropped-number', text })
  const wholeMinutes = 60 * hours + minutes
  return ok(60 * nominal * wholeMinutes + nominal * seconds + frames - dropped * (wholeMinutes - Math.floor(wholeMinutes / 10)))
}
