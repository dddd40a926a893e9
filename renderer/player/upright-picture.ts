import { needsBlue, writeBlue } from './exact-blue'

/// Makes the upright, square-pixel picture of a decoded frame, `width` by `height`. The frame stays the caller's. `exact`: its
/// colours as they will be rendered, for a picture at rest; what moves is the browser's, as quickly as it can.
export async function uprightPicture(
  frame: VideoFrame,
  turn: 0 | 90 | 180 | 270,
  width: number,
  height: number,
  exact = false,
): Promise<ImageBitmap> {
  const { visibleRect, displayWidth, displayHeight } = frame
  const asItIs =
    turn === 0 && displayWidth === width && displayHeight === height && visibleRect?.width === width && visibleRect.height === height
  if (!visibleRect || !(exact || asItIs)) return drawn(frame, turn, width, height)
  const picture = await copied(frame, visibleRect, exact)
  if (asItIs) return picture
  try {
    return drawn(picture, turn, width, height)
  } finally {
    picture.close()
  }
}

function drawn(picture: VideoFrame | ImageBitmap, turn: 0 | 90 | 180 | 270, width: number, height: number): ImageBitmap {
  const canvas = new OffscreenCanvas(width, height)
  const surface = canvas.getContext('2d', { alpha: false })
  if (!surface) throw new Error('there is no canvas')
  surface.imageSmoothingQuality = 'high'
  surface.translate(width / 2, height / 2)
  surface.rotate((turn * Math.PI) / 180)
  const [w, h] = turn === 90 || turn === 270 ? [height, width] : [width, height]
  surface.drawImage(picture, -w / 2, -h / 2, w, h)
  return canvas.transferToImageBitmap()
}

/// Room for a frame's bytes, used again and again: each would otherwise wait for its turn to be cleared away.
let spare = new Uint8ClampedArray(0)
let sparePlanes = new Uint8Array(0)

/// By the frame's own conversion, its blue put right where it is to be exact: drawn, each frame would be kept a second time in the browser's cache of
/// drawn pictures.
async function copied(frame: VideoFrame, { width, height }: DOMRectReadOnly, exact: boolean): Promise<ImageBitmap> {
  const bytes = width * height * 4
  const room = spare.length >= bytes ? spare : new Uint8ClampedArray(bytes)
  const pixels = room.subarray(0, bytes)
  spare = new Uint8ClampedArray(0)
  try {
    await frame.copyTo(pixels, { format: 'RGBA' })
    if (exact && needsBlue(frame)) await putBlueRight(frame, pixels, width, height)
  } catch {
    return createImageBitmap(frame)
  }
  const picture = await createImageBitmap(new ImageData(pixels, width, height))
  spare = room
  return picture
}

async function putBlueRight(frame: VideoFrame, pixels: Uint8ClampedArray, width: number, height: number): Promise<void> {
  const bytes = frame.allocationSize()
  const planes = sparePlanes.length >= bytes ? sparePlanes : new Uint8Array(bytes)
  sparePlanes = new Uint8Array(0)
  const layout = await frame.copyTo(planes)
  writeBlue(pixels, width, height, planes, layout, frame.format === 'NV12' ? 2 : 1)
  sparePlanes = planes
}
