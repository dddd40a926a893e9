import { takePieceAddress } from '../../app/contract/addresses'
import { readReply, type Refusal } from '../../app/contract/refusal'
import type { Take } from '../../app/contract/take-calls'
import { heardSamples, sampleClock, samplesAt } from '../../app/time/sample-clock'
import { engine } from '../state/engine'
import processor from './capture-processor.js?url&no-inline'

export interface Meter {
  /// Seconds recorded, and of those on the disk.
  readonly seconds: number
  readonly kept: number
  /// Peak of the last moment and loudest so far, quietest tenth of a second so far: dB below full scale.
  readonly peak: number
  readonly most: number
  readonly floor: number
}

export type Stopped = { readonly take: Take; readonly problem: string | null } | { readonly take: null; readonly problem: string }

export const RATE = 48_000
/// Sent on so often, ms: what is not on the disk yet when the window dies is less than a second.
const SEND_EVERY = 250
/// The meter is told so often, ms: the room is drawn anew each time, and the picture beside it must not wait for that.
const TELL_EVERY = 100
const decibels = (value: number): number => 20 * Math.log10(Math.max(value, 1e-5))

/// Records one paragraph from the microphone, as it comes: the browser's echo, noise and gain processing off, 48 kHz,
/// 16-bit samples appended to the engine's file.
export class Recorder {
  #pieces: Int16Array[] = []
  #sent = 0
  #count = 0
  #most = 0
  #floor = 1
  /// Why it ends by itself.
  #failed: string | null = null
  /// The engine takes no more of it.
  #refused = false
  #sending: Promise<void> = Promise.resolve()
  #timer = 0
  #clock = sampleClock(RATE)
  #told = 0
  #peak = 0
  /// While held, what is heard is not recorded: it listens already, so that no first word is lost.
  #held = false

  private constructor(
    readonly take: Take,
    private readonly audio: AudioContext,
    private readonly stream: MediaStream,
    private readonly node: AudioWorkletNode,
    private readonly tell: (meter: Meter) => void,
    private readonly onBroken: () => void,
  ) {
    node.port.onmessage = ({ data }: MessageEvent<Float32Array | null>) => data && this.#hear(data)
    this.#timer = window.setInterval(() => this.#send(), SEND_EVERY)
    stream
      .getAudioTracks()[0]
      ?.addEventListener('ended', () => this.#break('The microphone was unplugged. What was said up to then is kept.'))
  }

  /// Begins: a paragraph, or without one the room's quiet. Answers words for the person where there is no microphone, or none may be used.
  static async begin(
    paragraph: string | null,
    device: string | null,
    tell: (meter: Meter) => void,
    onBroken: () => void,
    held = false,
  ): Promise<Recorder | string> {
    let stream: MediaStream
    try {
      stream = await navigator.mediaDevices.getUserMedia({
        audio: {
          echoCancellation: false,
          noiseSuppression: false,
          autoGainControl: false,
          channelCount: 1,
          sampleRate: RATE,
          ...(device ? { deviceId: { exact: device } } : {}),
        },
      })
    } catch (error) {
      const name = error instanceof DOMException ? error.name : ''
      return name === 'NotAllowedError'
        ? 'The microphone was refused. Allow it for this window and record again; takes can also be brought in as files.'
        : name === 'NotFoundError' || name === 'OverconstrainedError'
          ? 'No microphone was found. Plug one in and record again.'
          : `The microphone cannot be used: ${String(error)}`
    }
    const audio = new AudioContext({ sampleRate: RATE })
    await audio.audioWorklet.addModule(processor)
    const begun = await engine.call('takes.begin', { paragraph, sampleRate: RATE })
    if (!begun.ok) {
      for (const track of stream.getTracks()) track.stop()
      void audio.close()
      return begun.error.message
    }
    const node = new AudioWorkletNode(audio, 'capture', {
      numberOfInputs: 1,
      numberOfOutputs: 0,
      channelCount: 1,
      channelCountMode: 'explicit',
    })
    const recorder = new Recorder(begun.value, audio, stream, node, tell, onBroken)
    recorder.#held = held
    new MediaStreamAudioSourceNode(audio, { mediaStream: stream }).connect(node)
    return recorder
  }

  /// Samples recorded at `ms` of the window's clock; null before the first were heard.
  samples(ms: number): number | null {
    return samplesAt(this.#clock, ms)
  }

  /// Records from here on.
  release(): void {
    this.#held = false
  }

  /// Ends the take, everything said on the disk.
  async stop(): Promise<Stopped> {
    await new Promise<void>((done) => {
      const hear = this.node.port.onmessage
      this.node.port.onmessage = (event: MessageEvent<Float32Array | null>) =>
        event.data === null ? done() : hear?.call(this.node.port, event)
      this.node.port.postMessage('end')
    })
    clearInterval(this.#timer)
    for (const track of this.stream.getTracks()) track.stop()
    void this.audio.close()
    this.#send()
    await this.#sending
    const finished = await engine.call('takes.finish', { take: this.take.id })
    return finished.ok ? { take: finished.value, problem: this.#failed } : { take: null, problem: finished.error.message }
  }

  #hear(samples: Float32Array): void {
    if (this.#refused || this.#held) return
    const now = performance.now()
    this.#clock = heardSamples(this.#clock, this.#count + samples.length, now)
    let peak = 0
    let power = 0
    const whole = Int16Array.from(samples, (sample) => {
      peak = Math.max(peak, Math.abs(sample))
      power += sample * sample
      return Math.max(-32768, Math.min(32767, Math.round(sample * 32768)))
    })
    this.#pieces.push(whole)
    this.#count += whole.length
    this.#most = Math.max(this.#most, peak)
    if (samples.length === 2048) this.#floor = Math.min(this.#floor, Math.sqrt(power / samples.length))
    this.#peak = Math.max(this.#peak, peak)
    if (now - this.#told < TELL_EVERY) return
    this.tell({
      seconds: this.#count / RATE,
      kept: this.#sent / 2 / RATE,
      peak: decibels(this.#peak),
      most: decibels(this.#most),
      floor: decibels(this.#floor),
    })
    this.#told = now
    this.#peak = 0
  }

  #send(): void {
    this.#sending = this.#sending.then(async () => {
      if (this.#pieces.length === 0 || this.#refused) return
      const pieces = this.#pieces
      this.#pieces = []
      const bytes = new Int16Array(pieces.reduce((sum, piece) => sum + piece.length, 0))
      pieces.reduce((at, piece) => (bytes.set(piece, at), at + piece.length), 0)
      const problem = await this.#append(bytes)
      if (problem === null) this.#sent += bytes.byteLength
      else if (problem.code === 'engine-gone' || problem.code === 'take-offset') this.#pieces.unshift(bytes)
      else {
        this.#refused = true
        this.#break(
          problem.code === 'disk-full'
            ? 'The disk is full. What was said up to then is kept; free some space and record the rest again.'
            : problem.message,
        )
      }
    })
  }

  /// A lost answer may mean that the bytes are there: the offset that the engine expects tells.
  async #append(bytes: Int16Array<ArrayBuffer>): Promise<Refusal | null> {
    const answer = await fetch(takePieceAddress(this.take.id, this.#sent), {
      method: 'POST',
      headers: { 'content-type': 'application/octet-stream' },
      body: bytes,
    }).then(
      (response) => response.json() as Promise<unknown>,
      () => null,
    )
    const reply = readReply(answer)
    if (reply.ok) return null
    const expected = Number(reply.error.parameters['expected'])
    return reply.error.code === 'take-offset' && expected === this.#sent + bytes.byteLength ? null : reply.error
  }

  #break(problem: string): void {
    if (this.#failed) return
    this.#failed = problem
    this.onBroken()
  }
}
