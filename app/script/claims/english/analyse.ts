import nlp from 'compromise/two'
import type { Word } from '../language'

interface Term {
  readonly text: string
  readonly pre: string
  readonly post: string
  readonly normal: string
  readonly root?: string
  readonly tags?: readonly string[]
}

/// Contractions written out before the words are looked at; "let's" is kept apart from "let".
const CONTRACTIONS: readonly (readonly [RegExp, string])[] = [
  [/\b(ca)n't\b/giu, 'can not'],
  [/\b(wo)n't\b/giu, 'will not'],
  [/\b(sha)n't\b/giu, 'shall not'],
  [/n't\b/giu, ' not'],
  [/\blet's\b/giu, 'let us'],
  [/\b(he|she|it|that|this|there|here|what|where|who|how|when|why|one|everything|nothing)'s\b/giu, '$1 is'],
  [/'re\b/giu, ' are'],
  [/'ve\b/giu, ' have'],
  [/'ll\b/giu, ' will'],
  [/'d\b/giu, ' would'],
  [/'m\b/giu, ' am'],
  // "Shoulder's late", "the jab's out", "her head's way over there": before what no owner has.
  [
    /(\p{L})'s(?= (?:late|early|first|last|out|in|on|off|up|down|still|already|gone|not|just|way|all|too|so|over|under|ahead|behind|\p{L}+ing)\b)/giu,
    '$1 is',
  ],
]

/// The sides of a body, which the parts of speech take for forms of "leave".
const SIDES: ReadonlySet<string> = new Set(['left', 'right'])

const SENTENCE_END = /[.!?…]/u
const CLAUSE_END = /[,;:–—()"“”]| - /u

/// Words by compromise (MIT): plain forms, parts of speech. Deterministic, no network, no state.
export function analyseEnglish(text: string): readonly Word[] {
  let plain = text
    .replaceAll('’', "'")
    .replace(/\s+/gu, ' ')
    .replace(/(\p{L})-(\p{L})/gu, '$1 $2')
  for (const [from, to] of CONTRACTIONS) plain = plain.replace(from, to)
  const view = nlp(plain)
  view.compute('root')
  const sentences = view.json({ text: false }) as readonly { readonly terms: readonly Term[] }[]
  const words: Word[] = []
  let apart: Word['apart'] = 'sentence'
  for (const { terms } of sentences) {
    for (const term of terms) {
      const shown = (term.normal || term.text).toLowerCase().replace(/^[^\p{L}\p{N}%°±]+|[^\p{L}\p{N}%°]+$/gu, '')
      if (CLAUSE_END.test(term.pre) && apart === 'no') apart = 'clause'
      if (shown !== '') {
        words.push({
          text: shown,
          root: SIDES.has(shown) ? shown : (term.root ?? shown).toLowerCase(),
          tags: new Set(term.tags ?? []),
          apart,
        })
        apart = 'no'
      }
      if (SENTENCE_END.test(term.post)) apart = 'sentence'
      else if (apart === 'no' && CLAUSE_END.test(term.post)) apart = 'clause'
    }
    apart = 'sentence'
  }
  return words
}
