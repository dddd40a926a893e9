import { onsetsByReference } from '../../app/align/by-reference'
import { SPEECH_RATE } from '../../app/align/cepstra'
import type { SpokenToken } from '../../app/align/spoken-tokens'
import { TAPPED_U, wordsByReference, wordsOfTrace, type TakeWords } from '../../app/align/take-words'
import { traceWords, type Traced } from '../../app/align/trace-words'
import { sentenceRanges } from '../../app/align/word-grammar'
import { joinParts, splitScript, type ScriptPart, type ScriptSplit } from '../../app/align/split-script'
import { levelsOf, snapToRise, speechLevel } from '../../app/align/voiced'
import { CodedError } from '../../app/errors/coded-error'
import type { FfmpegTool } from '../media/find-ffmpeg'
import type { Recogniser } from './find-recogniser'
import { recognise } from './recognise'
import { sayReference, voiceFile } from './reference-voice'
import { asFloats, readSpeech } from './speech-samples'

export interface AlignOptions {
  readonly tool: FfmpegTool
  readonly recogniser: Recogniser | null
  readonly signal?: AbortSignal | undefined
}

/// Finds a known text's words in a take. With a recogniser: which were left out or said again as well; without one, or
/// where it cannot make the words fit, by the reference voice, with its larger u. Rejects with CodedError.
export async function alignTake(path: string, tokens: readonly SpokenToken[], options: AlignOptions): Promise<TakeWords> {
  const take = await readSpeech(options.tool, path, options.signal)
  if (tokens.length === 0 || take.length < 1600) return { by: 'reference', words: [], leftOut: [], repeated: [], other: tokens.length > 0 }
  const { recogniser, signal } = options
  if (recogniser) {
    const traced = await trace(recogniser, tokens, take, { signal })
    if (traced.follows && traced.said.length > tokens.length / 2) return wordsOfTrace(tokens, traced, null)
  }
  // Without either, words are placed by hand.
  if (voiceFile() === null)
    return {
      by: 'reference',
      words: tokens.map(({ word, piece }) => ({ word, piece, onset: null, u: TAPPED_U })),
      leftOut: [],
      repeated: [],
      other: false,
    }
  const onsets = await onsetsFromVoice(take, tokens, options)
  return recogniser ? { ...wordsByReference(tokens, onsets), other: true } : wordsByReference(tokens, onsets)
}

/// Recordings that are longer are not warped onto the reference voice as one, seconds: its memory grows with the square.
const LONGEST_WARPED = 480

/// Takes a recording of a whole script apart where its paragraphs begin. With a recogniser paragraphs may be missing; by the
/// reference voice they cannot be told from others. Rejects with `sound-not-split` where there is no way to find the words.
export async function splitRecording(path: string, parts: readonly ScriptPart[], options: AlignOptions): Promise<ScriptSplit> {
  const take = await readSpeech(options.tool, path, options.signal)
  const { tokens, leaps } = joinParts(parts)
  const level = levelsOf(take)
  if (tokens.length === 0 || level.length === 0)
    return { by: 'reference', pieces: [], missing: parts.map(({ paragraph }) => paragraph), other: true }
  const { recogniser, signal } = options
  if (recogniser) {
    const traced = await trace(recogniser, tokens, take, { leaps, signal })
    if (traced.follows && traced.said.length > 0) return splitScript(parts, wordsOfTrace(tokens, traced, null), level)
  }
  if (voiceFile() === null)
    throw new CodedError('sound-not-split', { file: path, problem: 'neither a recogniser nor the reference voice is installed' })
  if (take.length / SPEECH_RATE > LONGEST_WARPED)
    throw new CodedError('sound-not-split', {
      file: path,
      problem: recogniser
        ? 'its words are not the script’s'
        : `it lasts longer than ${LONGEST_WARPED / 60} minutes, and no recogniser is installed`,
    })
  const found = wordsByReference(tokens, await onsetsFromVoice(take, tokens, options))
  return splitScript(parts, { ...found, other: recogniser !== null }, level)
}

/// What a recogniser hears, onsets put where the sound rises, followed through the script.
async function trace(
  recogniser: Recogniser,
  tokens: readonly SpokenToken[],
  take: Int16Array,
  options: { readonly leaps?: readonly { readonly from: number; readonly to: number }[]; readonly signal?: AbortSignal | undefined },
): Promise<Traced> {
  const heard = await recognise(recogniser, tokens, take, { ...options, skips: true })
  const level = levelsOf(take)
  const least = speechLevel(level)
  return traceWords(
    tokens,
    heard.map((word, i) => ({ ...word, from: snapToRise(word.from, (heard[i + 1]?.from ?? word.to) - 0.02, level, least) })),
  )
}

/// Onsets by the reference voice alone.
async function onsetsFromVoice(take: Int16Array, tokens: readonly SpokenToken[], { tool, signal }: AlignOptions): Promise<number[]> {
  const sentences = sentenceRanges(tokens).map(({ from, to }) => tokens.slice(from, to).map(({ word }) => word))
  const reference = await sayReference(sentences, async (wav) => asFloats(await readSpeech(tool, wav, signal)), signal)
  return onsetsByReference(asFloats(take), reference)
}
