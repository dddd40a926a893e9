import type { Colour } from './shape'

/// Relative luminance of an sRGB colour, 0–1: WCAG 2.x as corrected in May 2021 (threshold .04045).
export function relativeLuminance(colour: Colour): number {
  const channel = (at: number): number => {
    const c = parseInt(colour.slice(at, at + 2), 16) / 255
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4
  }
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

/// Contrast ratio of two opaque colours, 1–21 (WCAG 2.x). Text needs 4.5, large text and lines 3.
export function contrastRatio(a: Colour, b: Colour): number {
  const [high, low] = [relativeLuminance(a), relativeLuminance(b)].sort((x, y) => y - x) as [number, number]
  return (high + 0.05) / (low + 0.05)
}
