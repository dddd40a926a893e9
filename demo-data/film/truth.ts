import type { PinholeSetup } from '../mocap/camera'

/// What is exactly known of a film, beside it as `<name>.truth.json`.
export interface Truth {
  readonly film: string
  readonly note: string
  readonly camera: PinholeSetup
  /// File rate; real frames a second; capture factor k = file duration / real duration.
  readonly fileRate: string
  readonly captureRate: string
  readonly captureFactor: string
  /// Shutter time in real seconds; a frame's exposure is centred on its instant.
  readonly shutter_s: number
  readonly frames: number
  /// The glove's surface meets the bag's: real seconds since frame 0's instant, and the same in
  /// frames. Frame n's instant is n / captureRate.
  readonly contact: { readonly seconds: number; readonly frame: number }
  /// Instants of fastest turn of the hip line and the shoulder line seen from above, before contact.
  readonly turns: { readonly hips: number; readonly shoulders: number }
  /// Angle between hip line and shoulder line seen from exactly above at the frame next to contact.
  readonly separation_deg: number
  readonly points: readonly TruthTrack[]
}

/// One landmark over the film. Pixels: (0, 0) the picture's top-left corner, pixel centres at + 0.5.
export interface TruthTrack {
  readonly name: string
  readonly px: readonly (readonly [number, number])[]
  /// Metres in the hall, y up.
  readonly metres: readonly (readonly [number, number, number])[]
  /// "s" seen, "o" hidden behind something, "x" outside the picture; one letter a frame.
  readonly seen: string
  /// Way on the picture while the shutter is open, pixels.
  readonly blur: readonly number[]
}
