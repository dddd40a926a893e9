import { takeAddress } from '../../app/contract/addresses'
import type { LaidParagraph, Programme } from '../../app/programme/programme'
import { takeStretches } from '../../app/script/pauses'
import { toNumber } from '../../app/time/rational'
import { secondsOf } from '../../app/time/ticks'

/// How long a browser that will not sound is waited for, and how far ahead words must have been read before it begins.
const SILENT_MS = 1000
const AHEAD = 2

/// The film's second `at` is heard at the audio clock's second `begins`.
interface Start {
  readonly at: number
  readonly begins: number
}

/// The programme's recorded words, played in step with its picture. While it plays, its own clock is the picture's.
export class Narration {
  #audio: AudioContext | null = null
  readonly #sounds = new Map<string, Promise<AudioBuffer | null>>()
  #playing: AudioBufferSourceNode[] = []
  #turn = 0

  /// Plays output frames `from` up to `to`. Null where nothing is recorded between them; else it answers, once the words of
  /// the next moments have been read, a clock of seconds since then; that is null where nothing can be heard.
  play(programme: Programme, from: number, to: number): Promise<(() => number) | null> | null {
    const rate = toNumber(programme.rate)
    const [at, end] = [from / rate, to / rate]
    const spoken = programme.paragraphs.filter(
      ({ take, words }) => take !== null && toNumber(secondsOf(words.to)) > at && toNumber(secondsOf(words.from)) < end,
    )
    this.stop()
    return spoken.length === 0 ? null : this.#begin(spoken, at)
  }

  async #begin(spoken: readonly LaidParagraph[], at: number): Promise<(() => number) | null> {
    const turn = this.#turn
    const audio = (this.#audio ??= new AudioContext())
    const sounds = await Promise.race([audio.resume().then(() => true), new Promise<boolean>((done) => setTimeout(done, SILENT_MS, false))])
    if (!sounds || turn !== this.#turn) return null
    const isNext = ({ words }: LaidParagraph): boolean => toNumber(secondsOf(words.from)) < at + AHEAD
    const next = await Promise.all(
      spoken.filter(isNext).map(async (each) => [each, await this.#sound(audio, each.take as string)] as const),
    )
    if (turn !== this.#turn) return null
    const begins = audio.currentTime + 0.05
    for (const [each, sound] of next) this.#schedule(audio, each, sound, { at, begins })
    void this.#follow(
      audio,
      spoken.filter((each) => !isNext(each)),
      { at, begins },
      turn,
    )
    return () => Math.max(0, audio.currentTime - begins)
  }

  /// Reads what comes later one after the other, while it already sounds.
  async #follow(audio: AudioContext, later: readonly LaidParagraph[], start: Start, turn: number): Promise<void> {
    for (const each of later) {
      const sound = await this.#sound(audio, each.take as string)
      if (turn !== this.#turn) return
      this.#schedule(audio, each, sound, start)
    }
  }

  #schedule(audio: AudioContext, { words, pauses, trim }: LaidParagraph, sound: AudioBuffer | null, { at, begins: first }: Start): void {
    if (!sound) return
    for (const stretch of takeStretches(sound.duration, pauses, trim)) {
      const begins = first + toNumber(secondsOf(words.from)) + stretch.at - at
      const missed = Math.max(0, Math.max(first, audio.currentTime) - begins)
      const length = stretch.to - stretch.from - missed
      if (length <= 0) continue
      const node = new AudioBufferSourceNode(audio, { buffer: sound })
      node.connect(audio.destination)
      node.start(begins + missed, stretch.from + missed, length)
      this.#playing.push(node)
    }
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
