import { mkdir, mkdtemp, open, readFile, rename, rm } from 'node:fs/promises'
import { basename, dirname, extname, join, resolve } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import { LoudnessText, type LoudnessFigures } from '../../app/render/loudness-text'
import {
  busArguments,
  busParts,
  encodedArguments,
  levelArguments,
  loopArguments,
  loopSamples,
  masterArguments,
  meterBusArguments,
  PIECES_PER_RUN,
  type Bus,
  type BusPart,
  type Channels,
} from '../../app/render/sound-mix'
import { SOUND_RATE, type SoundPlan } from '../../app/render/sound-plan'
import { fileUrl } from '../media/file-url'
import type { FfmpegTool } from '../media/find-ffmpeg'
import { measureLoudness } from '../media/loudness'
import { runFfmpeg, runFfprobe, streamFfmpeg } from '../media/process'

export interface MixOptions {
  readonly signal?: AbortSignal | undefined
  /// Part done, 0 to 1.
  readonly onProgress?: ((fraction: number) => void) | undefined
}

/// What was made of the sound.
export interface MixReport {
  /// Of the finished mix, and of the same after the film's encoder; null for a film without narration,
  /// which is not brought to a loudness.
  readonly mix: LoudnessFigures
  readonly encoded: LoudnessFigures
  /// Loudness of the narration before the mix, LUFS as one channel, and the gain that levelled each take, dB.
  readonly takes: readonly { readonly paragraph: string; readonly loudness: number; readonly gain: number }[]
  /// Gain of the whole mix, dB, and whether peaks had to be held.
  readonly gain: number
  readonly limited: boolean
  /// Narration over footage sound where it is loudest, LU; null when there is no such sound.
  readonly hallBelow: number | null
}

/// Level that takes are brought to before the mix, LUFS as one channel; the mix's own gain follows.
const TAKE_LEVEL = -23
/// A take is never moved by more than this (a nearly silent one is not blown up), dB.
const MOST_GAIN = 30
/// The footage's loudest 400 ms stay this far below the narration: 20 LU (WCAG 2 technique G56's
/// 20 dB) and something to spare.
const HALL_BELOW = 21.5
/// What the limiter takes from the narration is taken from the footage's sound as well, to within this, LU.
const HALL_CLOSE = 0.5
/// A take shorter than this is metered repeated, samples.
const SHORT_TAKE = 0.9 * SOUND_RATE
/// Integrated loudness may miss its target by this much before another turn is taken, LU.
const CLOSE = 0.1
/// Peaks stay this far inside, dB.
const SPARE_PEAK = 0.03
const TURNS = 8

/// Mixes a film's sound into `out` (.flac or .wav, 48 kHz stereo, 24 bit), exactly as long as the plan
/// says. Narration is levelled take by take; room tone fills its gaps; footage sound lies under it;
/// the whole is brought to the target with its true peaks held, checked through the film's own
/// encoder. Nothing is left under `out` unless it is finished. Rejects with CodedError.
export async function mixSound(tool: FfmpegTool, plan: SoundPlan, out: string, options: MixOptions = {}): Promise<MixReport> {
  const format = extname(out).slice(1)
  if (format !== 'flac' && format !== 'wav') throw new CodedError('wrong-use', { problem: `${out}: a mix is a .flac or a .wav file` })
  await mkdir(dirname(resolve(out)), { recursive: true })
  const folder = await mkdtemp(join(dirname(resolve(out)), `.${basename(out)}-`))
  try {
    const desk = new Desk(tool, plan, folder, options)
    const buses = await desk.makeBuses()
    const part = join(folder, `mix.${format}`)
    const report = await desk.master(buses, part, format)
    await rename(part, resolve(out))
    options.onProgress?.(1)
    return report
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

/// One run of the mix: the tool, the plan and the folder for what lies in between.
class Desk {
  #takes: MixReport['takes'] = []
  #hallBelow: number | null = null
  #turn = 0

  constructor(
    private readonly tool: FfmpegTool,
    private readonly plan: SoundPlan,
    private readonly folder: string,
    private readonly options: MixOptions,
  ) {}

  async makeBuses(): Promise<Bus[]> {
    const { plan } = this
    this.#takes = await this.#levelTakes()
    this.#report(0.2)
    const gains = new Map(this.#takes.map((take) => [take.paragraph, take.gain]))
    const speech = await this.#bus(
      'speech',
      plan.takes.map((piece) => ({ ...piece, file: fileUrl(piece.file), gain: gains.get(piece.paragraph) ?? 0 })),
      'mono',
    )
    const buses: Bus[] = [{ file: speech, channels: 'mono', gain: 0 }]
    this.#report(0.35)
    if (plan.roomTone)
      buses.push({ file: await this.#roomTone(plan.roomTone), channels: 'mono', gain: median(this.#takes.map((take) => take.gain)) })
    this.#report(0.45)
    if (plan.hall.length > 0) {
      const hall = await this.#bus(
        'hall',
        plan.hall.map((piece) => ({ ...piece, file: fileUrl(piece.file), gain: 0 })),
        'stereo',
      )
      const loudest = await this.#measure(meterBusArguments({ file: fileUrl(hall), channels: 'stereo', gain: 0 }))
      if (loudest.momentaryMost > -Infinity) {
        const spoken =
          plan.takes.length > 0
            ? (await this.#measure(meterBusArguments({ file: fileUrl(speech), channels: 'mono', gain: 0 }))).integrated
            : plan.target.integrated
        const gain = (spoken === -Infinity ? plan.target.integrated : spoken) - HALL_BELOW - loudest.momentaryMost
        buses.push({ file: hall, channels: 'stereo', gain: Math.min(MOST_GAIN, gain), under: true })
        this.#hallBelow = HALL_BELOW + Math.max(0, gain - MOST_GAIN)
      }
    }
    this.#report(0.55)
    return buses
  }

  /// Gain and ceiling are found by measuring: each turn corrects both by what the last one missed, for
  /// the mix and for what the encoder makes of it.
  async master(buses: readonly Bus[], part: string, format: 'flac' | 'wav'): Promise<MixReport> {
    const { target } = this.plan
    const write = { file: fileUrl(part), format }
    const plain = await this.#master(buses, 0, null, null)
    if (this.plan.takes.length === 0 || plain.integrated === -Infinity) {
      const limited = plain.truePeak > target.ceiling
      const mix = await this.#master(buses, 0, limited ? target.ceiling : null, write)
      return { mix, encoded: await this.#encoded(part), takes: this.#takes, gain: 0, limited, hallBelow: this.#hallBelow }
    }
    let limited = plain.truePeak + target.integrated - plain.integrated > target.ceiling
    const levels = new GainSearch(target.integrated, plain.integrated)
    let ceiling = target.ceiling
    // What the encoder was last seen to add to the mix's loudness.
    let encoder = 0
    // What the limiter was last seen to take from the narration, LU.
    let taken = 0
    for (let turn = 1; ; turn++) {
      const gain = levels.gain
      const last = turn === TURNS
      const lowered = buses.map((bus) => (bus.under ? { ...bus, gain: bus.gain - taken } : bus))
      const mix = await this.#master(lowered, gain, limited ? ceiling : null, write)
      const took = Math.max(0, plain.integrated + gain - mix.integrated)
      const hallBelow = this.#hallBelow === null ? null : this.#hallBelow + taken - took
      const settled = hallBelow === null || took - taken <= HALL_CLOSE
      taken = took
      this.#report(0.55 + 0.45 * (turn / (turn + 1)))
      if (last || (settled && Math.abs(mix.integrated + encoder - target.integrated) <= CLOSE)) {
        const encoded = await this.#encoded(part)
        const over = Math.max(mix.truePeak - target.ceiling, encoded.truePeak - (target.truePeak - SPARE_PEAK))
        if (last || (Math.abs(encoded.integrated - target.integrated) <= CLOSE && over <= SPARE_PEAK))
          return { mix, encoded, takes: this.#takes, gain, limited, hallBelow }
        encoder = encoded.integrated - mix.integrated
        if (over > SPARE_PEAK && limited) ceiling -= over
        limited ||= over > SPARE_PEAK
      }
      levels.learn(mix.integrated + encoder)
    }
  }

  /// Loudness of every take, and the gain that brings it to the common level.
  async #levelTakes(): Promise<MixReport['takes']> {
    const takes: { paragraph: string; loudness: number; gain: number }[] = []
    const lengths = new Map<string, number>()
    for (const { paragraph, samples } of this.plan.takes) lengths.set(paragraph, (lengths.get(paragraph) ?? 0) + samples)
    for (let first = 0; first < this.plan.takes.length; first += PIECES_PER_RUN) {
      const group = this.plan.takes.slice(first, first + PIECES_PER_RUN)
      await this.#run(
        levelArguments(group.map((piece) => ({ file: fileUrl(piece.file), short: (lengths.get(piece.paragraph) ?? 0) < SHORT_TAKE }))),
        this.folder,
      )
      for (const [i, { paragraph }] of group.entries()) {
        const text = new LoudnessText()
        text.add(await readFile(join(this.folder, `level-${i}.txt`), 'utf8'))
        const { integrated } = text.figures()
        const gain = integrated === -Infinity ? 0 : Math.max(-MOST_GAIN, Math.min(MOST_GAIN, TAKE_LEVEL - integrated))
        takes.push({ paragraph, loudness: integrated, gain })
      }
      this.#report((0.2 * takes.length) / this.plan.takes.length)
    }
    return takes
  }

  /// The parts of a bus are written one behind the other into one file of samples.
  async #bus(name: string, pieces: BusPart['pieces'], channels: Channels, loop = false): Promise<string> {
    const path = join(this.folder, `${name}.f32`)
    const bus = await open(path, 'w')
    try {
      for (const part of busParts(pieces, this.plan.samples).filter(({ from, to }) => to > from))
        await streamFfmpeg(this.tool, ['-v', 'error', ...busArguments(part, channels, loop)], {
          signal: this.options.signal,
          what: 'the sound',
          onStdout: (piece) => bus.appendFile(piece),
        })
    } catch (error) {
      throw isFull(error) ? new CodedError('disk-full', { file: path }, { cause: error }) : error
    } finally {
      await bus.close()
    }
    return path
  }

  /// The tone lies at its place in one endless loop, so it runs on unbroken where two stretches meet.
  async #roomTone(tone: NonNullable<SoundPlan['roomTone']>): Promise<string> {
    const told = await runFfprobe(this.tool, ['-v', 'error', '-show_entries', 'format=duration', '-of', 'csv=p=0', fileUrl(tone.file)], {
      signal: this.options.signal,
    })
    const samples = Math.floor(Number(told) * SOUND_RATE)
    if (!(samples > 4)) throw new CodedError('film-damaged', { file: tone.file, problem: 'the room tone has no length' })
    const loop = join(this.folder, 'tone-loop.f32')
    await this.#run(loopArguments(fileUrl(tone.file), samples, fileUrl(loop)))
    const length = loopSamples(samples) / SOUND_RATE
    return this.#bus(
      'tone',
      tone.gaps.map((gap) => ({ ...gap, file: fileUrl(loop), gain: 0, startSeconds: (gap.at / SOUND_RATE) % length })),
      'mono',
      true,
    )
  }

  #master(
    buses: readonly Bus[],
    gain: number,
    ceiling: number | null,
    out: { file: string; format: 'flac' | 'wav' } | null,
  ): Promise<LoudnessFigures> {
    return this.#measure(
      masterArguments(
        buses.map((bus) => ({ ...bus, file: fileUrl(bus.file) })),
        gain,
        ceiling,
        this.plan.samples,
        out,
      ),
    )
  }

  async #encoded(part: string): Promise<LoudnessFigures> {
    const path = join(this.folder, `encoded-${this.#turn++}.mp4`)
    await this.#run(encodedArguments(fileUrl(part), fileUrl(path)))
    const figures = await measureLoudness(this.tool, path, { signal: this.options.signal, what: 'the sound' })
    await rm(path)
    return figures
  }

  async #measure(args: readonly string[]): Promise<LoudnessFigures> {
    const text = new LoudnessText()
    await streamFfmpeg(this.tool, ['-v', 'error', ...args], {
      signal: this.options.signal,
      what: 'the sound',
      onStdout: (chunk) => text.add(chunk.toString('latin1')),
    })
    return text.figures()
  }

  #run(args: readonly string[], cwd?: string): Promise<void> {
    return runFfmpeg(this.tool, args, { signal: this.options.signal, what: 'the sound', cwd })
  }

  #report(fraction: number): void {
    this.options.onProgress?.(Math.min(1, fraction))
  }
}

/// Looks for the gain at which a limited mix has its loudness: a limiter gives less than a decibel for a
/// decibel, so each step goes by the slope of the last one.
class GainSearch {
  gain: number
  #last: { readonly gain: number; readonly loudness: number }

  constructor(
    private readonly target: number,
    loudness: number,
  ) {
    this.#last = { gain: 0, loudness }
    this.gain = target - loudness
  }

  learn(loudness: number): void {
    const slope = (loudness - this.#last.loudness) / (this.gain - this.#last.gain)
    this.#last = { gain: this.gain, loudness }
    if (Math.abs(this.target - loudness) > CLOSE / 2)
      this.gain += (this.target - loudness) / Math.min(1, Math.max(0.25, Number.isFinite(slope) ? slope : 1))
  }
}

const isFull = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && (error.code === 'ENOSPC' || error.code === 'EFBIG' || error.code === 'EDQUOT')

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0
