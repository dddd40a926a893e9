import { spawn, type ChildProcess } from 'node:child_process'
import { existsSync } from 'node:fs'
import { resolve } from 'node:path'

/// The built command line, run as a person runs it.

const CLI = resolve('out/main/cli.js')

export interface Outcome {
  readonly status: number | null
  readonly signal: NodeJS.Signals | null
  readonly stdout: string
  readonly stderr: string
}

export interface Started {
  readonly child: ChildProcess
  readonly outcome: Promise<Outcome>
}

/// Starts a command without waiting for it. Throws when the program has not been built.
export function startCommand(
  args: readonly string[],
  options: { readonly cwd?: string; readonly env?: Readonly<Record<string, string>>; readonly limitBytes?: number } = {},
): Started {
  if (!existsSync(CLI)) throw new Error(`${CLI} is not there: run npm run build first`)
  const command =
    options.limitBytes === undefined
      ? [process.execPath, CLI, ...args]
      : ['/bin/sh', '-c', `ulimit -f ${Math.floor(options.limitBytes / 512)}; exec "$@"`, 'sh', process.execPath, CLI, ...args]
  const child = spawn(command[0]!, command.slice(1), {
    cwd: options.cwd,
    env: { ...process.env, ...options.env },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let stdout = ''
  let stderr = ''
  child.stdout!.on('data', (chunk: Buffer) => (stdout += chunk.toString()))
  child.stderr!.on('data', (chunk: Buffer) => (stderr += chunk.toString()))
  const outcome = new Promise<Outcome>((done, fail) => {
    child.on('error', fail)
    child.on('close', (status, signal) => done({ status, signal, stdout, stderr }))
  })
  return { child, outcome }
}

export const runCommand = (args: readonly string[], options: Parameters<typeof startCommand>[1] = {}): Promise<Outcome> =>
  startCommand(args, options).outcome
