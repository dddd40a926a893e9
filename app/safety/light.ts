/// Light of 8-bit sRGB pixels (IEC 61966-2-1; WCAG 2.x as corrected in May 2021, threshold .04045).

/// Linear light of each 8-bit channel value, 0–1.
export const linearChannels: Float32Array = Float32Array.from({ length: 256 }, (_, value) => {
  const c = value / 255
  return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4
})

/// Relative luminance of linear channels, 0–1.
export const luminanceOf = (r: number, g: number, b: number): number => 0.2126 * r + 0.7152 * g + 0.0722 * b

/// R/(R+G+B) of linear channels; 0 for black.
export function redShare(r: number, g: number, b: number): number {
  const sum = r + g + b
  return sum > DARK ? r / sum : 0
}

/// Darker than this in all channels together a colour has no chromaticity to speak of.
const DARK = 0.003
/// Black is taken as grey: a little white light (a screen's own) lies over every colour.
const FLARE = 0.002

/// u′ and v′ of the CIE 1976 UCS diagram, of linear sRGB channels (D65; matrix of IEC 61966-2-1).
export function chromaticityOf(r: number, g: number, b: number): readonly [number, number] {
  const [lr, lg, lb] = [r + FLARE, g + FLARE, b + FLARE]
  const x = 0.4124 * lr + 0.3576 * lg + 0.1805 * lb
  const y = luminanceOf(lr, lg, lb)
  const z = 0.0193 * lr + 0.1192 * lg + 0.9505 * lb
  const sum = x + 15 * y + 3 * z
  return [(4 * x) / sum, (9 * y) / sum]
}

/// How far a colour lies from the place (u′, v′).
export function chromaticityDistance(r: number, g: number, b: number, u: number, v: number): number {
  const [ownU, ownV] = chromaticityOf(r, g, b)
  return Math.hypot(ownU - u, ownV - v)
}
