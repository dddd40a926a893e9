import { parentPort, workerData } from 'node:worker_threads'
import { FilmPainting } from './film-painting'
import { films } from './recipes'

/// Paints one film in a thread of its own: sends each frame, and at the end the truth.

export interface FilmWork {
  readonly film: string
  readonly capture: string
}

export type FilmNews = { readonly frame: Uint8Array } | { readonly truth: string }

const AHEAD = 6

async function work(): Promise<void> {
  const port = parentPort
  if (!port) throw new Error('film-worker runs as a worker thread')
  const { film, capture } = workerData as FilmWork
  const recipe = films.find((f) => f.name === film)
  if (!recipe) throw new RangeError(`no film is called ${film}`)
  let taken = 0
  let wake: (() => void) | null = null
  port.on('message', () => {
    taken++
    wake?.()
  })
  const painting = new FilmPainting(recipe, capture)
  for (let n = 0; n < recipe.frames; n++) {
    while (n - taken >= AHEAD) await new Promise<void>((resolve) => (wake = resolve))
    const frame = painting.paint(n)
    port.postMessage({ frame } satisfies FilmNews, [frame.buffer as ArrayBuffer])
  }
  port.postMessage({ truth: JSON.stringify(painting.truth()) } satisfies FilmNews)
  port.close()
}

await work()
