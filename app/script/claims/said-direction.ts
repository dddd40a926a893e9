import type { MeasureKind } from '../../project/question'
import type { CaseMention } from './case-names'
import { ANGLE_WORDS, DIRECTIONS, NOT_OF_TWO } from './english/direction-words'
import { LEADING_IN } from './english/order-words'
import type { Word } from './language'
import { isStated } from './said-order'
import { UNLIKE } from './word-lists'

export interface SaidMore {
  /// Of which of the two the greater value is said.
  readonly more: 0 | 1
  /// That it is greater is taken back ("not more bent"): it may be as great, or smaller.
  readonly denied: boolean
  /// Of which the words are said, and the words.
  readonly of: 0 | 1
  readonly words: string
}

interface Comparative {
  readonly from: number
  readonly to: number
  readonly up: boolean
}

const ANGLES: ReadonlySet<MeasureKind> = new Set<MeasureKind>(['joint-angle', 'line-lean', 'line-angle', 'separation', 'foot-heading'])

/// Which of two cases a clause says to be more, by words that a kind of measure has for its greater and its smaller values. Null
/// where it says neither for sure: more than one comparative, or one that says nothing of this kind; a case that is not named, or
/// named on both sides of "than"; a statement taken back (but for "not", or "no", right before a comparative with "than"), of change
/// within a case, or of more than the two.
export function saidDirection(words: readonly Word[], kind: MeasureKind, mentions: readonly CaseMention[]): SaidMore | null {
  if (words.some(({ text, root }) => NOT_OF_TWO.has(text) || NOT_OF_TWO.has(root))) return null
  const comparatives = comparativesIn(words, kind)
  const [comparative] = comparatives ?? []
  if (!comparative || comparatives?.length !== 1) return null
  const than = words.findIndex(({ text }) => text === 'than')
  const denied = than >= 0 && isDenied(words, comparative)
  if (!isStated(denied ? words.filter((_, at) => at !== comparative.from - 1) : words)) return null
  if (words.filter(({ text }) => text === 'than').length > 1 || (than >= 0 && than < comparative.to)) return null
  const [left, right] = [mentions.filter(({ to }) => than < 0 || to <= than), mentions.filter(({ from }) => than >= 0 && from > than)]
  const of = left[0]?.which
  if (of === undefined || left.some(({ which }) => which !== of) || right.some(({ which }) => which === of)) return null
  if (
    than >= 0 &&
    !(right[0] && words.slice(than + 1, right[0].from).every(({ text, tags }) => LEADING_IN.has(text) || tags.has('Preposition')))
  )
    return null
  const other = of === 0 ? 1 : 0
  return {
    more: comparative.up ? of : other,
    denied,
    of,
    words: words
      .slice(comparative.from - (denied ? 1 : 0), comparative.to)
      .map(({ text }) => text)
      .join(' '),
  }
}

/// "Not more bent", "no deeper"; "no sooner … than" is of haste.
function isDenied(words: readonly Word[], { from }: Comparative): boolean {
  const before = words[from - 1]?.text
  return words[from]!.apart === 'no' && (before === 'not' || (before === 'no' && words[from]!.text !== 'sooner'))
}

/// The comparatives of a clause; null where one is not understood of this kind.
function comparativesIn(words: readonly Word[], kind: MeasureKind): readonly Comparative[] | null {
  const known = DIRECTIONS[kind]
  const { up, down, moreUp = [], moreDown = [] } = known ?? { up: [], down: [] }
  const angle = ANGLES.has(kind) && words.some(({ root }) => root === 'angle')
  const ups = [...up, ...(angle ? ANGLE_WORDS.up : [])]
  const downs = [...down, ...(angle ? ANGLE_WORDS.down : [])]
  const found: Comparative[] = []
  for (let at = 0; at < words.length; at++) {
    const { text, tags } = words[at]!
    const amount = text === 'less' ? -1 : text === 'more' ? 1 : 0
    const base = (i: number): 1 | -1 | 0 => (among(moreUp, words[i]) ? 1 : among(moreDown, words[i]) ? -1 : 0)
    const [behind, before] = [base(at + 1), base(at - 1)]
    if ((amount !== 0 || ((text === 'further' || text === 'farther') && before !== 0)) && (behind !== 0 || before !== 0)) {
      found.push({ from: behind === 0 ? at - 1 : at, to: behind === 0 ? at + 1 : at + 2, up: (amount || 1) * (behind || before) > 0 })
      if (behind !== 0) at++
    } else if (ups.includes(text) || downs.includes(text)) found.push({ from: at, to: at + 1, up: ups.includes(text) })
    else if (amount !== 0 || tags.has('Comparative') || tags.has('Superlative') || UNLIKE.includes(text)) return null
  }
  return found
}

const among = (roots: readonly string[], word: Word | undefined): boolean =>
  word !== undefined && (roots.includes(word.text) || roots.includes(word.root))
