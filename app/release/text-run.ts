import { htmlText } from './plain-text'

/// How a run of text stands: as the rich text of the Citation Style Language has it (CSL 1.0.2, "Rich text markup within
/// fields").
export type RunStyle = 'italic' | 'bold' | 'superscript' | 'subscript' | 'small-caps'

/// Text that stands one way throughout. Whatever it holds is text: signs of markup as well.
export interface TextRun {
  readonly text: string
  readonly as: readonly RunStyle[]
}

const TAGS: Readonly<Record<RunStyle, readonly [string, string]>> = {
  italic: ['<i>', '</i>'],
  bold: ['<b>', '</b>'],
  superscript: ['<sup>', '</sup>'],
  subscript: ['<sub>', '</sub>'],
  'small-caps': ['<span class="small-caps">', '</span>'],
}

/// Runs as HTML: the five styles as elements of our own, all else as text.
export const runsHtml = (runs: readonly TextRun[]): string =>
  runs
    .map(
      ({ text, as }) =>
        `${as.map((style) => TAGS[style][0]).join('')}${htmlText(text)}${as
          .toReversed()
          .map((style) => TAGS[style][1])
          .join('')}`,
    )
    .join('')

/// The digits and signs that Unicode has raised or lowered ("Superscripts and Subscripts", U+2070–U+209F, and U+00B2, U+00B3, U+00B9).
const RAISED = new Map([...'0123456789+-−=()n'].map((sign, i) => [sign, [...'⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻⁻⁼⁽⁾ⁿ'][i]]))
const LOWERED = new Map([...'0123456789+-−=()'].map((sign, i) => [sign, [...'₀₁₂₃₄₅₆₇₈₉₊₋₋₌₍₎'][i]]))

/// Runs as plain text: raised and lowered signs where Unicode has all of them, else as they are; the other styles leave no
/// trace.
export const runsText = (runs: readonly TextRun[]): string =>
  runs
    .map(({ text, as }) => {
      const signs = as.includes('superscript') ? RAISED : as.includes('subscript') ? LOWERED : null
      return signs && [...text].every((sign) => signs.has(sign)) ? [...text].map((sign) => signs.get(sign)).join('') : text
    })
    .join('')
