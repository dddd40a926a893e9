import { SOUND_RATE, type SoundPiece } from './sound-plan'

/// ffmpeg's arguments for each step of the sound mix, as data. Steps in between are kept as 32-bit
/// float PCM, so nothing clips before the limiter.

/// How the finished film's sound is encoded; the mix is checked through exactly these.
/// Noise substitution is off: the noise that it puts in place of the sound's own was seen to raise true peaks by 9 dB.
/// The fast coder takes a sixth of the time at no loss that we could measure at this rate.
export const AAC_ARGUMENTS: readonly string[] = [
  '-c:a',
  'aac',
  '-aac_pns',
  '0',
  '-aac_coder',
  'fast',
  '-b:a',
  '192k',
  '-ar',
  '48000',
  '-ac',
  '2',
]

/// Inputs of one run of ffmpeg. A bus of more pieces is made in several parts, so that neither the
/// command line nor the number of open files grows with the film.
export const PIECES_PER_RUN = 24

export type Channels = 'mono' | 'stereo'

/// One part of a bus: pieces and the stretch of the track that it covers, in samples.
export interface BusPart {
  readonly from: number
  readonly to: number
  readonly pieces: readonly (SoundPiece & { readonly gain: number })[]
}

/// Splits a bus into parts at places where no piece sounds. The parts cover the whole track.
export function busParts(pieces: BusPart['pieces'], samples: number, perRun: number = PIECES_PER_RUN): BusPart[] {
  const parts: BusPart[] = []
  let from = 0
  for (let first = 0; first < pieces.length || first === 0; first += perRun) {
    const group = pieces.slice(first, first + perRun)
    const next = pieces[first + perRun]
    const to = next ? next.at : samples
    parts.push({ from, to, pieces: group })
    from = to
  }
  return parts
}

const file = (name: string): string[] => ['-protocol_whitelist', 'file,pipe', '-i', name]
const only: readonly string[] = ['-vn', '-sn', '-dn', '-map_metadata', '-1', '-fflags', '+bitexact', '-flags:a', '+bitexact']
/// Bare samples: they can be written one after another without a sample more or less (joining files
/// by their times added one at every join).
const samplesOut: readonly string[] = ['-c:a', 'pcm_f32le', '-ar', String(SOUND_RATE), '-f', 'f32le']
const samplesIn = (channels: Channels, name: string): string[] => [
  '-f',
  'f32le',
  '-ar',
  String(SOUND_RATE),
  '-ac',
  channels === 'mono' ? '1' : '2',
  ...file(name),
]
const even = (channels: Channels): string =>
  `aresample=${SOUND_RATE},aformat=sample_fmts=flt:sample_rates=${SOUND_RATE}:channel_layouts=${channels}`
const fromZero = 'asetpts=N/SR/TB'
/// Exactly `samples` long, whatever comes in.
const exactly = (samples: number): string => `apad=whole_len=${samples},atrim=end_sample=${samples},${fromZero}`
const decibels = (gain: number): string => `volume=${gain.toFixed(4)}dB:precision=float`

/// Writes one part of a bus to standard output as 32-bit float samples: each piece at its sample, silence
/// between. `loop`: the pieces' files are mono samples too, and are read round and round (room tone).
export function busArguments(part: BusPart, channels: Channels, loop = false): string[] {
  const inputs: string[] = []
  const chains: string[] = []
  const sequence: string[] = []
  let at = part.from
  const silence = (samples: number): void => {
    if (samples <= 0) return
    const label = `s${chains.length}`
    chains.push(`anullsrc=r=${SOUND_RATE}:cl=${channels},aformat=sample_fmts=flt,atrim=end_sample=${samples},${fromZero}[${label}]`)
    sequence.push(label)
  }
  part.pieces.forEach((piece, i) => {
    silence(piece.at - at)
    at = piece.at + piece.samples
    const margin = (piece.samples / SOUND_RATE + 0.5).toFixed(6)
    inputs.push(
      ...(loop ? ['-stream_loop', '-1'] : []),
      ...(piece.startSeconds > 0 ? ['-ss', piece.startSeconds.toFixed(6)] : []),
      '-t',
      margin,
      ...(loop ? samplesIn('mono', piece.file) : file(piece.file)),
    )
    const fades = [
      ...(piece.fadeIn > 0 ? [`afade=t=in:ss=0:ns=${piece.fadeIn}`] : []),
      ...(piece.fadeOut > 0 ? [`afade=t=out:ss=${piece.samples - piece.fadeOut}:ns=${piece.fadeOut}`] : []),
    ]
    chains.push([`[${i}:a:0]${even(channels)}`, fromZero, exactly(piece.samples), decibels(piece.gain), ...fades].join(',') + `[p${i}]`)
    sequence.push(`p${i}`)
  })
  silence(part.to - at)
  const joined = sequence.map((label) => `[${label}]`).join('')
  const graph = [
    ...chains,
    sequence.length > 1
      ? `${joined}concat=n=${sequence.length}:v=0:a=1,${exactly(part.to - part.from)}[out]`
      : `${joined}${exactly(part.to - part.from)}[out]`,
  ].join(';')
  return [...inputs, '-filter_complex', graph, '-map', '[out]', ...only, ...samplesOut, 'pipe:1']
}

/// A room tone of `samples` made to run round without a seam: its end is crossed into its start. The
/// loop is shorter by what it crosses (`loopSamples`). Not ffmpeg's own cross-fade, which the oldest
/// build we know crashes in.
export function loopArguments(source: string, samples: number, out: string): string[] {
  const cross = samples - loopSamples(samples)
  const body = samples - cross
  const graph =
    `[0:a:0]${even('mono')},${fromZero},${exactly(samples)},asplit[a][b];` +
    `[a]atrim=start_sample=${cross},${fromZero},afade=t=out:ss=${body - cross}:ns=${cross}:curve=qsin[body];` +
    `[b]atrim=end_sample=${cross},${fromZero},afade=t=in:ss=0:ns=${cross}:curve=qsin[head];` +
    `anullsrc=r=${SOUND_RATE}:cl=mono,aformat=sample_fmts=flt,atrim=end_sample=${body - cross},${fromZero}[still];` +
    `[still][head]concat=n=2:v=0:a=1,${exactly(body)}[late];[body][late]amerge=inputs=2,pan=mono|c0=c0+c1[out]`
  return ['-y', ...file(source), '-filter_complex', graph, '-map', '[out]', ...only, ...samplesOut, out]
}

/// Length of the loop made of a room tone of `samples`: half a second, or a quarter of it, is crossed.
export const loopSamples = (samples: number): number => samples - Math.min(SOUND_RATE / 2, Math.floor(samples / 4))

/// Prints R 128 figures of a sound on standard output for `LoudnessText`, after the given filters.
export const meterFilter = (peaks: boolean): string => `ebur128=metadata=1${peaks ? ':peak=true' : ''},ametadata=mode=print:file=-`
export const meterArguments = (source: string): string[] => [...file(source), '-map', '0:a:0', '-af', meterFilter(true), '-f', 'null', '-']
/// The same of a bus; a mono bus is metered as it will sound, alike on both sides.
export const meterBusArguments = (bus: Bus): string[] => [
  ...samplesIn(bus.channels, bus.file),
  '-filter_complex',
  `${sumGraph([bus])};[mix]${meterFilter(false)}[out]`,
  '-map',
  '[out]',
  '-f',
  'null',
  '-',
]

/// Meters several sounds in one run, each as one channel, each into its own text file beside the run
/// (`level-0.txt` …, in the working folder). `short`: a sound that does not fill a meter's window (400 ms, BS.1770) a few
/// times is heard round and round.
export function levelArguments(sources: readonly { readonly file: string; readonly short: boolean }[]): string[] {
  const chains = sources.map(
    ({ short }, i) =>
      `[${i}:a:0]${even('mono')},${short ? `aloop=loop=9:size=${SOUND_RATE},` : ''}ebur128=metadata=1,ametadata=mode=print:key=lavfi.r128.I:file=level-${i}.txt[o${i}]`,
  )
  return [
    '-y',
    ...sources.flatMap((source) => file(source.file)),
    '-filter_complex',
    chains.join(';'),
    ...sources.flatMap((_, i) => ['-map', `[o${i}]`]),
    '-f',
    'null',
    '-',
  ]
}

/// One bus of the mix: a mono bus sounds alike on both sides (and is therefore 3 LU louder than it
/// measures alone, which is why only the stereo mix is brought to its loudness).
export interface Bus {
  readonly file: string
  readonly channels: Channels
  readonly gain: number
  /// It lies under the narration, and stays as far under it when the limiter takes from the narration.
  readonly under?: boolean
}

/// Sums the buses to stereo. Each is made stereo first: `amerge` keeps the order of its inputs' channels only
/// where their layouts overlap.
function sumGraph(buses: readonly Bus[]): string {
  const chains = buses.map(
    (bus, i) => `[${i}:a:0]aformat=sample_fmts=flt,${decibels(bus.gain)}${bus.channels === 'mono' ? ',pan=stereo|c0=c0|c1=c0' : ''}[b${i}]`,
  )
  const merged = buses.map((_, i) => `[b${i}]`).join('') + (buses.length > 1 ? `amerge=inputs=${buses.length},` : '')
  const sum = (side: number): string => buses.map((_, i) => `c${2 * i + side}`).join('+')
  return [...chains, `${merged}pan=stereo|c0=${sum(0)}|c1=${sum(1)}[mix]`].join(';')
}

/// Lookahead of the limiter, in samples at four times the rate; it delays the sound by one less.
const LIMITER_RATE = 4 * SOUND_RATE
const LOOKAHEAD = 961

/// The mix with `gain` dB, its true peaks held at `ceiling` dBTP (null: no limiter needed), exactly
/// `samples` long, written as 24-bit FLAC or WAV, and metered on the way. The limiter works at four
/// times the rate, as ITU-R BS.1770's peak meter does, so that peaks between samples are held too.
export function masterArguments(
  buses: readonly Bus[],
  gain: number,
  ceiling: number | null,
  samples: number,
  out: { readonly file: string; readonly format: 'flac' | 'wav' } | null,
): string[] {
  const limit = ceiling === null ? 0 : 10 ** (ceiling / 20)
  const limiter =
    ceiling === null
      ? []
      : [
          `aresample=${LIMITER_RATE}`,
          `apad=pad_len=${LOOKAHEAD - 1}`,
          `alimiter=limit=${limit.toFixed(6)}:attack=${((1000 * (LOOKAHEAD + 0.25)) / LIMITER_RATE).toFixed(6)}:release=60:level=0`,
          `atrim=start_sample=${LOOKAHEAD - 1}`,
          fromZero,
          `aresample=${SOUND_RATE}`,
        ]
  const tail = [
    decibels(gain),
    ...limiter,
    exactly(samples),
    meterFilter(true),
    ...(out ? ['aformat=sample_fmts=s32:channel_layouts=stereo'] : []),
  ].join(',')
  const encoder =
    out === null
      ? ['-f', 'null', '-']
      : out.format === 'flac'
        ? ['-c:a', 'flac', '-bits_per_raw_sample', '24', '-f', 'flac', out.file]
        : ['-c:a', 'pcm_s24le', '-f', 'wav', out.file]
  return [
    '-y',
    ...buses.flatMap((bus) => samplesIn(bus.channels, bus.file)),
    '-filter_complex',
    `${sumGraph(buses)};[mix]${tail}[out]`,
    '-map',
    '[out]',
    ...only,
    ...encoder,
  ]
}

/// The finished sound through the film's own encoder, for a last look.
export const encodedArguments = (source: string, out: string): string[] => [
  '-y',
  ...file(source),
  ...only,
  ...AAC_ARGUMENTS,
  '-f',
  'mp4',
  out,
]
