import { takeAddress } from '../../app/contract/addresses'
import type { Trim } from '../../app/script/pauses'

/// Plays a stretch of a take. Resolves when it was heard, cannot be, or is given up.
export function leadIn(take: string, { from, to }: Trim, signal: AbortSignal): Promise<void> {
  return new Promise((done) => {
    const audio = new Audio(takeAddress(take))
    const end = (): void => {
      signal.removeEventListener('abort', end)
      audio.pause()
      done()
    }
    signal.addEventListener('abort', end)
    audio.onended = end
    audio.onerror = end
    audio.currentTime = from
    const follow = (): void => {
      if (audio.paused) return
      if (audio.currentTime >= to) return end()
      requestAnimationFrame(follow)
    }
    audio.play().then(follow, end)
  })
}
