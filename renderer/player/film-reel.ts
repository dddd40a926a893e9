import { ALL_FORMATS, EncodedPacketSink, Input, type EncodedPacket } from 'mediabunny'
import { filmSource } from './film-bytes'
import type { FrameClock } from './frame-clock'
import { nonReferenceIn, type IsNonReference } from './non-reference'

/// A film file read frame by frame through the browser's own decoder. Each packet goes in under its frame's index in
/// place of a time, so that what comes out names its frame and nothing is ever matched by rounded seconds.

/// Packets that may go in beyond the wanted one before it comes out: the deepest reordering of H.264 and HEVC.
const REORDER = 16
export interface ReelColour {
  readonly matrix: VideoMatrixCoefficients
  readonly fullRange: boolean
}

type OnFrame = (frame: number, picture: VideoFrame) => Promise<void> | void

interface ReadOptions {
  /// Asked after each packet: whether the reading is still wanted.
  readonly goesOn?: () => boolean
  /// Whether a frame before the first asked for is to be handed over too, now that it lies on the way; without this, none is.
  readonly onTheWay?: (frame: number) => boolean
}

export class FilmReel {
  readonly #sink: EncodedPacketSink
  readonly #isNonReference: IsNonReference
  #decoder: VideoDecoder | null = null
  /// The last packet that went in, and the key frame that the decoder began with.
  #fed: EncodedPacket | null = null
  #began = -1
  /// The latest frame that came out since, or was left out.
  #given = -1
  #out: { frame: number; picture: VideoFrame }[] = []
  #wake: (() => void) | null = null
  #fault: DOMException | null = null

  private constructor(
    private readonly input: Input,
    sink: EncodedPacketSink,
    private readonly config: VideoDecoderConfig,
    private readonly clock: FrameClock,
    /// Every frame is a key frame.
    private readonly intra: boolean,
  ) {
    this.#sink = sink
    this.#isNonReference = nonReferenceIn(config)
  }

  /// Opens the file at `address`; null when this browser does not decode it.
  static async open(address: string, clock: FrameClock, colour: ReelColour | null, intra: boolean): Promise<FilmReel | null> {
    const input = new Input({ source: filmSource(address), formats: ALL_FORMATS })
    try {
      const track = await input.getPrimaryVideoTrack()
      const config = (await track?.getDecoderConfig()) ?? null
      if (track && config) {
        const asked: VideoDecoderConfig = {
          ...config,
          // Of two pictures wanted at once the first is not worth more than the last; with it, frames are not decoded side by side.
          optimizeForLatency: intra,
          ...(colour ? { colorSpace: { ...colour, primaries: 'bt709', transfer: 'bt709' } } : {}),
        }
        if ((await VideoDecoder.isConfigSupported(asked)).supported)
          return new FilmReel(input, new EncodedPacketSink(track), asked, clock, intra)
      }
    } catch {
      // A file that the reader cannot make sense of is shown by stills.
    }
    input.dispose()
    return null
  }

  /// Decodes up to `count` frames from `from` on, in order, and hands each over. The receiver closes nothing. Answers whether
  /// `from` was among them. One call at a time.
  async read(
    from: number,
    count: number,
    onFrame: OnFrame,
    { goesOn = () => true, onTheWay = () => false }: ReadOptions = {},
  ): Promise<boolean> {
    let found = false
    const last = Math.min(this.clock.frames, from + count) - 1
    const hand = async (): Promise<number> => {
      let newest = -1
      for (let next = this.#out.shift(); next; next = this.#out.shift()) {
        found ||= next.frame === from
        newest = Math.max(newest, next.frame)
        this.#given = Math.max(this.#given, next.frame)
        try {
          // What precedes the key frame that decoding began with may lack its references.
          if (next.frame >= this.#began && (next.frame >= from || onTheWay(next.frame))) await onFrame(next.frame, next.picture)
        } finally {
          next.picture.close()
        }
      }
      return newest
    }
    try {
      const packet = await this.#enter(from)
      if (!packet) return false
      let ahead = 0
      for (
        let next: EncodedPacket | null = packet;
        next;
        next = await this.#sink.getNextPacket(this.#fed as EncodedPacket, { verifyKeyPackets: !this.intra })
      ) {
        const frame = this.clock.frameAt(next.timestamp)
        if (!this.intra && frame !== null && frame < from && !onTheWay(frame) && this.#isNonReference(next.data)) {
          this.#leaveOut(next, frame)
          continue
        }
        this.#feed(next, frame)
        if (this.intra && frame !== null && frame >= last) break
        if (!this.intra) {
          if (this.#decoder && this.#decoder.decodeQueueSize > 4) await this.#someOut()
          if ((await hand()) >= last) return found
          if (frame !== null && frame > last && ++ahead > REORDER) break
        } else await hand()
        if (!goesOn()) break
      }
      // What is still inside comes out; the next reading begins at a key frame.
      if (!goesOn() && !this.intra) return found
      await this.#decoder?.flush()
      if (!this.intra) this.#fed = null
      await hand()
      if (this.#fault) throw this.#fault
      return found
    } catch {
      this.#stop()
      return false
    }
  }

  dispose(): void {
    this.#stop()
    this.input.dispose()
  }

  /// The packet to go on with so that `frame` comes out: the next one where the decoder is on its way there, else the
  /// key frame before it.
  async #enter(frame: number): Promise<EncodedPacket | null> {
    const key = await this.#sink.getKeyPacket(this.clock.middleOf(frame), { verifyKeyPackets: !this.intra })
    const began = key && this.clock.frameAt(key.timestamp)
    if (!key || began === null) return null
    const fed = this.#fed && this.clock.frameAt(this.#fed.timestamp)
    const onTheWay =
      !this.intra && this.#decoder?.state === 'configured' && this.#fed !== null && fed !== null && fed >= began && this.#given < frame
    if (onTheWay) return this.#sink.getNextPacket(this.#fed as EncodedPacket)
    if (!this.intra || this.#decoder?.state !== 'configured') this.#start()
    this.#began = began
    return key
  }

  #start(): void {
    this.#stop()
    this.#decoder = new VideoDecoder({
      output: (picture) => {
        this.#out.push({ frame: picture.timestamp, picture })
        this.#wake?.()
      },
      error: (fault) => {
        this.#fault = fault
        this.#wake?.()
      },
    })
    this.#decoder.configure(this.config)
  }

  #leaveOut(packet: EncodedPacket, frame: number): void {
    this.#given = Math.max(this.#given, frame)
    this.#fed = packet
  }

  #feed(packet: EncodedPacket, frame: number | null): void {
    // A frame that the table does not know (before the film's beginning) is decoded for the others' sake only.
    this.#decoder?.decode(new EncodedVideoChunk({ type: packet.type, timestamp: frame ?? -1, data: packet.data }))
    this.#fed = packet
  }

  #someOut(): Promise<void> {
    if (this.#out.length > 0 || this.#fault) return Promise.resolve()
    return new Promise((done) => {
      const timer = setTimeout(done, 50)
      this.#wake = () => {
        clearTimeout(timer)
        this.#wake = null
        done()
      }
    })
  }

  #stop(): void {
    if (this.#decoder && this.#decoder.state !== 'closed') this.#decoder.close()
    for (const { picture } of this.#out) picture.close()
    this.#out = []
    this.#decoder = null
    this.#fed = null
    this.#fault = null
    this.#began = -1
    this.#given = -1
  }
}
