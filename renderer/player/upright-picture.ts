/// Makes the upright, square-pixel picture of a decoded frame, `width` by `height`. The frame stays the caller's.
export async function uprightPicture(frame: VideoFrame, turn: 0 | 90 | 180 | 270, width: number, height: number): Promise<ImageBitmap> {
  if (turn === 0 && frame.displayWidth === width && frame.displayHeight === height) return copied(frame)
  const canvas = new OffscreenCanvas(width, height)
  const surface = canvas.getContext('2d', { alpha: false })
  if (!surface) throw new Error('there is no canvas')
  surface.imageSmoothingQuality = 'high'
  surface.translate(width / 2, height / 2)
  surface.rotate((turn * Math.PI) / 180)
  const [w, h] = turn === 90 || turn === 270 ? [height, width] : [width, height]
  surface.drawImage(frame, -w / 2, -h / 2, w, h)
  return canvas.transferToImageBitmap()
}

/// Room for a frame's bytes, used again and again: each would otherwise wait for its turn to be cleared away.
let spare = new Uint8ClampedArray(0)

/// By the frame's own conversion: drawn, each frame would be kept a second time in the browser's cache of drawn pictures.
async function copied(frame: VideoFrame): Promise<ImageBitmap> {
  const { visibleRect, displayWidth: width, displayHeight: height } = frame
  if (visibleRect?.width !== width || visibleRect.height !== height) return createImageBitmap(frame)
  const bytes = width * height * 4
  const room = spare.length >= bytes ? spare : new Uint8ClampedArray(bytes)
  const pixels = room.subarray(0, bytes)
  spare = new Uint8ClampedArray(0)
  try {
    await frame.copyTo(pixels, { format: 'RGBA' })
  } catch {
    return createImageBitmap(frame)
  }
  const picture = await createImageBitmap(new ImageData(pixels, width, height))
  spare = room
  return picture
}
