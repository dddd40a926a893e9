import { followBackground, type Background, type BackgroundPlan } from '../../app/track/background'
import { greyOf, type GreyPicture } from '../../app/track/grey-picture'
import { trackPoints, type TrackedPoint, type TrackPlan } from '../../app/track/track-run'

/// The worker that follows points, or the background. It asks for one frame's picture after another and answers with what it found.

export type Order = { readonly plan: TrackPlan } | { readonly background: BackgroundPlan }
export type ToWorker = Order | { readonly frame: number; readonly picture: ImageBitmap | null }
export type FromWorker =
  | { readonly want: number }
  | { readonly done: number }
  | { readonly found: readonly TrackedPoint[] }
  | { readonly background: Background | null }
  | { readonly fault: string }

let answer: ((picture: ImageBitmap | null) => void) | null = null
let canvas: OffscreenCanvas | null = null
const tell = (news: FromWorker): void => self.postMessage(news)

self.onmessage = ({ data }: MessageEvent<ToWorker>): void => {
  const fault = (cause: unknown): void => tell({ fault: String(cause) })
  if ('background' in data)
    followBackground(
      data.background,
      pictureOf,
      () => true,
      (done) => tell({ done }),
    ).then((background) => tell({ background }), fault)
  else if ('plan' in data) {
    trackPoints(
      data.plan,
      pictureOf,
      () => true,
      (done) => tell({ done }),
    ).then((found) => tell({ found: found ?? [] }), fault)
  } else answer?.(data.picture)
}

async function pictureOf(frame: number): Promise<GreyPicture | null> {
  const picture = await new Promise<ImageBitmap | null>((resolve) => {
    answer = resolve
    tell({ want: frame })
  })
  if (!picture) return null
  const { width, height } = picture
  if (canvas?.width !== width || canvas.height !== height) canvas = new OffscreenCanvas(width, height)
  const surface = canvas.getContext('2d', { alpha: false, willReadFrequently: true })
  if (!surface) throw new Error('there is no canvas')
  surface.drawImage(picture, 0, 0)
  picture.close()
  return greyOf(surface.getImageData(0, 0, width, height).data, width, height)
}
