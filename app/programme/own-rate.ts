import { inverse, Matrix } from 'ml-matrix'
import type { Paragraph, ScriptRow } from '../project/picture'
import { DEFAULT_RATE, SPEAKING_TOLERANCE, speechParts, type SpeakingRate, type SpeechPart } from '../script/speaking-time'
import { wordsOf, type Readings } from '../script/spoken-form'
import { onsetsOfPieces } from './word-times'

/// A person's own speaking rate, from the paragraphs that they have recorded.
export interface OwnRate {
  readonly rate: SpeakingRate
  /// Recorded paragraphs that it rests on; 0: the default stands.
  readonly takes: number
  /// Covariance of seconds per syllable, comma and sentence end; null: the default stands.
  readonly covariance: readonly (readonly number[])[] | null
  /// Scatter of one paragraph's time about the model, 1 σ, as a fraction of the time.
  readonly scatter: number
}

/// Fewer recorded paragraphs say too little [J].
export const FEWEST_TAKES = 3

/// How widely the three constants differ between people, 1 σ in seconds, and the scatter of paragraphs, as
/// if it had been seen on so many of them. Judgements, no source.
const SPREAD = [0.05, 0.15, 0.25] as const
const PRIOR_SCATTER = 0.05
const PRIOR_WEIGHT = 4
/// From fewer syllables a take says more of its aligner than of its speaker.
const FEWEST_SYLLABLES = 6

const PRIOR = [1 / DEFAULT_RATE.syllablesPerSecond, DEFAULT_RATE.comma, DEFAULT_RATE.sentence] as const
const BY_DEFAULT: OwnRate = { rate: DEFAULT_RATE, takes: 0, covariance: null, scatter: SPEAKING_TOLERANCE / 2 }

interface Spoken {
  /// Syllables, commas and sentence ends.
  readonly load: readonly number[]
  readonly seconds: number
}

const loadOf = (parts: readonly SpeechPart[], next: number): number[] => [
  parts.slice(0, next).reduce((sum, { syllables }) => sum + syllables, 0),
  parts.slice(0, next).filter(({ pause }) => pause === 'comma').length,
  parts.slice(0, next).filter(({ pause }) => pause === 'sentence').length,
]
const product = (a: readonly number[], b: readonly number[]): number => a.reduce((sum, x, i) => sum + x * (b[i] ?? 0), 0)

/// From the onset of a paragraph's first word to that of its last: the silence before and behind a take is
/// no speech. Null where the words were not found or are no longer the script's.
function spokenIn(paragraph: Paragraph, readings: Readings): Spoken | null {
  if (paragraph.take === undefined) return null
  const onsets = onsetsOfPieces(paragraph, readings)
  if (!onsets || onsets.size < 2) return null
  const pieces = [...onsets.keys()]
  const first = Math.min(...pieces)
  const last = Math.max(...pieces)
  const parts = speechParts(wordsOf(paragraph, readings).map(({ spoken }) => spoken))
  const load = loadOf(parts.slice(first), last - first)
  const seconds = (onsets.get(last) ?? 0) - (onsets.get(first) ?? 0)
  return load[0]! >= FEWEST_SYLLABLES && seconds > 0 ? { load, seconds } : null
}

function fitted(spoken: readonly Spoken[], scatter: number): { constants: number[]; covariance: number[][] } {
  const precision = Matrix.diag(SPREAD.map((spread) => 1 / spread ** 2))
  const sum = SPREAD.map((spread, i) => PRIOR[i]! / spread ** 2)
  for (const { load, seconds } of spoken) {
    const weight = 1 / (scatter * product(load, PRIOR)) ** 2
    load.forEach((x, i) => {
      sum[i]! += weight * x * seconds
      load.forEach((y, j) => precision.set(i, j, precision.get(i, j) + weight * x * y))
    })
  }
  const covariance = inverse(precision).to2DArray()
  return { constants: covariance.map((row) => product(row, sum)), covariance }
}

function rateFrom(spoken: readonly Spoken[]): OwnRate {
  if (spoken.length < FEWEST_TAKES) return BY_DEFAULT
  const first = fitted(spoken, PRIOR_SCATTER)
  const squares = spoken.reduce(
    (sum, { load, seconds }) => sum + ((seconds - product(load, first.constants)) / product(load, PRIOR)) ** 2,
    0,
  )
  const scatter = Math.sqrt((PRIOR_WEIGHT * PRIOR_SCATTER ** 2 + squares) / (PRIOR_WEIGHT + spoken.length - 3))
  const { constants, covariance } = fitted(spoken, scatter)
  const [syllable = PRIOR[0], comma = 0, sentence = 0] = constants
  return {
    rate: {
      syllablesPerSecond: 1 / Math.min(0.6, Math.max(0.08, syllable)),
      comma: Math.max(0, comma),
      sentence: Math.max(0, sentence),
      paragraph: DEFAULT_RATE.paragraph,
    },
    takes: spoken.length,
    covariance,
    scatter,
  }
}

const kept = new WeakMap<readonly ScriptRow[], { readonly readings: Readings; readonly own: OwnRate }>()

/// Fits the model of speaking time to the paragraphs whose takes' words were found: least squares of relative
/// residuals, held by the default as by a prior (Gaussian, so the estimate is the posterior mean: Gelman and
/// others, Bayesian Data Analysis, ch. 14 [M]). Below `FEWEST_TAKES` it is the default. The pause behind a
/// paragraph is not in its take and stays the default's.
export function ownRate(script: readonly ScriptRow[], readings: Readings): OwnRate {
  const known = kept.get(script)
  if (known?.readings === readings) return known.own
  const own = rateFrom(script.flatMap((row) => ('text' in row ? (spokenIn(row, readings) ?? []) : [])))
  kept.set(script, { readings, own })
  return own
}

/// How long a paragraph's sound should take, seconds, with U (95 %): of the constants and of one
/// paragraph's own scatter; `SPEAKING_TOLERANCE` of the time while the default stands.
export function expectedSound(paragraph: Paragraph, readings: Readings, own: OwnRate): { readonly seconds: number; readonly U: number } {
  const parts = speechParts(wordsOf(paragraph, readings).map(({ spoken }) => spoken))
  if (parts.length === 0) return { seconds: 0, U: 0 }
  const load = loadOf(parts, parts.length - 1)
  load[0]! += parts.at(-1)?.syllables ?? 0
  const seconds = product(load, [1 / own.rate.syllablesPerSecond, own.rate.comma, own.rate.sentence])
  const shared = own.covariance
    ? product(
        load,
        own.covariance.map((row) => product(row, load)),
      )
    : 0
  return { seconds, U: 2 * Math.sqrt(shared + (own.scatter * seconds) ** 2) }
}
