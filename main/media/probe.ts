import { open, stat } from 'node:fs/promises'
import { CodedError } from '../../app/errors/coded-error'
import type { FilmHead, Colour } from '../../app/project/film-head'
import { compare, parseRational, rational, type Rational } from '../../app/time/rational'
import { inputArguments } from './file-url'
import type { FfmpegTool } from './find-ffmpeg'
import { ProbeReport, type ProbeStream } from './probe-json'
import { runFfprobe } from './process'

export type { FilmHead } from '../../app/project/film-head'

/// Containers that hold films. Playlists, image sequences, devices and captions, which ffmpeg
/// would read as well, are no footage: they can lead to other files.
const CONTAINERS = new Set([
  'mov',
  'mp4',
  'matroska',
  'webm',
  'avi',
  'mpegts',
  'mpeg',
  'mpegvideo',
  'mxf',
  'asf',
  'flv',
  'ogg',
  'nut',
  'gif',
  'dv',
  'ivf',
  'h264',
  'hevc',
  'm4v',
  'rm',
  'wtv',
  'gxf',
  'y4m',
  'yuv4mpegpipe',
  'apng',
])

/// Reads a film's head: what the container says, without reading its frames. Takes well under a
/// second whatever the film's length. Rejects with `file-missing`, `file-unreadable`, `film-empty`,
/// `not-a-video`, `film-damaged` or `no-picture`, each naming `path` as given.
export async function openFilm(
  tool: FfmpegTool,
  path: string,
  options: { readonly signal?: AbortSignal | undefined } = {},
): Promise<FilmHead> {
  const { bytes, opening } = await openingOf(path)
  const report = await askFfprobe(tool, path, opening, options.signal)
  const container = report.format.format_name ?? ''
  const pictures = report.streams.filter(
    (s) => s.codec_type === 'video' && !s.disposition?.['attached_pic'] && !s.disposition?.['timed_thumbnails'],
  )
  if (pictures.length === 0 && report.streams.some((s) => s.codec_type === 'audio')) throw new CodedError('no-picture', { file: path })
  if (!container.split(',').some((name) => CONTAINERS.has(name))) {
    if (/image2|_pipe$/.test(container)) throw new CodedError('no-picture', { file: path })
    throw new CodedError('not-a-video', { file: path, problem: `${container || 'its kind'} is no film container` })
  }
  const [stream] = pictures
  if (!stream && report.streams.length === 0) throw new CodedError('film-empty', { file: path })
  if (!stream) throw new CodedError('no-picture', { file: path })
  if (!stream.width || !stream.height || !stream.codec_name)
    throw new CodedError('film-damaged', { file: path, problem: 'its picture has no size or no known coding' })
  const head = headOf(path, bytes, container, report, stream)
  return stream.field_order === 'tb' || stream.field_order === 'bt'
    ? { ...head, fieldOrder: await firstFieldOf(tool, head, options.signal) }
    : head
}

/// The file's size and its first bytes.
interface Opening {
  readonly bytes: number
  readonly opening: Buffer
}

async function openingOf(path: string): Promise<Opening> {
  const unreadable = (problem: string): CodedError => new CodedError('file-unreadable', { file: path, problem })
  const facts = await stat(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT' || error.code === 'ENOTDIR') throw new CodedError('file-missing', { file: path })
    throw unreadable(reasonOf(error))
  })
  if (facts.isDirectory()) throw unreadable('it is a folder')
  if (!facts.isFile()) throw unreadable('it is a device or a pipe, not a file')
  const opening = await firstBytes(path).catch((error: NodeJS.ErrnoException) => {
    throw unreadable(reasonOf(error))
  })
  if (opening.length === 0) throw new CodedError('film-empty', { file: path })
  // A RIFF file (AVI) says how long it is; 0 and the largest number are left by broken-off recorders.
  if (
    opening.toString('latin1', 0, 4) === 'RIFF' &&
    opening.length >= 8 &&
    opening.readUInt32LE(4) < 0xffff_ffff &&
    opening.readUInt32LE(4) + 8 > facts.size
  )
    throw new CodedError('film-damaged', {
      file: path,
      problem: 'it breaks off before its end, as when a recording or a copy was broken off',
    })
  return { bytes: facts.size, opening }
}

async function firstBytes(path: string): Promise<Buffer> {
  const handle = await open(path, 'r')
  try {
    const { bytesRead, buffer } = await handle.read(Buffer.alloc(12), 0, 12, 0)
    return buffer.subarray(0, bytesRead)
  } finally {
    await handle.close()
  }
}

function reasonOf(error: NodeJS.ErrnoException): string {
  if (error.code === 'EACCES' || error.code === 'EPERM') return 'its permissions do not allow it'
  if (error.code === 'EIO') return 'the disk reports an error'
  return error.code ?? error.message
}

async function askFfprobe(tool: FfmpegTool, path: string, opening: Buffer, signal: AbortSignal | undefined): Promise<ProbeReport> {
  let text: string
  try {
    text = await runFfprobe(tool, ['-v', 'error', '-print_format', 'json', '-show_format', '-show_streams', ...inputArguments(path)], {
      signal,
      what: `reading ${path}`,
    })
  } catch (error) {
    if (!(error instanceof CodedError) || error.code !== 'ffmpeg-failed') throw error
    throw unreadableFilm(path, opening, String(error.cause ?? ''), error)
  }
  const parsed = ProbeReport.safeParse(JSON.parse(text))
  if (!parsed.success)
    throw new CodedError('not-a-video', { file: path, problem: 'ffprobe does not understand it' }, { cause: parsed.error })
  return parsed.data
}

/// The first box of an MP4 or QuickTime file. ffmpeg takes anything named .mp4 for one.
const isoBox = (opening: Buffer): boolean => /^(ftyp|moov|mdat|free|skip|wide|pnot)$/.test(opening.toString('latin1', 4, 8))

function unreadableFilm(path: string, opening: Buffer, said: string, cause: unknown): CodedError {
  if (isoBox(opening) && /moov atom not found/.test(said))
    return new CodedError(
      'film-damaged',
      { file: path, problem: 'its index is missing, as when a recording or a copy was broken off' },
      { cause },
    )
  if (/Protocol .* not on whitelist|not allowed/.test(said))
    return new CodedError('not-a-video', { file: path, problem: 'it points to other files' }, { cause })
  if (isoBox(opening) && /End of file/.test(said))
    return new CodedError('film-damaged', { file: path, problem: 'it breaks off in its head' }, { cause })
  return new CodedError('not-a-video', { file: path, problem: 'ffmpeg finds no film in it' }, { cause })
}

function headOf(path: string, bytes: number, container: string, report: ProbeReport, stream: ProbeStream): FilmHead {
  const coded = { width: stream.width!, height: stream.height! }
  const { rotation, oddMatrix } = turnOf(stream)
  const sampleAspect = ratio(stream.sample_aspect_ratio?.replace(':', '/')) ?? rational(1)
  const wide = compare(sampleAspect, rational(1)) >= 0
  const square = {
    width: wide ? Math.round((coded.width * sampleAspect.n) / sampleAspect.d) : coded.width,
    height: wide ? coded.height : Math.round((coded.height * sampleAspect.d) / sampleAspect.n),
  }
  const lying = rotation === 90 || rotation === 270
  const sound = report.streams.find((s) => s.codec_type === 'audio')
  return {
    path,
    bytes,
    container,
    stream: stream.index,
    codec: stream.codec_name!,
    pixelFormat: stream.pix_fmt ?? 'unknown',
    coded,
    width: lying ? square.height : square.width,
    height: lying ? square.width : square.height,
    rotation,
    oddMatrix,
    sampleAspect: lying ? { n: sampleAspect.d, d: sampleAspect.n } : sampleAspect,
    colour: colourOf(stream),
    fieldOrder: fieldOrderOf(stream.field_order),
    containerRate: ratio(stream.avg_frame_rate),
    nominalRate: ratio(stream.r_frame_rate),
    base: ratio(stream.time_base) ?? rational(1, 1000),
    duration_s: seconds(stream.duration) ?? clock(stream.tags) ?? seconds(report.format.duration),
    streamStart: stream.start_pts ?? null,
    containerStart_s: seconds(report.format.start_time) ?? 0,
    claimedFrames: stream.nb_frames ? Number.parseInt(stream.nb_frames, 10) || null : null,
    sound: sound
      ? {
          stream: sound.index,
          codec: sound.codec_name ?? 'unknown',
          sampleRate: Number(sound.sample_rate ?? 0),
          channels: sound.channels ?? 0,
          start_s: seconds(sound.start_time) ?? 0,
        }
      : null,
    captureRate: captureRateOf(report),
  }
}

/// "N/A", "0/0" and "0:1" mean unknown.
function ratio(text: string | undefined): Rational | null {
  const value = text && !text.endsWith('/0') ? parseRational(text) : null
  return value && value.n > 0 ? value : null
}

function seconds(text: string | undefined): number | null {
  const value = Number.parseFloat(text ?? '')
  return Number.isFinite(value) ? value : null
}

/// Matroska's DURATION tag, "00:00:02.966000000".
function clock(tags: Readonly<Record<string, string>> | undefined): number | null {
  const match = /^(\d+):(\d\d):(\d\d(?:\.\d+)?)$/.exec(tags?.['DURATION'] ?? '')
  return match ? Number(match[1]) * 3600 + Number(match[2]) * 60 + Number(match[3]) : null
}

/// ffprobe gives the display matrix's angle counter-clockwise; the old `rotate` tag is clockwise.
function turnOf(stream: ProbeStream): { readonly rotation: FilmHead['rotation']; readonly oddMatrix: boolean } {
  const matrix = stream.side_data_list?.find((x) => x.displaymatrix !== undefined || x.rotation !== undefined)
  const clockwise = matrix?.rotation !== undefined ? -matrix.rotation : Number.parseFloat(stream.tags?.['rotate'] ?? '0') || 0
  const turned = ((Math.round(clockwise) % 360) + 360) % 360
  const right = turned === 0 || turned === 90 || turned === 180 || turned === 270
  return { rotation: right ? turned : 0, oddMatrix: !right || mirrors(matrix?.displaymatrix) }
}

/// The printed matrix is three rows "00000000:  a  b  u"; it mirrors when ad − bc < 0.
function mirrors(text: string | undefined): boolean {
  const rows = [...(text ?? '').matchAll(/:\s*(-?\d+)\s+(-?\d+)\s+(-?\d+)/g)].map((m) => m.slice(1).map(Number))
  const [first, second] = rows
  return first !== undefined && second !== undefined && first[0]! * second[1]! - first[1]! * second[0]! < 0
}

function colourOf(stream: ProbeStream): Colour {
  const known = (text: string | undefined): string | null => (!text || text === 'unknown' || text === 'reserved' ? null : text)
  const transfer = known(stream.color_transfer)
  const vision = stream.side_data_list?.some((x) => /DOVI/.test(x.side_data_type ?? '')) ?? false
  const range = known(stream.color_range)
  return {
    matrix: known(stream.color_space),
    range: range === 'pc' || range === 'tv' ? range : /^yuvj/.test(stream.pix_fmt ?? '') ? 'pc' : null,
    transfer,
    primaries: known(stream.color_primaries),
    hdr: transfer === 'smpte2084' || transfer === 'arib-std-b67' || vision,
    bits: Number(stream.bits_per_raw_sample ?? 0) || Number(/p(\d\d)(?:le|be)?$/.exec(stream.pix_fmt ?? '')?.[1] ?? 8),
  }
}

/// Containers that say the fields are stored in another order than shown are often wrong; what the
/// first frame itself says is what deinterlacing goes by.
async function firstFieldOf(tool: FfmpegTool, head: FilmHead, signal: AbortSignal | undefined): Promise<FilmHead['fieldOrder']> {
  const args = [
    '-v',
    'error',
    '-select_streams',
    String(head.stream),
    '-read_intervals',
    '%+#1',
    '-show_entries',
    'frame=top_field_first',
    '-of',
    'default=nk=1:nw=1',
    ...inputArguments(head.path),
  ]
  const said = await runFfprobe(tool, args, { signal, what: `reading ${head.path}` })
  return said.trim().startsWith('1') ? 'top' : 'bottom'
}

function fieldOrderOf(text: string | undefined): FilmHead['fieldOrder'] {
  if (text === 'progressive') return 'progressive'
  if (text === 'tt') return 'top'
  if (text === 'bb') return 'bottom'
  return 'unknown'
}

/// Phones write the sensor's rate beside a slowed film.
function captureRateOf(report: ProbeReport): Rational | null {
  const tags = [report.format.tags, ...report.streams.map((s) => s.tags)]
  for (const each of tags)
    for (const [name, value] of Object.entries(each ?? {})) {
      if (name !== 'com.android.capture.fps') continue
      const rate = Number.parseFloat(value)
      if (Number.isFinite(rate) && rate > 0 && rate < 100_000) return rational(Math.round(rate * 1000), 1000)
    }
  return null
}
