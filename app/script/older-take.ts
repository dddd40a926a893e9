import { plainWords } from './plain-words'
import type { Reading } from '../measure/reading'
import type { Paragraph } from '../project/picture'
import { inWords, numberInWords } from './number-words'
import { heardWords } from './pauses'
import { placedValues, type PlacedValue, type Readings } from './spoken-form'

/// The live values that a paragraph's take does not say as they are now, by the words that it was recorded with: each is
/// looked for whole ("nine frames" is not said in "twenty-nine frames") and in the script's order. Of values that cannot all
/// be found, the fewest are named, those whose place the words around speak for least. None where there is no take, or its
/// words are not known; a value without a reading is another matter.
export function olderValues(paragraph: Paragraph, readings: Readings): (PlacedValue & { readonly reading: Reading })[] {
  if (paragraph.take === undefined || paragraph.narration?.words === undefined) return []
  const heard = plainWords(heardWords(paragraph.narration).join(' '))
  const placed = placedValues(paragraph, readings)
  let next = 0
  const runs = paragraph.text.flatMap((inline): Run[] => {
    if (typeof inline === 'object' && 'value' in inline) {
      const value = placed[next++]
      return value ? [{ words: plainWords(inWords(value.said)), value }] : []
    }
    const text = typeof inline === 'string' ? inline : 'cue' in inline ? inline.word : ''
    return plainWords(inWords(text)).map((word) => ({ words: [word], value: null }))
  })
  if (runs.flatMap(({ words }) => words).join(' ') === heard.join(' ')) return []
  const within = (list: readonly Run[]): boolean => list.length * heard.length <= MOST_STEPS
  const values = runs.filter(({ value }) => value !== null)
  const found = within(runs) ? mostInOrder(runs, heard) : within(values) ? mostInOrder(values, heard) : firstInOrder(values, heard)
  return runs.flatMap(({ value }) => {
    const reading = value && !found.has(value) && readings.get(value.value)
    return value && reading ? [{ ...value, reading }] : []
  })
}

/// Words that are said one behind another: a live value's, or one of the script's own.
interface Run {
  readonly words: readonly string[]
  readonly value: PlacedValue | null
}

/// Beyond so many runs times words (2,000 words of 2,000), the words around are left out, and then one way is tried alone.
const MOST_STEPS = 4_000_000

/// More than the words of any paragraph: a value found outweighs them all.
const VALUE_WEIGHT = 100_000

/// Values that are found whole in `heard`, one behind another: as many as can be, then with as many of the words around.
function mostInOrder(runs: readonly Run[], heard: readonly string[]): ReadonlySet<PlacedValue> {
  const width = heard.length + 1
  // From the last run back: the most that can be found from a word on, and where the run is taken for it (-1: it is not).
  const most = new Float64Array((runs.length + 1) * width)
  const taken = new Int32Array(runs.length * width).fill(-1)
  for (let run = runs.length - 1; run >= 0; run--) {
    const { words, value } = runs[run] as Run
    let start: number | null = null
    for (let at = heard.length; at >= 0; at--) {
      if (standsWhole(words, heard, at, at)) start = at
      // Before its own start a numeral that nothing else was found in goes on.
      const from = start !== null && !standsWhole(words, heard, start, at) ? findWhole(words, heard, at) : start
      const without = most[(run + 1) * width + at] ?? 0
      const within = from === null ? -1 : (value ? VALUE_WEIGHT : 1) + (most[(run + 1) * width + from + words.length] ?? 0)
      most[run * width + at] = Math.max(without, within)
      if (within >= without) taken[run * width + at] = from ?? -1
    }
  }
  const found = new Set<PlacedValue>()
  let at = 0
  runs.forEach(({ words, value }, run) => {
    const from = taken[run * width + at] ?? -1
    if (from < 0) return
    if (value) found.add(value)
    at = from + words.length
  })
  return found
}

/// The same, each where it first stands behind the one before.
function firstInOrder(runs: readonly Run[], heard: readonly string[]): ReadonlySet<PlacedValue> {
  const found = new Set<PlacedValue>()
  let at = 0
  for (const { words, value } of runs) {
    const from = findWhole(words, heard, at)
    if (from === null) continue
    if (value) found.add(value)
    at = from + words.length
  }
  return found
}

/// Where a run of words first stands from `at` on; null where it does not.
function findWhole(words: readonly string[], heard: readonly string[], at: number): number | null {
  for (let from = at; from + words.length <= heard.length; from++) if (standsWhole(words, heard, from, at)) return from
  return null
}

/// Whether a run of words stands at `from`, as no part of a longer number; what is before `at` was found for something else.
function standsWhole(words: readonly string[], heard: readonly string[], from: number, at: number): boolean {
  if (!words.every((word, i) => heard[from + i] === word)) return false
  const to = from + words.length
  const goesOn = from > at && isNumeral(words[0]) && (isNumeral(heard[from - 1]) || (heard[from - 1] === 'and' && isScale(heard[from - 2])))
  const runsOn =
    isNumeral(words.at(-1)) && (isNumeral(heard[to]) || (heard[to] === 'and' && isScale(words.at(-1)) && isNumeral(heard[to + 1])))
  return !goesOn && !runsOn
}

const SCALES: ReadonlySet<string> = new Set(['hundred', 'thousand', 'million'])
const NUMERALS: ReadonlySet<string> = new Set([
  ...Array.from({ length: 20 }, (_, i) => numberInWords(String(i))),
  ...[20, 30, 40, 50, 60, 70, 80, 90].map((ten) => numberInWords(String(ten))),
  ...SCALES,
  'point',
  'minus',
])
const isNumeral = (word: string | undefined): boolean => word !== undefined && NUMERALS.has(word)
const isScale = (word: string | undefined): boolean => word !== undefined && SCALES.has(word)
