import { ASKING, CASE, CLAUSE_ENDS, EMPTY, JOINED, VANTAGE } from './english/open-words'
import { OPEN, wordIn } from './word-lists'

/// What a sentence says for sure and what it leaves open, clause by clause, as text.
export interface Openness {
  /// Clauses that state something.
  readonly firm: readonly string[]
  /// Clauses that say themselves that something cannot be told.
  readonly open: readonly string[]
  /// Of those, clauses that name another case and nothing else: "in the second it is unclear". They leave open what the
  /// sentence is about, for that case.
  readonly elsewhere: readonly string[]
}

/// Words of openness leave open what their own clause is about. Where it names nothing of its own ("but that cannot be
/// told"), they are about the whole sentence; and clauses that only ask ("how far it turns") are firm in no sentence that
/// has such words. Without such words the sentence is one firm text.
export function opennessOf(text: string): Openness {
  if (!wordIn(text, OPEN)) return { firm: [text], open: [], elsewhere: [] }
  const clauses = clausesOf(text)
  const open = clauses.filter((clause) => wordIn(clause, OPEN))
  if (open.length === 0 || open.some((clause) => ownWords(clause.replace(CASE, ' ')).length === 0 && !CASE_ONCE.test(clause)))
    return { firm: [], open: [text], elsewhere: [] }
  return {
    firm: clauses.filter((clause) => !open.includes(clause) && !ASKING.test(clause)),
    open,
    elsewhere: open.filter((clause) => ownWords(clause.replace(CASE, ' ')).length === 0),
  }
}

const CASE_ONCE = new RegExp(CASE.source, 'iu')

/// The clauses of a sentence. ", and …" begins one, unless what is open stands behind a comma of its own and so speaks of
/// what is before it as well ("the order, and the amount, cannot be told").
function clausesOf(text: string): readonly string[] {
  return splitAtEnds(text)
    .flatMap((clause) =>
      clause.split(',').some((piece) => wordIn(piece, OPEN) !== null && ownWords(piece).length === 0) ? [clause] : clause.split(JOINED),
    )
    .map((clause) => clause.trim())
    .filter((clause) => clause !== '')
}

const splitAtEnds = (text: string): readonly string[] =>
  CLAUSE_ENDS.reduce<readonly string[]>((parts, end) => parts.flatMap((part) => part.split(end)), [text])

/// What a sentence states, clause by clause: what it leaves open is not among it, nor what it asks.
export const statementsOf = (text: string): readonly string[] =>
  opennessOf(text)
    .firm.flatMap(splitAtEnds)
    .filter((clause) => clause.trim() !== '' && !ASKING.test(clause.trim()))

/// What a clause is about, but for its words of openness, where one looks from, and words that name nothing.
function ownWords(clause: string): readonly string[] {
  const plain = clause.replaceAll('\u2019', "'").replace(VANTAGE, ' ')
  const rest = OPEN.reduce((left, words) => left.replace(new RegExp(`(?<!\\p{L})${words}(?!\\p{L})`, 'giu'), ' '), plain)
  return (rest.toLowerCase().match(/[\p{L}\uFFFC][\p{L}']*/gu) ?? []).filter((word) => !EMPTY.has(word))
}
