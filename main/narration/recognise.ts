import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { SpokenToken } from '../../app/align/spoken-tokens'
import { phonesOf, readDictionary, readHeard, writeDictionary, writeGrammar } from '../../app/align/word-grammar'
import { SPEECH_RATE } from '../../app/align/cepstra'
import { runProgram } from '../media/process'
import { wavHead } from '../media/wav-head'
import type { Recogniser } from './find-recogniser'
import { soundsOf } from './reference-voice'

let dictionary: { readonly file: string; readonly words: Map<string, string[]> } | null = null

/// What a recogniser hears of exactly these words in a take: each with its times, in the order said. `skips`: words may
/// be left out and sentences said again, `leaps`: these runs as a whole. Empty where it cannot make the words fit.
export async function recognise(
  recogniser: Recogniser,
  tokens: readonly SpokenToken[],
  take: Int16Array,
  options: {
    readonly skips: boolean
    readonly leaps?: readonly { readonly from: number; readonly to: number }[] | undefined
    readonly signal?: AbortSignal | undefined
  },
): Promise<{ word: string; from: number; to: number }[]> {
  const variants = await pronunciations(recogniser, tokens, options.signal)
  const folder = await mkdtemp(join(tmpdir(), 'claimframe-words-'))
  try {
    const samples = withFloor(take)
    const bytes = Buffer.from(samples.buffer, samples.byteOffset, samples.byteLength)
    await writeFile(join(folder, 'take.wav'), Buffer.concat([wavHead(bytes.length, SPEECH_RATE), bytes]))
    await writeFile(join(folder, 'words.fsg'), writeGrammar(tokens, options.skips, options.leaps))
    await writeFile(
      join(folder, 'dict'),
      writeDictionary(tokens, (word) => variants.get(word) ?? []),
    )
    await writeFile(join(folder, 'ctl'), 'take\n')
    await writeFile(join(folder, 'fsgctl'), 'words\n')
    const ran = await runProgram(recogniser.program, argumentsOf(recogniser), {
      cwd: folder,
      signal: options.signal,
      what: 'finding the words',
    })
    const heard = await readFile(join(folder, 'hypseg'), 'utf8').catch(() => '')
    if (ran.status !== 0)
      throw new Error(
        `the recogniser failed (${ran.status}): ${(await readFile(join(folder, 'log'), 'utf8').catch(() => ran.stderr)).slice(-400)}`,
      )
    return readHeard(heard.split('\n')[0] ?? '')
  } finally {
    await rm(folder, { recursive: true, force: true })
  }
}

/// The recipe was measured on 162 synthesised files; silence removal, which is on by default, spoils every time behind it.
const argumentsOf = ({ model }: Recogniser): string[] => [
  '-hmm',
  model,
  '-dict',
  'dict',
  '-ctl',
  'ctl',
  '-fsgctl',
  'fsgctl',
  '-fsgdir',
  '.',
  '-fsgext',
  '.fsg',
  '-cepdir',
  '.',
  '-cepext',
  '.wav',
  '-adcin',
  'yes',
  '-adchdr',
  '44',
  '-hyp',
  'hyp',
  '-hypseg',
  'hypseg',
  '-logfn',
  'log',
  '-remove_silence',
  'no',
  '-remove_noise',
  'no',
  '-cmn',
  'batch',
  '-dither',
  'yes',
  '-seed',
  '1',
  '-bestpath',
  'no',
  '-beam',
  '1e-100',
  '-pbeam',
  '1e-100',
  '-wbeam',
  '1e-80',
  '-lpbeam',
  '1e-80',
  '-maxhmmpf',
  '-1',
  '-silprob',
  '0.1',
  '-fillprob',
  '1e-6',
  '-lw',
  '1',
  '-wip',
  '1',
  '-pip',
  '1',
]

/// Every variant of the model's own dictionary; what it lacks as the reference voice sounds it.
async function pronunciations(
  recogniser: Recogniser,
  tokens: readonly SpokenToken[],
  signal?: AbortSignal,
): Promise<Map<string, string[]>> {
  if (dictionary?.file !== recogniser.dictionary)
    dictionary = { file: recogniser.dictionary, words: readDictionary(await readFile(recogniser.dictionary, 'utf8')) }
  const { words } = dictionary
  const lacking = [...new Set(tokens.map(({ word }) => word))].filter((word) => !words.has(word))
  const sounded = lacking.length > 0 ? await soundsOf(lacking, signal) : new Map<string, string[]>()
  return new Map(tokens.map(({ word }) => [word, words.get(word) ?? [phonesOf(sounded.get(word) ?? ['ax'])]]))
}

/// Digital silence makes it hear words left out that were said: noise at about −50 dBFS goes under a take that is
/// quieter than that anywhere (4 ms and more of nothing). Seeded, so the same take gives the same words.
function withFloor(take: Int16Array): Int16Array {
  let still = 0
  let silent = false
  for (const sample of take) {
    still = sample === 0 ? still + 1 : 0
    if (still >= 64) silent = true
  }
  if (!silent) return take
  let state = 0x2545f491
  return take.map((sample) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return Math.max(-32768, Math.min(32767, sample + Math.round((state / 2 ** 32 - 0.5) * 2 * FLOOR)))
  })
}

/// Peak of even noise with −50 dBFS of power.
const FLOOR = 32768 * 10 ** (-50 / 20) * Math.sqrt(3)
