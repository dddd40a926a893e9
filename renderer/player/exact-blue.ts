/// The blue of a BT.709 picture of limited range. The browser's own conversion counts in eighths of a byte and caps what a
/// step of chroma adds to blue at 2.00 in place of 2.112 (ITU-R BT.709-6, items 3 and 4), so that blue is up to 12 levels off
/// where colours are strong; red and green are right, and so is every other matrix and range.

/// What a level of luma gives, and of the blue difference.
const LUMA = 255 / 219
const CHROMA = (255 / 224) * 2 * (1 - 0.0722)
const ofLuma = Float32Array.from({ length: 256 }, (_, level) => LUMA * (level - 16))
const ofChroma = Float32Array.from({ length: 256 }, (_, level) => CHROMA * (level - 128))

/// Whether a frame's blue comes out wrong, and its planes are of a kind that is read here.
export const needsBlue = ({ colorSpace, format }: Pick<VideoFrame, 'colorSpace' | 'format'>): boolean =>
  colorSpace.matrix === 'bt709' && colorSpace.fullRange !== true && (format === 'I420' || format === 'NV12')

/// Writes the blue of a `width` × `height` picture into its RGBA `pixels`, from the frame's planes as `copyTo` lays them out: luma,
/// then blue differences of half the size, `step` bytes apart (I420: 1; NV12: 2).
export function writeBlue(
  pixels: Uint8ClampedArray,
  width: number,
  height: number,
  planes: Uint8Array,
  [luma, chroma]: readonly PlaneLayout[],
  step: 1 | 2,
): void {
  if (!luma || !chroma) return
  for (let y = 0; y < height; y++) {
    let at = 4 * y * width + 2
    let light = luma.offset + y * luma.stride
    let colour = chroma.offset + (y >> 1) * chroma.stride
    for (let x = 0; x < width; x += 2, at += 8, light += 2, colour += step) {
      const blue = ofChroma[planes[colour]!]!
      pixels[at] = ofLuma[planes[light]!]! + blue
      if (x + 1 < width) pixels[at + 4] = ofLuma[planes[light + 1]!]! + blue
    }
  }
}
