import { takeAddress } from '../../app/contract/addresses'
import type { Programme } from '../../app/programme/programme'
import { takeStretches } from '../../app/script/pauses'
import { toNumber } from '../../app/time/rational'
import { secondsOf } from '../../app/time/ticks'

/// The programme's recorded words, played in step with its picture. While it plays, its own clock is the picture's.
export class Narration {
  #audio: AudioContext | null = null
  readonly #sounds = new Map<string, Promise<AudioBuffer | null>>()
  #playing: AudioBufferSourceNode[] = []
  #turn = 0

  /// Plays from output frame `frame` on. Answers a clock of seconds since then; null where nothing is recorded.
  async play(programme: Programme, frame: number): Promise<(() => number) | null> {
    const turn = ++this.#turn
    const spoken = programme.paragraphs.filter((p) => p.take !== null)
    if (spoken.length === 0) return null
    const audio = (this.#audio ??= new AudioContext())
    await audio.resume()
    const at = frame / toNumber(programme.rate)
    const sounds = await Promise.all(spoken.map(async (p) => ({ from: toNumber(secondsOf(p.words.from)), pauses: p.pauses, trim: p.trim, sound: await this.#sound(audio, p.take as string) })))
    if (turn !== this.#turn) return null
    const begins = audio.currentTime + 0.05
    for (const { from: words, pauses, trim, sound } of sounds) for (const stretch of sound ? takeStretches(sound.duration, pauses, trim) : []) {
      const from = words + stretch.at
      const length = stretch.to - stretch.from
      if (from + length <= at) continue
      const node = new AudioBufferSourceNode(audio, { buffer: sound })
      node.connect(audio.destination)
      node.start(begins + Math.max(0, from - at), stretch.from + Math.max(0, at - from), length - Math.max(0, at - from))
      this.#playing.push(node)
    }
    return () => Math.max(0, audio.currentTime - begins)
  }

  stop(): void {
    this.#turn++
    for (const node of this.#playing) node.stop()
    this.#playing = []
  }

  close(): void {
    this.stop()
    void this.#audio?.close()
  }

  #sound(audio: AudioContext, take: string): Promise<AudioBuffer | null> {
    let sound = this.#sounds.get(take)
    if (!sound) {
      sound = fetch(takeAddress(take))
        .then(async (answer) => (answer.ok ? audio.decodeAudioData(await answer.arrayBuffer()) : null))
        .catch(() => null)
      this.#sounds.set(take, sound)
    }
    return sound
  }
}
