import { readSuggested, type SuggestedPoint, type Suggester } from '../../app/track/suggester'

/// A pose model in a worker of its own. It comes as a file of the window, `pose/worker.js` beside its page (a module, with its
/// weights beside it): whoever builds or packs the program puts it there. None comes with it.
///
/// What passes: the worker says `{ name }` when it is ready; it is handed `{ id, picture }` and answers `{ id, points }`, each
/// point a `SuggestedPoint`, or `{ id, fault }`. The picture is the frame's whole one and the worker's to close.

const ADDRESS = 'pose/worker.js'
/// A model that has not read its weights by then is held not to be there.
const READY_MS = 20_000

export type ToSuggester = { readonly id: number; readonly picture: ImageBitmap }
export type FromSuggester =
  { readonly name: string } | { readonly id: number; readonly points: unknown } | { readonly id: number; readonly fault: string }

export interface RunningSuggester extends Suggester<ImageBitmap> {
  end(): void
}

/// Starts the model; null where none is built in. Rejects where it does not get ready.
export async function startSuggester(): Promise<RunningSuggester | null> {
  const isThere = await fetch(ADDRESS, { method: 'HEAD' }).then(
    ({ ok }) => ok,
    () => false,
  )
  if (!isThere) return null
  const worker = new Worker(new URL(ADDRESS, document.baseURI), { type: 'module' })
  const waiting = new Map<number, { readonly done: (points: readonly SuggestedPoint[]) => void; readonly failed: (cause: Error) => void }>()
  let asked = 0
  const fail = (cause: Error): void => {
    for (const { failed } of waiting.values()) failed(cause)
    waiting.clear()
  }
  const name = await new Promise<string>((ready, failed) => {
    const late = setTimeout(() => failed(new Error('the model did not get ready')), READY_MS)
    worker.onerror = (event) => {
      failed(new Error(event.message))
      fail(new Error(event.message))
    }
    worker.onmessage = ({ data }: MessageEvent<FromSuggester>): void => {
      if ('name' in data) {
        clearTimeout(late)
        return ready(String(data.name).slice(0, 80))
      }
      const asker = waiting.get(data.id)
      waiting.delete(data.id)
      const points = 'points' in data ? readSuggested(data.points) : null
      if (points) asker?.done(points)
      else asker?.failed(new Error('fault' in data ? String(data.fault) : 'the model answers with something else'))
    }
  }).catch((cause: unknown) => {
    worker.terminate()
    throw cause
  })
  return {
    name,
    suggest: (picture) =>
      new Promise((done, failed) => {
        const id = asked++
        waiting.set(id, { done, failed })
        worker.postMessage({ id, picture } satisfies ToSuggester, [picture])
      }),
    end() {
      worker.terminate()
      fail(new Error('the model was ended'))
    },
  }
}
