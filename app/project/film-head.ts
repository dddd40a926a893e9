import type { Rational } from '../time/rational'

/// What a film file says of itself before its frames are read.
export interface FilmHead {
  readonly path: string
  readonly bytes: number
  /// ffmpeg's names of the container ("mov,mp4,m4a,3gp,3g2,mj2").
  readonly container: string
  /// Index of the picture's stream in the file: `-map 0:<stream>`.
  readonly stream: number
  readonly codec: string
  readonly pixelFormat: string
  /// Stored pixels, before rotation and sample aspect.
  readonly coded: { readonly width: number; readonly height: number }
  /// Size of the upright picture with square pixels, in which every point of the project is given.
  /// Non-square pixels are made square by stretching the shorter side, so that none is lost.
  readonly width: number
  readonly height: number
  /// Clockwise turn that makes the stored picture upright, degrees. ffmpeg makes it by itself.
  readonly rotation: 0 | 90 | 180 | 270
  /// The display matrix also mirrors the picture, or turns it by no right angle: ffmpeg's own
  /// handling differs between versions, so such a film is not measured before it is converted.
  readonly oddMatrix: boolean
  /// Width : height of one stored pixel.
  readonly sampleAspect: Rational
  readonly colour: Colour
  readonly fieldOrder: 'progressive' | 'top' | 'bottom' | 'unknown'
  /// Average rate that the container claims, and the finest that would fit its time stamps.
  readonly containerRate: Rational | null
  readonly nominalRate: Rational | null
  /// Unit of the presentation times, seconds.
  readonly base: Rational
  /// Length by the container, seconds; null where it does not say.
  readonly duration_s: number | null
  /// First presentation time of the picture's stream, in `base` units, and of the whole file, seconds,
  /// both as the container says.
  readonly streamStart: number | null
  readonly containerStart_s: number
  /// Number of stored frames by the container's own count, hidden ones included.
  readonly claimedFrames: number | null
  readonly sound: {
    readonly stream: number
    readonly codec: string
    readonly sampleRate: number
    readonly channels: number
    readonly start_s: number
  } | null
  /// Rate at which the camera says it shot, where it says so.
  readonly captureRate: Rational | null
}

/// Colour as the file declares it, in ffmpeg's names; null where it does not.
export interface Colour {
  readonly matrix: string | null
  readonly range: 'tv' | 'pc' | null
  readonly transfer: string | null
  readonly primaries: string | null
  /// PQ, HLG or Dolby Vision: must be tone-mapped before it is shown on an ordinary screen.
  readonly hdr: boolean
  readonly bits: number
}

/// The filter that turns what ffmpeg decodes (already upright) into square pixels; null when they
/// are square.
export function squareFilter(head: Pick<FilmHead, 'sampleAspect' | 'width' | 'height'>): string | null {
  return head.sampleAspect.n === head.sampleAspect.d ? null : `scale=${head.width}:${head.height}:flags=bicubic,setsar=1`
}
