import { CodedError } from '../../app/errors/coded-error'
import { parseRational, toNumber, type Rational } from '../../app/time/rational'
import type { FilmReport } from './film-report'

/// How a film's figures are written for a person.

/// "33.3", "8.33": seconds as milliseconds, with a second decimal for short ones.
export const millisecondsWords = (seconds: number): string => (seconds * 1000).toFixed(seconds < 0.01 ? 2 : 1)

/// "29.97".
export const rateWords = (rate: Rational): string => String(Number(toNumber(rate).toFixed(3)))

/// Frames a second: the exact rate where the frames come evenly, else their average.
export const averageWords = ({ rate, intervals }: Pick<FilmReport, 'intervals' | 'rate'>): string =>
  rate === null ? String(Number((intervals?.average ?? 0).toFixed(3))) : rateWords(exactRate(rate))

/// The rate that a report states as a text. Throws for another text.
export function exactRate(text: string): Rational {
  const rate = parseRational(text)
  if (!rate) throw new CodedError('wrong-use', { problem: `“${text}” is no rate` })
  return rate
}

/// "1 frame", "3 frames".
export const countOf = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? '' : 's'}`
