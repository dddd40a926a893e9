import { createHash } from 'node:crypto'
import { access, chmod, constants, readFile, stat } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { homedir } from 'node:os'
import { delimiter, dirname, join } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import { writeWhole } from '../whole-file'
import { runProgram } from './process'

/// An ffmpeg with its ffprobe, and what they can do.
export interface FfmpegTool {
  readonly ffmpeg: string
  readonly ffprobe: string
  /// As the program names itself ("5.1.9-0+deb12u1", "N-47683-g0e8eb07980-static").
  readonly version: string
  /// Changes whenever the program's output might: version, configuration, library versions and size.
  readonly identity: string
  readonly filters: ReadonlySet<string>
  readonly encoders: ReadonlySet<string>
  readonly has: FfmpegAbilities
}

export interface FfmpegAbilities {
  /// `-fps_mode` (5.1); before that the same is said with `-vsync`.
  readonly fpsMode: boolean
  /// `-movie_timescale` (4.4).
  readonly movieTimescale: boolean
  readonly tpad: boolean
  readonly xfade: boolean
  readonly zscale: boolean
}

/// Filters and encoders without which no film can be made.
export const NEEDED_FILTERS = [
  'scale',
  'crop',
  'pad',
  'format',
  'setpts',
  'settb',
  'select',
  'trim',
  'fps',
  'overlay',
  'hflip',
  'ass',
  'concat',
  'color',
  'loop',
  'setsar',
  'idet',
  'yadif',
  'tonemap',
  'ebur128',
  'amix',
  'adelay',
  'aresample',
  'atrim',
  'asetpts',
  'alimiter',
  'volume',
  'apad',
] as const
const NEEDED_ENCODERS = ['libx264', 'aac'] as const

/// libavformat's version where 4.4 and 5.1 begin; builds between releases carry no other number.
const RELEASE_4_4 = [58, 76] as const
const RELEASE_5_1 = [59, 27] as const

interface Candidate {
  readonly name: string
  readonly ffmpeg: string
  readonly ffprobe: readonly string[]
  readonly atLeast: readonly [number, number] | null
}

let found: Promise<FfmpegTool> | null = null

/// Finds ffmpeg once per process: the environment's (`CLAIMFRAME_FFMPEG`, `CLAIMFRAME_FFPROBE`),
/// else `ffmpeg-static`, else the system's from 4.4 on, else the copy inside the installer packages.
/// Where the environment names one, no other is tried. Rejects with `ffmpeg-missing` and the list
/// of what was tried and why it would not do.
export function findFfmpeg(): Promise<FfmpegTool> {
  found ??= lookFor(process.env)
  found.catch(() => (found = null))
  return found
}

/// The same for a given environment, not remembered.
export async function lookFor(env: Readonly<Record<string, string | undefined>>): Promise<FfmpegTool> {
  const tried: string[] = []
  for (const candidate of candidates(env)) {
    const answer = await tryCandidate(candidate, env)
    if (typeof answer !== 'string') return answer
    tried.push(`${candidate.name} (${answer})`)
  }
  throw new CodedError('ffmpeg-missing', { tried })
}

function candidates(env: Readonly<Record<string, string | undefined>>): readonly Candidate[] {
  const named = env['CLAIMFRAME_FFPROBE']
  const suffix = process.platform === 'win32' ? '.exe' : ''
  const probes = (beside: string | null): readonly string[] =>
    named ? [named] : [...(beside ? [join(dirname(beside), `ffprobe${suffix}`)] : []), ...onPath('ffprobe', env), ...packaged('ffprobe')]
  const chosen = env['CLAIMFRAME_FFMPEG']
  if (chosen) return [{ name: `CLAIMFRAME_FFMPEG=${chosen}`, ffmpeg: chosen, ffprobe: probes(chosen), atLeast: null }]
  const list: Candidate[] = []
  const still = staticBuild()
  if (still) list.push({ name: 'ffmpeg-static', ffmpeg: still, ffprobe: probes(null), atLeast: null })
  for (const path of onPath('ffmpeg', env)) list.push({ name: path, ffmpeg: path, ffprobe: probes(path), atLeast: RELEASE_4_4 })
  for (const path of packaged('ffmpeg'))
    list.push({
      name: '@ffmpeg-installer/ffmpeg',
      ffmpeg: path,
      ffprobe: named ? [named] : [...packaged('ffprobe'), ...onPath('ffprobe', env)],
      atLeast: null,
    })
  if (list.length === 0) list.push({ name: 'ffmpeg on the PATH', ffmpeg: 'ffmpeg', ffprobe: probes(null), atLeast: RELEASE_4_4 })
  return list
}

function onPath(name: string, env: Readonly<Record<string, string | undefined>>): readonly string[] {
  const file = process.platform === 'win32' ? `${name}.exe` : name
  return (env['PATH'] ?? '')
    .split(delimiter)
    .filter(Boolean)
    .map((folder) => join(folder, file))
}

// Not named `require`: the builder puts a `require` of its own beside any use of that name.
const packages = createRequire(import.meta.url)

/// The package is under the GPL, so none of its code is loaded: its binary lies beside its manifest.
function staticBuild(): string | null {
  try {
    return join(dirname(packages.resolve('ffmpeg-static/package.json')), process.platform === 'win32' ? 'ffmpeg.exe' : 'ffmpeg')
  } catch {
    return null
  }
}

/// The package's own entry refuses a binary without its execute bit, which npm leaves off when
/// install scripts are not run; so the binary's package is asked for directly.
function packaged(name: 'ffmpeg' | 'ffprobe'): readonly string[] {
  const file = process.platform === 'win32' ? `${name}.exe` : name
  try {
    const owner = createRequire(packages.resolve(`@${name}-installer/${name}/package.json`))
    return [owner.resolve(`@${name}-installer/${process.platform}-${process.arch}/${file}`)]
  } catch {
    return []
  }
}

async function tryCandidate(candidate: Candidate, env: Readonly<Record<string, string | undefined>>): Promise<FfmpegTool | string> {
  const missing = await runnable(candidate.ffmpeg)
  if (missing) return missing
  const abilities = await recall(candidate.ffmpeg, env)
  if (typeof abilities === 'string') return abilities
  if (candidate.atLeast && !reaches(abilities.formatLibrary, candidate.atLeast)) return `${abilities.version} is older than 4.4`
  const filters = new Set(abilities.filters)
  const encoders = new Set(abilities.encoders)
  const lacking = [...NEEDED_FILTERS.filter((x) => !filters.has(x)), ...NEEDED_ENCODERS.filter((x) => !encoders.has(x))]
  if (lacking.length > 0) return `lacks ${lacking.join(', ')}`
  for (const ffprobe of candidate.ffprobe) {
    if ((await runnable(ffprobe)) !== null) continue
    return {
      ffmpeg: candidate.ffmpeg,
      ffprobe,
      version: abilities.version,
      identity: abilities.identity,
      filters,
      encoders,
      has: {
        fpsMode: reaches(abilities.formatLibrary, RELEASE_5_1),
        movieTimescale: reaches(abilities.formatLibrary, RELEASE_4_4),
        tpad: filters.has('tpad'),
        xfade: filters.has('xfade'),
        zscale: filters.has('zscale'),
      },
    }
  }
  return 'no ffprobe beside it'
}

/// Null when the file can be run; else why not. A missing execute bit is put right where we may.
async function runnable(path: string): Promise<string | null> {
  const facts = await stat(path).catch(() => null)
  if (!facts?.isFile()) return 'not there'
  if (process.platform === 'win32') return null
  if (
    await access(path, constants.X_OK).then(
      () => true,
      () => false,
    )
  )
    return null
  return chmod(path, facts.mode | 0o755).then(
    () => null,
    () => 'may not be run',
  )
}

const reaches = (version: readonly [number, number], floor: readonly [number, number]): boolean =>
  version[0] > floor[0] || (version[0] === floor[0] && version[1] >= floor[1])

interface Abilities {
  readonly version: string
  readonly identity: string
  readonly formatLibrary: readonly [number, number]
  readonly filters: readonly string[]
  readonly encoders: readonly string[]
}

/// Asking takes up to half a second with a dynamically linked build, so the answer is kept in the
/// user's cache folder under the program's path, size and time of change.
async function recall(path: string, env: Readonly<Record<string, string | undefined>>): Promise<Abilities | string> {
  const { size, mtimeMs } = await stat(path)
  const key = createHash('sha256')
    .update(JSON.stringify([2, path, size, mtimeMs]))
    .digest('hex')
    .slice(0, 24)
  const folder = join(env['XDG_CACHE_HOME'] || env['LOCALAPPDATA'] || join(homedir(), '.cache'), 'claimframe')
  const file = join(folder, `ffmpeg-${key}.json`)
  const kept = await readFile(file, 'utf8').then(
    (text) => readAbilities(JSON.parse(text)),
    () => null,
  )
  if (kept) return kept
  const asked = await ask(path, size)
  if (typeof asked === 'string') return asked
  await writeWhole(file, JSON.stringify(asked)).catch(() => undefined)
  return asked
}

function readAbilities(value: unknown): Abilities | null {
  const known = value as Partial<Abilities> | null
  const texts = (x: unknown): x is string[] => Array.isArray(x) && x.every((each) => typeof each === 'string')
  if (typeof known?.version !== 'string' || typeof known.identity !== 'string' || !texts(known.filters) || !texts(known.encoders))
    return null
  const library = known.formatLibrary
  if (!Array.isArray(library) || library.length !== 2 || !library.every((x) => typeof x === 'number')) return null
  return known as Abilities
}

async function ask(path: string, size: number): Promise<Abilities | string> {
  const say = (args: readonly string[]): Promise<string> =>
    runProgram(path, ['-hide_banner', ...args], { signal: AbortSignal.timeout(20_000) }).then(
      (x) => (x.status === 0 ? x.stdout.toString('utf8') : ''),
      () => '',
    )
  const about = await runProgram(path, ['-version'], { signal: AbortSignal.timeout(20_000) }).then(
    (x) => x.stdout.toString('utf8'),
    () => '',
  )
  const version = /^ffmpeg version (\S+)/.exec(about)?.[1]
  const library = /libavformat\s+(\d+)\.\s*(\d+)/.exec(about)
  if (!version || !library) return 'does not run'
  const [filters, encoders] = await Promise.all([say(['-filters']), say(['-encoders'])])
  return {
    version,
    identity: createHash('sha256').update(about).update(String(size)).digest('hex').slice(0, 32),
    formatLibrary: [Number(library[1]), Number(library[2])],
    filters: [...filters.matchAll(/^ [T.][S.][C.]? ?(\w+) +\S+->/gm)].map((x) => x[1]!),
    encoders: [...encoders.matchAll(/^ [VAS][F.][S.][X.][B.][D.] (\w+) /gm)].map((x) => x[1]!),
  }
}
