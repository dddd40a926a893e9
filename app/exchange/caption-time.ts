import { TICKS_PER_SECOND, type Ticks } from '../time/ticks'

const TICKS_PER_MILLISECOND = TICKS_PER_SECOND / 1000

/// A caption's times in whole milliseconds, rounded inwards so that the gap between two captions
/// never shrinks; at least one millisecond long.
export function captionMilliseconds({ from, to }: { readonly from: Ticks; readonly to: Ticks }): readonly [from: number, to: number] {
  const start = Math.ceil(from / TICKS_PER_MILLISECOND)
  return [start, Math.max(start + 1, Math.floor(to / TICKS_PER_MILLISECOND))]
}

/// HH:MM:SS and the milliseconds behind `mark`; hours have two digits or more.
export function clockText(milliseconds: number, mark: '.' | ','): string {
  const two = (n: number): string => String(n).padStart(2, '0')
  const seconds = Math.floor(milliseconds / 1000)
  return `${two(Math.floor(seconds / 3600))}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}${mark}${String(milliseconds % 1000).padStart(3, '0')}`
}
