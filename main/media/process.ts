import { spawn, type ChildProcess, type SpawnOptions } from 'node:child_process'
import { existsSync } from 'node:fs'
import { basename } from 'node:path'
import FfmpegCommand from 'fluent-ffmpeg'
import { CodedError } from '../../app/errors/coded-error'
import { emptyProgressText, readProgress, type Progress } from '../../app/render/progress'
import type { FfmpegTool } from './find-ffmpeg'

/// The one place where processes are started: ffmpeg, ffprobe and other separate programs.
/// Arguments are arrays and reach the program exactly as given; no shell is involved.

export interface RunOptions {
  readonly signal?: AbortSignal | undefined
  readonly cwd?: string | undefined
  /// Name of the work in a cancellation's message.
  readonly what?: string | undefined
  /// Lower priority for work in the background, 0 (as usual) to 19. Ignored on Windows.
  readonly niceness?: number | undefined
}

export interface FfmpegRunOptions extends RunOptions {
  readonly onProgress?: ((p: Progress) => void) | undefined
  /// Receives the last lines of the log once ffmpeg has ended, well or not.
  readonly onStderrTail?: ((lines: readonly string[]) => void) | undefined
  /// Bytes for the program's standard input (`pipe:0`).
  readonly stdin?: AsyncIterable<Uint8Array> | Iterable<Uint8Array> | undefined
}

export interface StreamOptions extends RunOptions {
  /// Called with each piece of output; the next piece waits for the returned promise.
  readonly onStdout: (chunk: Buffer) => void | Promise<void>
  readonly onStderr?: ((line: string) => void) | undefined
}

export interface ProgramOptions extends RunOptions {
  readonly stdin?: string | Uint8Array | undefined
  readonly env?: Readonly<Record<string, string>> | undefined
}

export interface ProgramOutput {
  readonly stdout: Buffer
  readonly stderr: string
  /// Exit status; −1 when a signal ended it.
  readonly status: number
}

const KILL_AFTER_MS = 2000
const TAIL_LINES = 40

/// Runs ffmpeg to its end. `-progress` is added when `onProgress` is given. Rejects with
/// `cancelled`, `disk-full` or `ffmpeg-failed`; what ffmpeg had written stays for the caller to
/// remove.
export async function runFfmpeg(tool: FfmpegTool, args: readonly string[], options: FfmpegRunOptions = {}): Promise<void> {
  const tail = new LineTail(TAIL_LINES)
  const reporting = options.onProgress ? ['-progress', 'pipe:1', '-nostats'] : []
  let rest = emptyProgressText
  const outcome = await supervise(launchFfmpeg, tool.ffmpeg, ['-hide_banner', '-nostdin', ...reporting, ...args], options, {
    feed: options.stdin,
    onStdout: (chunk) => {
      const read = readProgress(rest, chunk.toString('latin1'))
      rest = read.rest
      for (const report of read.reports) options.onProgress?.(report)
    },
    onStderr: (text) => tail.add(text),
  })
  const lines = tail.end()
  options.onStderrTail?.(lines)
  if (outcome.status !== 0 || lines.some(saysFull)) throw failureOf(lines, args, outcome)
}

/// Runs ffmpeg and hands its standard output over piece by piece; ffmpeg waits while `onStdout`
/// does. A consumer that throws ends ffmpeg and the promise rejects with what it threw.
export async function streamFfmpeg(tool: FfmpegTool, args: readonly string[], options: StreamOptions): Promise<void> {
  const tail = new LineTail(TAIL_LINES, options.onStderr)
  const outcome = await supervise(launchFfmpeg, tool.ffmpeg, ['-hide_banner', '-nostdin', ...args], options, {
    onStdout: options.onStdout,
    onStderr: (text) => tail.add(text),
  })
  const lines = tail.end()
  if (outcome.status !== 0) throw failureOf(lines, args, outcome)
}

/// Runs ffprobe and returns its standard output. Rejects like `runFfmpeg`.
export async function runFfprobe(tool: FfmpegTool, args: readonly string[], options: RunOptions = {}): Promise<string> {
  const chunks: Buffer[] = []
  await streamFfprobe(tool, args, { ...options, onStdout: (chunk) => void chunks.push(chunk) })
  return Buffer.concat(chunks).toString('utf8')
}

/// Runs ffprobe and hands its output over as it comes (packet listings of long films).
export async function streamFfprobe(tool: FfmpegTool, args: readonly string[], options: StreamOptions): Promise<void> {
  const tail = new LineTail(TAIL_LINES, options.onStderr)
  const outcome = await supervise(spawn, tool.ffprobe, ['-hide_banner', ...args], options, {
    onStdout: options.onStdout,
    onStderr: (text) => tail.add(text),
  })
  const lines = tail.end()
  if (outcome.status !== 0) throw failureOf(lines, args, outcome)
}

/// Runs any other separate program and collects what it says. A non-zero status is an answer, not
/// an error; a program that cannot be started rejects with the system's own error.
export async function runProgram(command: string, args: readonly string[], options: ProgramOptions = {}): Promise<ProgramOutput> {
  const stdout: Buffer[] = []
  const stderr: Buffer[] = []
  const outcome = await supervise(spawn, command, args, options, {
    feed: options.stdin === undefined ? undefined : [Buffer.from(options.stdin)],
    onStdout: (chunk) => void stdout.push(chunk),
    onStderr: (chunk) => void stderr.push(chunk),
    env: options.env,
  })
  return { stdout: Buffer.concat(stdout), stderr: Buffer.concat(stderr).toString('utf8'), status: outcome.status }
}

interface Outcome {
  readonly status: number
  readonly signal: NodeJS.Signals | null
}

interface Pipes {
  readonly feed?: AsyncIterable<Uint8Array> | Iterable<Uint8Array> | undefined
  readonly onStdout: (chunk: Buffer) => void | Promise<void>
  readonly onStderr: (chunk: Buffer) => void
  readonly env?: Readonly<Record<string, string>> | undefined
}

type Launch = (command: string, args: readonly string[], options: SpawnOptions & { readonly niceness?: number | undefined }) => ChildProcess

/// The part of fluent-ffmpeg that takes an argument array as it is. See docs/decisions.
interface Spawner {
  setFfmpegPath(path: string): unknown
  _spawnFfmpeg(args: string[], options: object, onStart: (child: ChildProcess) => void, onEnd: (error: Error | null) => void): void
}

/// On Linux the kernel ends ffmpeg when we end, however we end: closing its input or the pipes it
/// reports on does not (measured with 2018 and 5.1: both went on encoding).
const SETPRIV = process.platform === 'linux' ? ['/usr/bin/setpriv', '/bin/setpriv'].find((path) => existsSync(path)) : undefined

const launchFfmpeg: Launch = (command, args, options) => {
  const program = SETPRIV ?? command
  const all = SETPRIV ? ['--pdeathsig', 'KILL', '--', command, ...args] : [...args]
  const spawner = FfmpegCommand() as unknown as Spawner
  let child: ChildProcess | undefined
  let failure: Error | null = null
  // The path is the module's, not the command's; it is read before this call returns.
  spawner.setFfmpegPath(program)
  spawner._spawnFfmpeg(
    all,
    { ...options, stdoutLines: 1 },
    (started) => (child = started),
    (error) => (failure = error),
  )
  if (!child) throw failure ?? new Error(`${program} could not be started`)
  return child
}

const running = new Set<ChildProcess>()
process.once('exit', () => {
  for (const child of running) child.kill('SIGKILL')
})

async function supervise(launch: Launch, command: string, args: readonly string[], options: RunOptions, pipes: Pipes): Promise<Outcome> {
  const cancelled = (): CodedError => new CodedError('cancelled', { what: options.what ?? basename(command) })
  if (options.signal?.aborted) throw cancelled()
  const child = launch(command, args, {
    cwd: options.cwd,
    niceness: options.niceness,
    env: { ...process.env, ...pipes.env, AV_LOG_FORCE_NOCOLOR: '1' },
    stdio: [pipes.feed ? 'pipe' : 'ignore', 'pipe', 'pipe'],
    windowsHide: true,
  })
  running.add(child)
  let reason: { readonly error: unknown } | null = null
  let hardKill: NodeJS.Timeout | undefined
  const stop = (error: unknown): void => {
    reason ??= { error }
    child.kill('SIGTERM')
    hardKill ??= setTimeout(() => child.kill('SIGKILL'), KILL_AFTER_MS)
  }
  const onAbort = (): void => stop(cancelled())
  options.signal?.addEventListener('abort', onAbort, { once: true })
  const ended = new Promise<Outcome>((resolve, reject) => {
    child.once('error', reject)
    child.once('close', (status, signal) => resolve({ status: status ?? -1, signal }))
  })
  ended.catch(() => undefined)
  try {
    child.stderr?.on('data', (chunk: Buffer | string) => pipes.onStderr(typeof chunk === 'string' ? Buffer.from(chunk) : chunk))
    const reading = drain(child, pipes.onStdout).catch(stop)
    const feeding = pipes.feed ? feed(child, pipes.feed).catch(stop) : undefined
    const outcome = await ended
    await reading
    await feeding
    if (reason) throw (reason as { readonly error: unknown }).error
    return outcome
  } finally {
    clearTimeout(hardKill)
    options.signal?.removeEventListener('abort', onAbort)
    running.delete(child)
  }
}

async function drain(child: ChildProcess, onStdout: (chunk: Buffer) => void | Promise<void>): Promise<void> {
  if (!child.stdout) return
  for await (const chunk of child.stdout) await onStdout(chunk as Buffer)
}

/// A program may close its input early (it has had enough); that is its business, not a failure.
async function feed(child: ChildProcess, source: AsyncIterable<Uint8Array> | Iterable<Uint8Array>): Promise<void> {
  const sink = child.stdin!
  let broken = false
  sink.on('error', () => (broken = true))
  child.once('close', () => sink.destroy())
  for await (const chunk of source) {
    if (broken || sink.destroyed) return
    if (sink.write(chunk)) continue
    await new Promise<void>((resolve) => {
      const done = (): void => {
        sink.off('drain', done)
        sink.off('close', done)
        resolve()
      }
      sink.once('drain', done)
      sink.once('close', done)
    })
  }
  sink.end()
}

class LineTail {
  private readonly lines: string[] = []
  private rest = ''
  constructor(
    private readonly limit: number,
    private readonly onLine?: (line: string) => void,
  ) {}
  add(chunk: Buffer): void {
    const parts = (this.rest + chunk.toString('utf8')).split(/\r?\n|\r/)
    this.rest = parts.pop() ?? ''
    for (const line of parts) this.keep(line)
  }
  end(): readonly string[] {
    if (this.rest) this.keep(this.rest)
    this.rest = ''
    return this.lines
  }
  private keep(line: string): void {
    if (!line.trim()) return
    this.onLine?.(line)
    this.lines.push(line)
    if (this.lines.length > this.limit) this.lines.shift()
  }
}

/// Builds differ in whether they end with a failure when the disk is full; the log always says it.
const saysFull = (line: string): boolean => /(^|: )(No space left on device|File too large|Disk quota exceeded)\.?$/i.test(line.trim())
/// Lines that only repeat that something failed.
const HOLLOW =
  /^(\[[^\]]*\] )?(Conversion failed!|Error (while )?(closing|opening|processing|filtering) |Error (re)?initializing|Failed to (inject|set value)|Exiting normally|frame=|size=|video:|Error writing trailer|Nothing was written)/

function failureOf(lines: readonly string[], args: readonly string[], outcome: Outcome): CodedError {
  const said = lines.join('\n')
  const target = (args.at(-1) ?? '').replace(/^file:/, '')
  if (lines.some(saysFull) || outcome.signal === 'SIGXFSZ') return new CodedError('disk-full', { file: target }, { cause: said })
  const telling = lines.findLast((line) => !HOLLOW.test(line)) ?? lines.at(-1)
  const problem = telling ?? (outcome.signal ? `it was ended by ${outcome.signal}` : `it ended with status ${outcome.status} and no word`)
  return new CodedError('ffmpeg-failed', { command: args.join(' '), problem: problem.trim() }, { cause: said })
}
