import { takeAddress } from '../../app/contract/addresses'

export interface Playing {
  /// Seconds of the take where the playhead stands.
  readonly at: number
  readonly playing: boolean
}

/// Plays one take at a time and knows where in it the playhead stands. Told apart from React, so that a moving playhead draws
/// only what follows it.
export class TakePlayer {
  #audio: HTMLAudioElement | null = null
  #state: Playing = { at: 0, playing: false }
  #to = Infinity
  #turn = 0
  readonly #listeners = new Set<() => void>()

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }
  state = (): Playing => this.#state

  /// Takes a take in hand; null: none.
  open(take: string | null): void {
    this.stop()
    this.#audio = take === null ? null : new Audio(takeAddress(take))
    if (this.#audio) this.#audio.preload = 'auto'
    this.#show({ at: 0, playing: false })
  }

  /// Plays from `from` up to `to`, seconds of the take.
  play(from: number, to: number): void {
    const audio = this.#audio
    if (!audio) return
    const turn = ++this.#turn
    this.#to = to
    audio.currentTime = from
    this.#show({ at: from, playing: true })
    const follow = (): void => {
      if (turn !== this.#turn) return
      if (audio.ended || audio.currentTime >= this.#to) return this.stop()
      if (audio.currentTime !== this.#state.at) this.#show({ at: audio.currentTime, playing: true })
      requestAnimationFrame(follow)
    }
    audio.play().then(follow, () => turn === this.#turn && this.stop())
  }

  stop(): void {
    this.#turn++
    this.#audio?.pause()
    if (this.#state.playing) this.#show({ at: Math.min(this.#to, this.#audio?.currentTime ?? this.#state.at), playing: false })
  }

  /// Plays what is heard of the take, on from the playhead where that stands within it; or stops.
  toggle(from: number, to: number): void {
    const { at, playing } = this.#state
    if (playing) this.stop()
    else this.play(at >= from && at < to - 0.05 ? at : from, to)
  }

  /// Puts the playhead somewhere; what plays goes on from there.
  place(seconds: number): void {
    if (this.#state.playing && this.#audio) this.#audio.currentTime = seconds
    this.#show({ ...this.#state, at: seconds })
  }

  #show(state: Playing): void {
    this.#state = state
    for (const listener of this.#listeners) listener()
  }
}
