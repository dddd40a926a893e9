import type { CDPSession, Page } from 'playwright-core'
import { PNG } from 'pngjs'

/// What stands on the screen, as the browser hands it out: never read from the page's own canvas.

export interface Capture {
  readonly width: number
  readonly height: number
  /// Four bytes a pixel.
  readonly data: Uint8Array
}

export interface Region {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/// Captures every picture that the screen shows while `during` runs.
export async function captureScreen(page: Page, during: () => Promise<void>): Promise<Capture[]> {
  const session: CDPSession = await page.context().newCDPSession(page)
  const pictures: Buffer[] = []
  session.on('Page.screencastFrame', ({ data, sessionId }) => {
    pictures.push(Buffer.from(data, 'base64'))
    // The last picture may come as the page closes.
    session.send('Page.screencastFrameAck', { sessionId }).catch(() => undefined)
  })
  await session.send('Page.startScreencast', { format: 'png', everyNthFrame: 1 })
  try {
    await during()
  } finally {
    await session.send('Page.stopScreencast')
    await session.detach()
  }
  return pictures.map((picture) => PNG.sync.read(picture))
}

export const captureRegion = async (page: Page, region: Region): Promise<Capture> =>
  PNG.sync.read(await page.screenshot({ clip: { ...region } }))

/// Levels of green in a part of a capture.
export function levelsOf({ width, data }: Capture, { x, y, width: w, height: h }: Region): Uint8Array {
  const levels = new Uint8Array(w * h)
  for (let j = 0; j < h; j++) for (let i = 0; i < w; i++) levels[j * w + i] = data[((y + j) * width + x + i) * 4 + 1] ?? 0
  return levels
}

/// The middles of bright spots, pixel corners being whole numbers, in the order of their topmost lines.
export function spotsIn(capture: Capture, threshold: number): (readonly [number, number])[] {
  const { width, height } = capture
  const levels = levelsOf(capture, { x: 0, y: 0, width, height })
  const seen = new Uint8Array(levels.length)
  const spots: (readonly [number, number])[] = []
  for (let start = 0; start < levels.length; start++) {
    if (seen[start] || (levels[start] ?? 0) < threshold) continue
    const heap = [start]
    seen[start] = 1
    let [n, sx, sy] = [0, 0, 0]
    for (let at = heap.pop(); at !== undefined; at = heap.pop()) {
      const [x, y] = [at % width, Math.floor(at / width)]
      n++
      sx += x + 0.5
      sy += y + 0.5
      for (const next of [x > 0 ? at - 1 : -1, x + 1 < width ? at + 1 : -1, at - width, at + width])
        if (next >= 0 && next < levels.length && !seen[next] && (levels[next] ?? 0) >= threshold) {
          seen[next] = 1
          heap.push(next)
        }
    }
    spots.push([sx / n, sy / n])
  }
  return spots
}
