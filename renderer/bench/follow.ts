import type { FilmFacts, FilmTable } from '../../app/contract/footage-calls'
import type { TrackedPoint, TrackPlan } from '../../app/track/track-run'
import { TrackFrames } from './track-frames'
import type { FromWorker, ToWorker } from './track-worker'

/// Runs a plan in a worker on the film's own frames. Null where `signal` ended it: nothing is kept then. `onFrame` hears how
/// many frames were looked at.
export async function follow(plan: TrackPlan, facts: FilmFacts, table: FilmTable, signal: AbortSignal, onFrame: (done: number) => void): Promise<readonly TrackedPoint[] | null> {
  const frames = await TrackFrames.open(facts, table)
  const worker = new Worker(new URL('./track-worker.ts', import.meta.url), { type: 'module' })
  try {
    return await new Promise<readonly TrackedPoint[] | null>((resolve, reject) => {
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
        else if ('found' in data) resolve(data.found)
        else reject(new Error(data.fault))
      }
      worker.postMessage({ plan } satisfies ToWorker)
    })
  } finally {
    worker.terminate()
    frames.close()
  }
}
