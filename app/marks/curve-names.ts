import { wrapAtMost } from './set-text'
import type { Typeface } from './typeface'

/// Rows that names may take above the plot; an event that finds no room keeps its line and goes unnamed.
export const MOST_ROWS = 5

/// A name above the plot, beside the top of its line.
export interface RowedName {
  /// Where its line stands.
  readonly at: number
  /// Counted from above; −1: it found no room.
  readonly row: number
  /// What is written, shortened to what fits; empty: nothing.
  readonly words: string
  /// Where the words begin.
  readonly from: number
}

/// A name that has its row: its line and its words, and from where to where both keep others off.
interface TakenRoom {
  readonly at: number
  readonly row: number
  readonly start: number
  readonly end: number
  readonly from: number
  readonly to: number
}

/// Each name beside its line's top, in the first row where it meets no other name and no line crosses one.
export function rowsOfNames(
  events: readonly { readonly name: string; readonly at: number }[],
  typeface: Typeface,
  { small, left, right, mostRows }: { readonly small: number; readonly left: number; readonly right: number; readonly mostRows: number },
): RowedName[] {
  const taken: TakenRoom[] = []
  const gap = 0.35 * small
  return [...events]
    .sort((a, b) => a.at - b.at)
    .map(({ name, at }) => {
      const words = wrapAtMost(typeface, name, small, 400, 0.45 * (right - left), 1)[0] ?? ''
      const wide = typeface.advance(words, small, 400)
      const sides = [at + gap, at - gap - wide].filter((from) => from >= left && from + wide <= right)
      const rooms = Array.from({ length: mostRows }, (_, row) =>
        sides.map((from): TakenRoom => ({
          at,
          row,
          start: Math.min(at, from) - gap,
          end: Math.max(at, from + wide) + gap,
          from,
          to: from + wide,
        })),
      ).flat()
      const room = rooms.find((each) => !taken.some((other) => meets(each, other)))
      if (!room) return { at, row: -1, words: '', from: at }
      taken.push(room)
      return { at, row: room.row, words, from: room.from }
    })
}

/// In one row names keep apart; a line comes down from its row through all beneath.
function meets(room: TakenRoom, other: TakenRoom): boolean {
  if (other.row === room.row) return other.start < room.end && room.start < other.end
  const [upper, lower] = other.row < room.row ? [other, room] : [room, other]
  return lower.from <= upper.at && upper.at <= lower.to
}
