import { CodedError } from '../../app/errors/coded-error'
import type { FilmHead } from '../../app/project/film-head'
import type { Film, SeekKind } from '../../app/project/scanned-film'
import { frameTableOf, type FrameTable } from '../../app/time/frame-table'
import { intervalsOf, type Intervals } from '../../app/time/intervals'
import { toNumber } from '../../app/time/rational'
import { inputArguments } from './file-url'
import type { FfmpegTool } from './find-ffmpeg'
import { scanDecoded } from './frame-scan-decoded'
import { openFilm } from './probe'
import { streamFfprobe } from './process'

export type { Film } from '../../app/project/scanned-film'

export interface FrameScan {
  readonly table: FrameTable
  readonly intervals: Intervals | null
  readonly keyframes: Int32Array
  readonly seek: SeekKind
  /// Whether the times come from the container's packets (quick) or from decoding every frame.
  readonly method: 'packets' | 'decoded'
  /// Stored frames that are never shown (before the start of an edit list).
  readonly hidden: number
}

export interface ScanOptions {
  readonly signal?: AbortSignal | undefined
  readonly onProgress?: ((fraction: number) => void) | undefined
  /// Saves reading it again.
  readonly head?: FilmHead | undefined
}

/// Times in the file, in presentation order, as either way of reading gives them.
export interface ReadTimes {
  readonly pts: Float64Array
  readonly key: Uint8Array
  readonly lastFor: number | null
  readonly hidden: number
}

/// Codings in which one packet is one shown frame. Others (VP8's hidden references, packed B-frames)
/// are decoded.
const PACKET_IS_FRAME = new Set([
  'h264',
  'hevc',
  'vp9',
  'av1',
  'prores',
  'dnxhd',
  'mjpeg',
  'ffv1',
  'mpeg4',
  'rawvideo',
  'mpeg2video',
  'utvideo',
  'huffyuv',
  'qtrle',
  'cfhd',
  'png',
])
const TIMED_CONTAINER = /\b(mov|mp4|matroska|webm|mpegts|nut)\b/

/// Reads the presentation time of every frame. From the packets where these can be trusted to be the
/// frames, which reads the file once without decoding; else by decoding all of it. Rejects with
/// `film-empty`, `no-picture`, `film-damaged`, `cancelled`, and all that `openFilm` rejects with.
export async function scanFrames(tool: FfmpegTool, path: string, options: ScanOptions = {}): Promise<FrameScan> {
  const head = options.head ?? (await openFilm(tool, path, { signal: options.signal }))
  const packets = await scanPackets(tool, head, options)
  const times = packets ?? (await scanDecoded(tool, head, options))
  if (times.pts.length === 0) throw new CodedError('film-empty', { file: path })
  const hints = [head.containerRate, head.nominalRate].filter((x) => x !== null)
  const table = frameTableOf(times.pts, head.base, times.lastFor, hints)
  const keyframes = Int32Array.from([...times.key.keys()].filter((i) => times.key[i]))
  options.onProgress?.(1)
  return {
    table,
    intervals: intervalsOf(table),
    keyframes,
    seek: seekKind(head, packets !== null, table),
    method: packets ? 'packets' : 'decoded',
    hidden: times.hidden,
  }
}

/// Head and frames in one.
export async function readFilm(tool: FfmpegTool, path: string, options: ScanOptions = {}): Promise<Film & { readonly scan: FrameScan }> {
  const head = options.head ?? (await openFilm(tool, path, { signal: options.signal }))
  const scan = await scanFrames(tool, path, { ...options, head })
  return { path, head, table: scan.table, keyframes: scan.keyframes, seek: scan.seek, scan }
}

function seekKind(head: FilmHead, trusted: boolean, table: FrameTable): SeekKind {
  if (!trusted || repeatsATime(table)) return 'from-start'
  return /mpegts/.test(head.container) ? 'early' : 'exact'
}

function repeatsATime(table: FrameTable): boolean {
  for (let i = 1; i < table.pts.length; i++) if (table.pts[i] === table.pts[i - 1]) return true
  return false
}

/// Null when the packets cannot be trusted.
async function scanPackets(tool: FfmpegTool, head: FilmHead, options: ScanOptions): Promise<ReadTimes | null> {
  if (!PACKET_IS_FRAME.has(head.codec) || !TIMED_CONTAINER.test(head.container)) return null
  const list = new PacketList()
  const log: string[] = []
  const whole = head.duration_s ? head.duration_s / toNumber(head.base) : null
  let rest = ''
  let last = 0
  await streamFfprobe(
    tool,
    [
      '-v',
      'error',
      '-select_streams',
      String(head.stream),
      '-show_entries',
      'packet=pts,duration,flags',
      '-of',
      'csv=p=0',
      ...inputArguments(head.path),
    ],
    {
      signal: options.signal,
      what: `reading ${head.path}`,
      onStderr: (line) => void log.push(line),
      onStdout: (chunk) => {
        const lines = (rest + chunk.toString('latin1')).split('\n')
        rest = lines.pop() ?? ''
        for (const line of lines) list.add(line)
        if (!whole || !options.onProgress) return
        const fraction = Math.min(1, (list.latest - (head.streamStart ?? 0)) / whole)
        if (fraction - last >= 0.005) options.onProgress((last = fraction))
      },
    },
  )
  if (rest) list.add(rest)
  const damage = log.find((line) => /partial file|File ended prematurely|Truncating packet|Invalid NAL unit size/.test(line))
  if (damage || (head.claimedFrames !== null && list.stored < head.claimedFrames * 0.999 - 1))
    throw new CodedError(
      'film-damaged',
      {
        file: head.path,
        problem: `it breaks off after frame ${list.stored}${head.claimedFrames ? ` of ${head.claimedFrames}` : ''}; copy it again from its source, or convert what is left into a new file`,
      },
      { cause: log.join('\n') },
    )
  return list.times()
}

class PacketList {
  stored = 0
  latest = 0
  private trusted = true
  private hidden = 0
  private readonly pts: number[] = []
  private readonly key: boolean[] = []
  private readonly durations: number[] = []
  private opensAt: number | null = null

  /// A line "pts,duration,flags"; side data may follow.
  add(line: string): void {
    if (!line.trim()) return
    const [pts, duration, flags = ''] = line.trim().split(',')
    this.stored++
    const key = flags.startsWith('K')
    const time = Number(pts)
    if (pts === 'N/A' || !Number.isSafeInteger(time)) {
      this.trusted = false
      return
    }
    if (this.opensAt === null) {
      if (!key) this.trusted = false
      this.opensAt = time
    }
    // A picture that is shown before the first keyframe leans on frames that are not in the file.
    if (time < this.opensAt && !flags.includes('D')) this.trusted = false
    if (time > this.latest) this.latest = time
    if (flags.includes('D')) {
      this.hidden++
      return
    }
    this.pts.push(time)
    this.key.push(key)
    this.durations.push(Number(duration) || 0)
  }

  times(): ReadTimes | null {
    if (!this.trusted) return null
    const order = Array.from(this.pts.keys()).sort((a, b) => this.pts[a]! - this.pts[b]!)
    const last = order.at(-1)
    return {
      pts: Float64Array.from(order, (i) => this.pts[i]!),
      key: Uint8Array.from(order, (i) => (this.key[i] ? 1 : 0)),
      lastFor: last === undefined ? null : this.durations[last] || null,
      hidden: this.hidden,
    }
  }
}
