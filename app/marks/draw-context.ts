import type { MeasureContext } from '../measure/context'
import type { Reading } from '../measure/reading'
import type { LaidShot, Programme } from '../programme/programme'
import type { Mark } from '../project/picture'
import type { BurnedCaption } from './burned-caption'
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
  /// Captions that are part of the picture; absent: they go beside the film.
  readonly captions?: readonly BurnedCaption[]
}

/// The one of a laid-out film, without captions in its picture.
export const drawContextOf = (
  programme: Programme,
  measures: MeasureContext,
  readings: ReadonlyMap<string, Reading>,
  typeface: Typeface,
): DrawContext => ({
  measures,
  readings,
  typeface,
  width: programme.width,
  height: programme.height,
  explainsErrorAt: firstValueShot(programme, readings),
})

/// Where the film first shows a value with its error: the first output frame of that shot; null when no shot does.
export function firstValueShot(programme: Programme, readings: ReadonlyMap<string, Reading>): number | null {
  const shows = (mark: Mark, shot: LaidShot): boolean => {
    const id = typeof mark === 'string' ? mark : 'plate' in mark ? mark.plate : null
    const reading = id === null ? undefined : readings.get(id)
    if (!reading?.plate.value.includes('±')) return false
    const panel = reading.clip === null ? shot.panels[0] : shot.panels.find((p) => p.clip === reading.clip)
    if (!panel) return false
    return typeof mark !== 'string' || (shot.kind !== 'run' && (reading.frame === null || panel.frames.includes(reading.frame)))
  }
  return programme.shots.find((shot) => shot.marks.some((mark) => shows(mark, shot)))?.start ?? null
}
