import type { FilmFacts, FilmTable } from '../../app/contract/footage-calls'
import type { Background, BackgroundPlan } from '../../app/track/background'
import type { TrackedPoint, TrackPlan } from '../../app/track/track-run'
import { TrackFrames } from './track-frames'
import type { FromWorker, Order, ToWorker } from './track-worker'

/// The film that is followed, the signal that ends a run, and who hears how many frames were looked at.
export interface Run {
  readonly facts: FilmFacts
  readonly table: FilmTable
  readonly signal: AbortSignal
  readonly onFrame: (done: number) => void
}

/// Follows points in a worker on the film's own frames. Null where the signal ended it: nothing is kept then.
export async function follow(plan: TrackPlan, run: Run): Promise<readonly TrackedPoint[] | null> {
  const news = await inWorker({ plan }, run)
  return news && 'found' in news ? news.found : null
}

/// Follows the background likewise.
export async function followHall(plan: BackgroundPlan, run: Run): Promise<Background | null> {
  const news = await inWorker({ background: plan }, run)
  return news && 'background' in news ? news.background : null
}

async function inWorker(order: Order, run: Run): Promise<FromWorker | null> {
  const worker = new Worker(new URL('./track-worker.ts', import.meta.url), { type: 'module' })
  try {
    const frames = await TrackFrames.open(run.facts, run.table)
    try {
      return await answerOf(worker, order, frames, run)
    } finally {
      frames.close()
    }
  } finally {
    worker.terminate()
  }
}

function answerOf(worker: Worker, order: Order, frames: TrackFrames, { signal, onFrame }: Run): Promise<FromWorker | null> {
  return new Promise((resolve, reject) => {
    signal.addEventListener('abort', () => resolve(null), { once: true })
    if (signal.aborted) return resolve(null)
    worker.onerror = (event) => reject(new Error(event.message))
    worker.onmessage = ({ data }: MessageEvent<FromWorker>): void => {
      if ('want' in data) {
        void frames.take(data.want).then((picture) => {
          if (signal.aborted) return picture?.close()
          worker.postMessage({ frame: data.want, picture } satisfies ToWorker, picture ? [picture] : [])
        }, reject)
      } else if ('done' in data) onFrame(data.done)
      else if ('fault' in data) reject(new Error(data.fault))
      else resolve(data)
    }
    worker.postMessage(order satisfies ToWorker)
  })
}
