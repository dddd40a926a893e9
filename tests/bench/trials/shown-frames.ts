import type { Page } from 'playwright-core'

/// How long the Bench or the player takes to show a frame, as the page itself has it: from the key's own time to the frame after which the
/// picture stands on the screen.

/// What may be waited for: the picture, small or whole, with its marks; the whole picture; ten and thirty frames ready on
/// either side.
export type Moment = 'shown' | 'whole' | 'ten' | 'thirty'

declare global {
  /// Milliseconds from the last key to each moment; null while it has not come.
  var benchWatched: Record<Moment, number | null> & { from: number; frame: number }
}

/// Keeps times in the page, from each key on, of the canvas that shows the frames. Call again after a reload.
export async function watchFrames(page: Page, selector = '.bench-canvas'): Promise<void> {
  await page.evaluate((selector) => {
    const nothing = { shown: null, whole: null, ten: null, thirty: null }
    globalThis.benchWatched = { ...nothing, from: 0, frame: -1 }
    const canvas = document.querySelector<HTMLCanvasElement>(selector)
    if (!canvas) throw new Error('there is no canvas')
    const onScreen = (tell: (at: number) => void): void => {
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel()
        port1.onmessage = () => tell(performance.now())
        port2.postMessage(null)
      })
    }
    const look = (): void => {
      const watched = globalThis.benchWatched
      if (Number(canvas.dataset['frame']) !== watched.frame) return
      const { from, frame } = watched
      const keep = (what: keyof typeof nothing): void => {
        if (watched[what] !== null) return
        watched[what] = Infinity
        onScreen((at) => {
          if (globalThis.benchWatched.frame === frame && globalThis.benchWatched.from === from) watched[what] = at - from
        })
      }
      if (canvas.dataset['detail'] !== 'missing') keep('shown')
      if (canvas.dataset['detail'] === 'full') keep('whole')
      const ready = Number(canvas.dataset['ready'])
      if (ready >= 10) keep('ten')
      if (ready >= 30) keep('thirty')
    }
    document.addEventListener(
      'keydown',
      (event) => {
        globalThis.benchWatched = { ...globalThis.benchWatched, ...nothing, from: event.timeStamp }
      },
      { capture: true },
    )
    new MutationObserver(look).observe(canvas, { attributes: true })
  }, selector)
}

/// Presses a key that leads to `frame`, and answers the milliseconds to a moment.
export async function timeTo(page: Page, key: string, frame: number, moment: Moment): Promise<number> {
  await page.evaluate((to) => {
    globalThis.benchWatched.frame = to
  }, frame)
  await page.keyboard.press(key)
  return waitFor(page, moment)
}

/// Waits until a moment after the last key has come; answers the milliseconds from the key.
export async function waitFor(page: Page, moment: Moment): Promise<number> {
  await page.waitForFunction((which) => Number.isFinite(globalThis.benchWatched[which] ?? Infinity), moment, {
    polling: 20,
    timeout: 60_000,
  })
  return page.evaluate((which) => globalThis.benchWatched[which] ?? Infinity, moment)
}

const inOrder = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b)
export const p95 = (values: readonly number[]): number => inOrder(values)[Math.floor(values.length * 0.95)] ?? NaN
export const median = (values: readonly number[]): number => inOrder(values)[values.length >> 1] ?? NaN
