import type { Colour } from './shape'

/// Colours of what is drawn on film. The bright ones are Okabe and Ito's set, which stays apart for
/// colour-blind eyes; a shape and a word always say the same.
export const palette = {
  /// Plates, and the casing under every line.
  plate: '#1a1a1a',
  /// The plate of a value that is a range only: the same dark, tinted amber.
  rangePlate: '#33270f',
  casing: '#101010',
  text: '#ffffff',
  /// The "± …" beside a value, and what stands beneath it.
  lighter: '#d3d7da',
  hairline: '#e8e8e8',
  hips: '#56b4e9',
  shoulders: '#e69f00',
  limb: '#f0e442',
  other: '#f4f4f4',
  /// The lead side's limbs and points on the Bench.
  lead: '#cc79a7',
  amber: '#f5b52e',
  card: '#141619',
  accent: '#7fb3bf',
} as const satisfies Record<string, Colour>
