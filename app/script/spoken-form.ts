import type { Reading } from '../measure/reading'
import type { Inline, Paragraph, ValueForm } from '../project/picture'
import { behindWords, saidAs, shownAs } from './value-form'
import { inWords, numberPhrasesOf } from './number-words'

/// A paragraph's words as they are said and as captions show them. Notes are in neither.

/// Readings by the id of their measure.
export type Readings = ReadonlyMap<string, Reading>

/// What stands where a live value points at no reading; a finding names it.
export const MISSING_VALUE = '[no value]'

/// One unbreakable piece of a paragraph between two white spaces. A number keeps its sign, its
/// error and its unit; a live value is one piece.
export interface ScriptWord {
  /// As captions show it, punctuation included: "142° ± 12°,".
  readonly shown: string
  /// As it is said, numbers and units in words: "about one hundred and forty-two degrees,".
  readonly spoken: string
  /// Its characters in `shownText`.
  readonly from: number
  readonly to: number
  /// Events whose cue word begins in this piece.
  readonly cues: readonly string[]
  /// Whether it holds a live value.
  readonly value: boolean
}

/// A live value among a paragraph's words.
export interface ValueInline {
  readonly value: string
  readonly form?: ValueForm | undefined
}

/// A live value as captions show it, in its form, behind the words `before` of its sentence.
export function shownValue({ value, form }: ValueInline, readings: Readings, before: string): string {
  const reading = readings.get(value)
  return behindWords(before, (reading && shownAs(reading, form)) || MISSING_VALUE)
}

/// A live value as it is said, in its form, behind the words `before`: "about 145 degrees".
function saidValue({ value, form }: ValueInline, readings: Readings, before: string): string {
  const reading = readings.get(value)
  return behindWords(before, (reading && saidAs(reading, form)) || 'no value')
}

/// A live value in its place, as captions show it there and as it is said there.
export interface PlacedValue extends ValueInline {
  readonly shown: string
  readonly said: string
}

/// A paragraph's live values in order.
export const placedValues = (paragraph: Pick<Paragraph, 'text'>, readings: Readings): readonly PlacedValue[] =>
  flatten(paragraph.text, readings).placed

const oneLine = (text: string): string => text.replace(/[\s\u0085]+/gu, ' ')

interface Atom {
  readonly from: number
  readonly to: number
  readonly spoken: string
  readonly value: boolean
}

/// Hedges that stay with the number behind them.
const HEDGES: readonly string[] = [
  'about',
  'around',
  'roughly',
  'nearly',
  'almost',
  'approximately',
  'approx.',
  'probably',
  'at least',
  'at most',
  'up to',
  'over',
  'under',
  'more than',
  'less than',
]
const HEDGE = new RegExp(`(?<![\\p{L}\\p{N}])(?:${HEDGES.map((hedge) => hedge.replace('.', '\\.')).join('|')}) (?:≈ ?)?$`, 'iu')

function withHedge(text: string, atom: Atom): Atom {
  const hedge = HEDGE.exec(text.slice(Math.max(0, atom.from - 24), atom.from))?.[0] ?? ''
  return hedge === '' ? atom : { ...atom, from: atom.from - hedge.length, spoken: inWords(hedge) + atom.spoken }
}

/// A live value longer than this may break between its words, never inside its number.
const LONGEST_UNBROKEN = 24

function atomsOfValue(at: number, shown: string, spoken: string): Atom[] {
  if (shown.length <= LONGEST_UNBROKEN) return [{ from: at, to: at + shown.length, spoken, value: true }]
  const pieces = [...shown.matchAll(/\S+/gu)].map((match) => ({ from: match.index, to: match.index + match[0].length }))
  // With the marks that stand close to it, "2 frames)": they are part of the value, and said with it.
  const number = numberPhrasesOf(shown)
    .map((phrase) => withHedge(shown, { ...phrase, value: true }))
    .map((phrase) => ({
      ...phrase,
      to: pieces.find(({ from, to }) => from < phrase.to && to > phrase.to)?.to ?? phrase.to,
      from: pieces.find(({ from, to }) => from < phrase.from && to > phrase.from)?.from ?? phrase.from,
    }))
    .at(-1)
  const outside = pieces.filter((piece) => !number || piece.to <= number.from || piece.from >= number.to)
  const last = number ?? outside.at(-1)
  return [...(number ? outside : outside.slice(0, -1)), ...(last ? [last] : [])]
    .sort((a, b) => a.from - b.from)
    .map((piece) => ({ from: at + piece.from, to: at + piece.to, spoken: piece === last ? spoken : '', value: true }))
}

interface Flat {
  readonly text: string
  readonly atoms: readonly Atom[]
  readonly cues: readonly { readonly event: string; readonly at: number }[]
  readonly placed: readonly PlacedValue[]
}

function flatten(inlines: readonly Inline[], readings: Readings): Flat {
  let text = ''
  const values: Atom[] = []
  const placed: PlacedValue[] = []
  const cues: { event: string; at: number }[] = []
  for (const inline of inlines) {
    if (typeof inline === 'string') text += oneLine(inline)
    else if ('cue' in inline) {
      cues.push({ event: inline.cue, at: text.length })
      text += oneLine(inline.word)
    } else if ('value' in inline) {
      const shown = oneLine(shownValue(inline, readings, text))
      const said = saidValue(inline, readings, text)
      placed.push({ ...inline, shown, said })
      values.push(...atomsOfValue(text.length, shown, inWords(said)))
      text += shown
    }
  }
  const typed = numberPhrasesOf(text)
    .filter((phrase) => values.every((value) => phrase.to <= value.from || phrase.from >= value.to))
    .map((phrase): Atom => ({ ...phrase, value: false }))
  const atoms = [...values, ...typed].sort((a, b) => a.from - b.from)
  return {
    text,
    atoms: atoms.map((atom, i) => (i > 0 && (atoms[i - 1]?.to ?? 0) > atom.from - 2 ? atom : withHedge(text, atom))),
    cues,
    placed,
  }
}

/// The paragraph in pieces that a line break must not split, in order.
export function wordsOf(paragraph: Paragraph, readings: Readings): ScriptWord[] {
  const { text, atoms, cues } = flatten(paragraph.text, readings)
  const words: ScriptWord[] = []
  let start = -1
  let shownAt = 0
  let next = 0
  const close = (end: number): void => {
    if (start < 0) return
    const inside = atoms.filter((atom) => atom.from < end && atom.to > start)
    let spoken = ''
    let at = start
    for (const atom of inside) {
      spoken += inWords(text.slice(at, atom.from)) + atom.spoken
      at = atom.to
    }
    spoken += inWords(text.slice(at, end))
    const [from, shown] = [start, text.slice(start, end)]
    words.push({
      shown,
      spoken: spoken.replace(/ {2,}/g, ' ').trim(),
      from: shownAt,
      to: shownAt + shown.length,
      cues: cues.filter((cue) => cue.at >= from && cue.at < end).map((cue) => cue.event),
      value: inside.some((atom) => atom.value),
    })
    shownAt += shown.length + 1
    start = -1
  }
  for (let i = 0; i < text.length; i++) {
    while (next < atoms.length && (atoms[next]?.to ?? 0) <= i) next++
    const atom = atoms[next]
    const within = atom !== undefined && atom.from <= i
    if (text[i] === ' ' && !within) close(i)
    else if (start < 0) start = i
  }
  close(text.length)
  return marksWithWords(words)
}

/// What closes a sentence behind words that are shown and not said is said with the last word that is: "by thirteen." and not "by
/// thirteen .".
function marksWithWords(words: readonly ScriptWord[]): ScriptWord[] {
  const said = [...words]
  for (const [i, word] of said.entries()) {
    if (!/^[.,;:!?…]+$/u.test(word.spoken)) continue
    const before = said.findLastIndex(({ spoken }, at) => at < i && spoken !== '')
    if (before < 0) continue
    said[before] = { ...said[before]!, spoken: said[before]!.spoken + word.spoken }
    said[i] = { ...word, spoken: '' }
  }
  return said
}

/// The paragraph as it is said: live values in their spoken form, numbers and units in words.
export const spokenText = (paragraph: Paragraph, readings: Readings): string =>
  wordsOf(paragraph, readings)
    .map((word) => word.spoken)
    .filter((spoken) => spoken !== '')
    .join(' ')

/// The paragraph as captions show it: live values with their error, hedges kept, one space between pieces.
export const shownText = (paragraph: Paragraph, readings: Readings): string =>
  wordsOf(paragraph, readings)
    .map((word) => word.shown)
    .join(' ')
