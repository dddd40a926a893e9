/// Makes the upright, square-pixel picture of a decoded frame, `width` by `height`. The frame stays the caller's.
export async function uprightPicture(frame: VideoFrame, turn: 0 | 90 | 180 | 270, width: number, height: number): Promise<ImageBitmap> {
  if (turn === 0 && frame.displayWidth === width && frame.displayHeight === height) return createImageBitmap(frame)
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
