import type { Rational } from '../time/rational'
import type { Ticks } from '../time/ticks'
import type { Rectangle } from '../project/fields'
import type { Pause, Trim } from '../script/pauses'
import type { Affine } from './affine'
import type { Card, Mark, Shot } from '../project/picture'

/// The whole film laid out in time, and the picture at each of its frames.

export type { Affine } from './affine'

/// One clip's picture within a shot, over the shot's whole length.
export interface Panel {
  readonly clip: string
  readonly footage: string
  readonly mirrored: boolean
  /// Where on the canvas it lies, whole even pixels.
  readonly place: Rectangle
  /// Source rectangle shown at the shot's first and last frame (equal when it stands still).
  readonly shown: readonly [Rectangle, Rectangle]
  /// Size of the whole source picture, upright and square.
  readonly source: { readonly width: number; readonly height: number }
  /// Set when the panel lies over the first one: map from its own picture (as shown, flipped if
  /// mirrored) into the first panel's picture (as shown).
  readonly over: Affine | null
  readonly opacity: number
  /// Footage frame shown at each output frame of the shot.
  readonly frames: Int32Array
}

export interface LaidShot {
  /// The paragraph and the shot's place in it; −1: a card that the programme itself requires, or
  /// the last picture held until the words end.
  readonly paragraph: string
  readonly index: number
  readonly shot: Shot
  readonly kind: 'run' | 'hold' | 'pair' | 'card'
  /// First output frame and number of output frames.
  readonly start: number
  readonly frames: number
  readonly panels: readonly Panel[]
  readonly card: Card | null
  /// Output frame (within the shot) at which each event with a cue or a mark appears.
  readonly eventAt: ReadonlyMap<string, number>
  readonly badges: readonly Badge[]
  readonly marks: readonly Mark[]
  /// Lines shown with names, bout and credit at the foot, and for how many frames.
  readonly title: { readonly name: string; readonly line: string; readonly frames: number } | null
  readonly credit: string | null
}

/// What stands top right: "frozen", "¼ speed", "mirrored",
/// "speed not known" (a replay of unknown rate).
export type Badge = string

export interface LaidParagraph {
  readonly id: string
  /// Output frames of the paragraph: from included, to excluded.
  readonly from: number
  readonly to: number
  /// When its words start and end; from the take where there is one, else estimated.
  readonly words: { readonly from: Ticks; readonly to: Ticks; readonly estimated: boolean }
  readonly take: string | null
  /// Room tone put into the take, where it is.
  readonly pauses?: readonly Pause[]
  /// What of the take is heard, where it is not all.
  readonly trim?: Trim
}

export interface ProgrammeFinding {
  readonly code: 'words-longer-than-picture' | 'picture-longer-than-words' | 'uneven-cadence' | 'no-full-speed-run' | 'end-card-missing'
  readonly paragraph: string
  readonly problem: string
}

export interface Programme {
  readonly width: number
  readonly height: number
  readonly rate: Rational
  readonly frames: number
  readonly shots: readonly LaidShot[]
  readonly paragraphs: readonly LaidParagraph[]
  /// `values`: measures whose values stand in the title.
  readonly chapters: readonly { readonly title: string; readonly frame: number; readonly values: readonly string[] }[]
  readonly findings: readonly ProgrammeFinding[]
}

/// The picture of one output frame.
export interface Picture {
  readonly panels: readonly {
    readonly footage: string
    readonly frame: number
    readonly place: Rectangle
    readonly shown: Rectangle
    readonly mirrored: boolean
    readonly opacity: number
    /// Source pixels to canvas pixels, mirror included.
    readonly toCanvas: Affine
  }[]
  readonly shot: LaidShot
  /// Output frame within the shot.
  readonly at: number
}
