import { spawn, type ChildProcess } from 'node:child_process'
import { resolve } from 'node:path'

/// The built engine on a project, in a process of its own that can be killed.
export interface KillableEngine {
  /// An address for one more window. It is asked for as a person does: by the same command, which finds the engine.
  newAddress(): Promise<string>
  /// Kills the engine and every command that asks it for a window: one that found no engine would become one. Resolves
  /// when all are gone.
  kill(): Promise<unknown>
  /// Its process, and those of commands that asked it.
  readonly pids: readonly number[]
}

export const program = resolve('out/main/cli.js')

/// Null: on none yet. With `limitBytes` no file of its grows beyond that: the system refuses the write, as it does on a full disk.
export async function startEngine(project: string | null, stateFolder: string, limitBytes?: number): Promise<KillableEngine> {
  const running: ChildProcess[] = []
  let dead = false
  const ask = (): Promise<string> => {
    if (dead) return Promise.reject(new Error('the engine is gone'))
    const asked = [process.execPath, program, 'open', ...(project === null ? [] : [project]), '--print', '--json']
    const [command, ...rest] =
      limitBytes === undefined
        ? asked
        : ['/bin/sh', '-c', `trap "" XFSZ; ulimit -f ${Math.floor(limitBytes / 512)}; exec "$@"`, 'sh', ...asked]
    const child = spawn(command!, rest, { env: { ...process.env, CLAIMFRAME_STATE: stateFolder }, stdio: ['ignore', 'pipe', 'ignore'] })
    running.push(child)
    return new Promise((done, failed) => {
      let text = ''
      child.stdout.on('data', (piece: Buffer) => {
        text += piece.toString()
        if (text.includes('\n')) done((JSON.parse(text) as { address: string }).address)
      })
      child.once('exit', () => failed(new Error('ended without an address')))
    })
  }
  const left = [await ask()]
  return {
    newAddress: async () => left.pop() ?? ask(),
    get pids() {
      return running.flatMap(({ pid, exitCode }) => (pid === undefined || exitCode !== null ? [] : [pid]))
    },
    kill() {
      dead = true
      const ended = running
        .filter((each) => each.exitCode === null && each.signalCode === null)
        .map((each) => new Promise((done) => each.once('exit', done)))
      for (const each of running) each.kill('SIGKILL')
      return Promise.all(ended)
    },
  }
}
