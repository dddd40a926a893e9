import type { Breakdown } from '../project/breakdown'
import type { Point } from '../project/fields'
import type { Reading } from '../measure/reading'
import type { LaidShot, Picture } from '../programme/programme'
import type { Shape } from './shape'
import type { Span } from './span'
import type { Typeface } from './typeface'

/// Where landmarks are, in pixels of the upright, unmirrored source.
export interface LandmarkPositions {
  /// Null where the landmark has no sample on exactly that frame.
  at(clip: string, subject: string, point: string, frame: number): Point | null
  /// Frames of the clip that carry a sample, growing.
  framesOf(clip: string, subject: string, point: string): readonly number[]
  /// Every landmark seen on a frame of a clip.
  onFrame(clip: string, frame: number): readonly Point[]
}

/// What drawing needs beside the picture. One per film: it does not change from shot to shot.
export interface DrawContext {
  readonly breakdown: Breakdown
  readonly readings: ReadonlyMap<string, Reading>
  readonly positions: LandmarkPositions
  readonly typeface: Typeface
  readonly width: number
  readonly height: number
  /// First output frame of the shot whose plates carry the line "± = our 95 % estimate"
  /// (`firstValueShot`); null: none does.
  readonly explainsErrorAt: number | null
}

/// What is drawn on the output frame `picture.at` of its shot, bottom first, in canvas pixels.
export type DrawFrame = (picture: Picture, context: DrawContext) => Shape[]
/// What is drawn on a whole shot: output frames counted from the shot's first.
export type DrawShot = (shot: LaidShot, context: DrawContext) => Span[]
