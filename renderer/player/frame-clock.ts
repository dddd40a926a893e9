import type { FilmTable } from '../../app/contract/footage-calls'

/// Which frame a time of a file belongs to. Frames are told apart by their whole-numbered presentation times, never by
/// rounded seconds.
export interface FrameClock {
  readonly frames: number
  /// Seconds in the middle of a frame's showing, to ask a reader with.
  middleOf(frame: number): number
  /// The frame that begins at `seconds`; null when none does.
  frameAt(seconds: number): number | null
}

/// The clock of a film by its frame table.
export function filmClock({ pts, base, end }: Pick<FilmTable, 'pts' | 'base' | 'end'>): FrameClock {
  const unit = base.n / base.d
  return {
    frames: pts.length,
    middleOf: (frame) => (((pts[frame] ?? end) + (pts[frame + 1] ?? end)) / 2) * unit,
    frameAt(seconds) {
      const time = seconds / unit
      const at = nearest(pts, time)
      // A reader's seconds are the whole number of units, divided: only the division's own error may be left.
      return at !== null && Math.abs((pts[at] as number) - time) < 0.25 ? at : null
    },
  }
}

/// The clock of a stand-in: frame i begins at i / rate.
export const standInClock = (frames: number, rate: number): FrameClock => ({
  frames,
  middleOf: (frame) => (frame + 0.5) / rate,
  frameAt(seconds) {
    const frame = Math.round(seconds * rate)
    return frame >= 0 && frame < frames && Math.abs(seconds * rate - frame) < 0.01 ? frame : null
  },
})

function nearest(times: readonly number[], time: number): number | null {
  let low = 0
  let high = times.length - 1
  if (high < 0) return null
  while (low < high) {
    const middle = (low + high) >>> 1
    if ((times[middle] as number) < time) low = middle + 1
    else high = middle
  }
  const before = low > 0 && time - (times[low - 1] as number) < Math.abs((times[low] as number) - time)
  return before ? low - 1 : low
}
