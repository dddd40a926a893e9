import type { Paragraph } from '../project/picture'
import { plainWords } from '../script/plain-words'
import { wordsOf, type Readings, type ScriptWord } from '../script/spoken-form'

/// One word as it is said.
export interface SpokenToken {
  /// Lower case letters a–z and apostrophes only: what a pronouncing dictionary knows words by.
  readonly word: string
  /// The piece of `wordsOf` that it belongs to.
  readonly piece: number
  /// Number of its sentence, from 0.
  readonly sentence: number
}

const ENDS_SENTENCE = /[.!?…][)"'”’\]]*$/u

/// The words of a paragraph's pieces as they are said, in order.
export function tokensOf(pieces: readonly Pick<ScriptWord, 'spoken'>[]): SpokenToken[] {
  const tokens: SpokenToken[] = []
  let sentence = 0
  pieces.forEach(({ spoken }, piece) => {
    for (const word of plainWords(spoken)) tokens.push({ word, piece, sentence })
    if (ENDS_SENTENCE.test(spoken)) sentence++
  })
  return tokens
}

export const spokenTokens = (paragraph: Paragraph, readings: Readings): SpokenToken[] => tokensOf(wordsOf(paragraph, readings))
