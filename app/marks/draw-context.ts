import type { MeasureContext } from '../measure/context'
import type { Reading } from '../measure/reading'
import type { Programme } from '../programme/programme'
import type { Typeface } from './typeface'

/// What drawing needs beside the picture. One for the whole film: it does not change from shot to shot.
export interface DrawContext {
  /// Answers about the breakdown: clips, events, landmarks, views.
  readonly measures: MeasureContext
  /// Every measure's answer, by id.
  readonly readings: ReadonlyMap<string, Reading>
  readonly typeface: Typeface
  /// The canvas.
  readonly width: number
  readonly height: number
  /// First output frame (of the film) of the shot whose plate carries the line "± = our 95 % estimate"; null: none
  /// does. See `firstValueShot`.
  readonly explainsErrorAt: number | null
}

/// Where the film first shows a value with its error: the first output frame of that shot; null when no shot does.
export function firstValueShot(programme: Programme, readings: ReadonlyMap<string, Reading>): number | null {
  const shows = (id: string): boolean => readings.get(id)?.plate.value.includes('±') === true
  const first = programme.shots.find((shot) =>
    shot.marks.some((mark) => (typeof mark === 'string' ? shot.kind !== 'run' && shows(mark) : 'plate' in mark && shows(mark.plate))),
  )
  return first?.start ?? null
}
