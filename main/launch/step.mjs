import { spawn } from 'node:child_process'
import { createWriteStream, mkdirSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

/// The project's folder, absolute.
export const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..')

/// A line of progress, on stderr: results alone go to stdout.
/** @param {string} line */
export function say(line) {
  process.stderr.write(line + '\n')
}

/// How long something took, for people: `8 s`, `2 min 5 s`.
/** @param {number} milliseconds */
export function duration(milliseconds) {
  const seconds = Math.round(milliseconds / 1000)
  return seconds < 60 ? `${seconds} s` : `${Math.floor(seconds / 60)} min ${seconds % 60} s`
}

/// Runs a command in the project's folder.
/// With a `log`, what it prints goes to that file, and a line every 15 s says that it is still at work;
/// without, it prints where we print. Never throws: a command that cannot be started has status 127.
/**
 * @param {string} command
 * @param {readonly string[]} args
 * @param {{ log?: string, doing?: string, env?: Record<string, string | undefined>, shell?: boolean }} [options]
 * @returns {Promise<{ status: number, output: string }>}
 */
export function run(command, args, options = {}) {
  return new Promise((resolve) => {
    const started = Date.now()
    const { log, doing } = options
    const child = spawn(command, args, {
      cwd: root,
      env: { ...process.env, ...(options.log === undefined ? {} : { NO_COLOR: '1' }), ...options.env },
      shell: options.shell ?? false,
      stdio: log === undefined ? 'inherit' : ['ignore', 'pipe', 'pipe'],
    })
    /** @type {string[]} */
    const kept = []
    /** @type {import('node:fs').WriteStream | undefined} */
    let file
    if (log !== undefined) {
      mkdirSync(dirname(log), { recursive: true })
      // A log that cannot be written (a full disk) does not stop the work.
      file = createWriteStream(log).on('error', () => undefined)
      for (const stream of [child.stdout, child.stderr])
        stream?.on('data', (piece) => {
          kept.push(String(piece))
          file?.write(piece)
        })
    }
    const ticking = doing === undefined ? undefined : setInterval(() => say(`  ${doing} … ${duration(Date.now() - started)}`), 15_000)
    const stop = (/** @type {NodeJS.Signals} */ signal) => child.kill(signal)
    process.once('SIGINT', stop).once('SIGTERM', stop)
    /** @param {number} status */
    const finish = (status) => {
      clearInterval(ticking)
      process.off('SIGINT', stop).off('SIGTERM', stop)
      const answer = { status, output: kept.join('') }
      if (file === undefined) resolve(answer)
      else file.end(() => resolve(answer))
    }
    child.once('error', (error) => {
      kept.push(error.message)
      finish(127)
    })
    child.once('close', (status, signal) => finish(status ?? (signal === null ? 1 : 130)))
  })
}
