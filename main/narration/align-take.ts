import { onsetsByReference } from '../../app/align/by-reference'
import { cepstraOf } from '../../app/align/cepstra'
import type { SpokenToken } from '../../app/align/spoken-tokens'
import { TAPPED_U, wordsByReference, wordsOfTrace, type TakeWords } from '../../app/align/take-words'
import { traceWords } from '../../app/align/trace-words'
import { sentenceRanges } from '../../app/align/word-grammar'
import { snapToRise, speechLevel } from '../../app/align/voiced'
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
    const heard = await recognise(recogniser, tokens, take, { skips: true, signal })
    const { level } = cepstraOf(asFloats(take))
    const least = speechLevel(level)
    const snapped = heard.map((word, i) => ({ ...word, from: snapToRise(word.from, (heard[i + 1]?.from ?? word.to) - 0.02, level, least) }))
    const traced = traceWords(tokens, snapped)
    if (traced.follows && traced.said.length > tokens.length / 2) return wordsOfTrace(tokens, traced, null)
  }
  // Without either, words are placed by hand.
  if (voiceFile() === null) return { by: 'reference', words: tokens.map(({ word, piece }) => ({ word, piece, onset: null, u: TAPPED_U })), leftOut: [], repeated: [], other: false }
  const onsets = await onsetsFromVoice(take, tokens, options)
  return recogniser ? { ...wordsByReference(tokens, onsets), other: true } : wordsByReference(tokens, onsets)
}

/// Onsets by the reference voice alone.
export async function onsetsFromVoice(take: Int16Array, tokens: readonly SpokenToken[], { tool, signal }: AlignOptions): Promise<number[]> {
  const sentences = sentenceRanges(tokens).map(({ from, to }) => tokens.slice(from, to).map(({ word }) => word))
  const reference = await sayReference(sentences, async (wav) => asFloats(await readSpeech(tool, wav, signal)), signal)
  return onsetsByReference(asFloats(take), reference)
}
