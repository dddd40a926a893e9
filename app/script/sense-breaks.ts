/// Where a line of speech may be broken, and how badly a break there reads. Word lists as data;
/// the costs are our own judgement after subtitling practice (break at the end of a sentence, else
/// of a clause, else of a phrase; never behind an article; common practice, no single source).

const words = (text: string): ReadonlySet<string> => new Set(text.split(' '))

/// Words that begin a clause: a break before them reads well.
const CLAUSE_OPENERS = words(
  'and but or nor so because while when whenever then as that which who whose if than before after until unless since although though where whereas',
)
/// Words that begin a phrase: a break before them is good enough.
const PHRASE_OPENERS = words(
  'at in on with without from to into onto over under by through across along against behind between beyond during for of off out past toward towards up down around about above below near here there now',
)
/// Words that lean on the next one: a break behind them reads badly.
const LEANING = words(
  'a an the this that these those his her its their our your my each every both no not very more most less than and or but nor of to at in on with from into onto by for as is are was were be been has have had can could may might will would shall should must do does did if when while because which who',
)

const SENTENCE_BREAK = 0

const bare = (word: string): string => word.toLowerCase().replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, '')

/// How badly a break between two neighbouring pieces reads: 0 after a sentence, about 2 at a
/// clause, 4 at a phrase, 7 elsewhere, up to 13 behind a word that leans on the next.
export function breakCost(before: string, after: string): number {
  if (/[.!?…][)"'”’\]]*$/u.test(before)) return SENTENCE_BREAK
  if (/[;:—–][)"'”’\]]*$/u.test(before)) return 1
  if (/[,)\]][)"'”’\]]*$/u.test(before)) return 1.5
  const [left, right] = [bare(before), bare(after)]
  return openingCost(right, after) + (LEANING.has(left) ? 6 : 0)
}

function openingCost(word: string, written: string): number {
  if (CLAUSE_OPENERS.has(word)) return 3
  if (PHRASE_OPENERS.has(word)) return 4
  return /^[("“‘[]/u.test(written) ? 3 : 7
}
