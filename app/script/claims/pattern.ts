import type { Word } from './language'

/// Patterns of words, as rules have them. A pattern is a row of parts with spaces between:
/// - `word`: this word, or any form of it; `=word`: only as written
/// - `#Tag`: a word of this part of speech; `@list`: one entry of a named list
/// - `a|#B|@c`: one of several; `x?`: may be missing; `!x`: the word here is none of these (it is not taken)
/// - `..`: up to four words in between, `...`: up to twelve; neither across a sentence's end
/// - `x&#Tag`: this word (or the last of a list's entry), used as that part of speech
/// - `^` and `$`: begin and end of a sentence; `,`: a comma, colon, dash or the like stands here, `,?`: may stand here
/// Words that follow each other in a pattern stand in one clause, unless a gap or a comma is between them.
export type Pattern = readonly Part[]

interface Part {
  readonly kind: 'word' | 'not' | 'gap' | 'start' | 'end' | 'comma' | 'perhaps'
  readonly choices: readonly Choice[]
  readonly optional: boolean
  readonly gap: number
}
type Choice = { readonly tag: string } | { readonly words: readonly string[]; readonly exact: boolean; readonly as: string | null }

/// Throws (RangeError) for a list that is not there and for a part that is empty.
export function readPattern(text: string, lists: Readonly<Record<string, readonly string[]>>): Pattern {
  return text.split(' ').map((part): Part => {
    const plain = { choices: [], optional: false, gap: 0 }
    if (part === '..' || part === '...') return { ...plain, kind: 'gap', gap: part.length === 2 ? 4 : 12 }
    if (part === '^') return { ...plain, kind: 'start' }
    if (part === '$') return { ...plain, kind: 'end' }
    if (part === ',') return { ...plain, kind: 'comma' }
    if (part === ',?') return { ...plain, kind: 'perhaps' }
    const optional = part.endsWith('?')
    const not = part.startsWith('!')
    const choices = part
      .slice(not ? 1 : 0, optional ? -1 : undefined)
      .split('|')
      .flatMap((alternative): Choice[] => {
        const [choice = '', as = null] = alternative.split('&#')
        if (choice === '') throw new RangeError(`an empty part in “${text}”`)
        if (choice.startsWith('#')) return [{ tag: choice.slice(1) }]
        if (!choice.startsWith('@'))
          return [choice.startsWith('=') ? { words: [choice.slice(1)], exact: true, as } : { words: [choice], exact: false, as }]
        const list = lists[choice.slice(1)]
        if (!list) throw new RangeError(`no list ${choice} for “${text}”`)
        return list.map((entry) => ({ words: entry.split(' '), exact: false, as }))
      })
    return { kind: not ? 'not' : 'word', choices, optional, gap: 0 }
  })
}

/// Where a pattern is first found: words `from` to `to` (excluded); null where it is not.
export function findPattern(pattern: Pattern, words: readonly Word[]): { readonly from: number; readonly to: number } | null {
  for (let from = 0; from <= words.length; from++) {
    const to = matchFrom(pattern, 0, words, from, true)
    if (to !== null) return { from, to }
  }
  return null
}

const startsSentence = (words: readonly Word[], at: number): boolean => at === 0 || words[at]?.apart === 'sentence'
const endsSentence = (words: readonly Word[], at: number): boolean => at === words.length || words[at]?.apart === 'sentence'

/// `free`: the next word may begin a clause.
function matchFrom(pattern: Pattern, part: number, words: readonly Word[], at: number, free: boolean): number | null {
  const now = pattern[part]
  if (!now) return at
  const next = (to: number, on = false): number | null => matchFrom(pattern, part + 1, words, to, on)
  switch (now.kind) {
    case 'start':
      return at < words.length && startsSentence(words, at) ? next(at, true) : null
    case 'end':
      return endsSentence(words, at) ? next(at) : null
    case 'comma':
      return at > 0 && at < words.length && words[at]?.apart !== 'no' ? next(at, true) : null
    case 'perhaps':
      return next(at, true)
    case 'not':
      return takes(now.choices, words, at).length === 0 ? next(at, free) : null
    case 'gap':
      for (let to = at; to <= Math.min(words.length, at + now.gap); to++) {
        if (to > at && to - 1 > at && words[to - 1]?.apart === 'sentence') return null
        const found = next(to, true)
        if (found !== null) return found
      }
      return null
    case 'word': {
      if (!free && at < words.length && words[at]?.apart !== 'no') return now.optional ? next(at, free) : null
      for (const to of takes(now.choices, words, at)) {
        const found = next(to)
        if (found !== null) return found
      }
      return now.optional ? next(at, free) : null
    }
  }
}

/// Where each choice that fits here would lead.
function takes(choices: readonly Choice[], words: readonly Word[], at: number): number[] {
  const ends = new Set<number>()
  for (const choice of choices) {
    if ('tag' in choice) {
      if (words[at]?.tags.has(choice.tag)) ends.add(at + 1)
      continue
    }
    const fits = choice.words.every((wanted, i) => {
      const word = words[at + i]
      return (
        word !== undefined &&
        (i === 0 || word.apart !== 'sentence') &&
        (word.text === wanted || (!choice.exact && word.root === wanted)) &&
        (choice.as === null || i < choice.words.length - 1 || word.tags.has(choice.as))
      )
    })
    if (fits) ends.add(at + choice.words.length)
  }
  return [...ends].sort((a, b) => b - a)
}
