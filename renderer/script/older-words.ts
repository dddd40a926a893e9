import { staleWords } from '../../app/align/tie-take'
import type { Breakdown } from '../../app/project/breakdown'
import type { Paragraph, ValueForm } from '../../app/project/picture'
import { olderValues } from '../../app/script/older-take'
import { heardWords } from '../../app/script/pauses'
import type { Readings } from '../../app/script/spoken-form'

/// What is said of each live value that a paragraph's take does not say as it is now; by measure and form.
export type OlderWords = ReadonlyMap<string, string>

const NONE: OlderWords = new Map()
const nameOf = (measure: string, form: ValueForm | null | undefined): string => `${measure} ${form ?? ''}`

export const olderWordsOf = (older: OlderWords | undefined, measure: string, form: ValueForm | null): string | null =>
  older?.get(nameOf(measure, form)) ?? null

export function olderWordsIn(paragraph: Paragraph, readings: Readings): OlderWords {
  const values = olderValues(paragraph, readings)
  if (values.length === 0) return NONE
  const difference = staleWords(heardWords(paragraph.narration ?? {}), paragraph, readings)
  const says = difference === null || difference.said === '' ? 'does not say it' : `says “${short(difference.said)}”`
  return new Map(
    values.map(({ value, form, said }) => [
      nameOf(value, form),
      `Newer than the take, which ${says}: it is now “${said}”. Record the paragraph again`,
    ]),
  )
}

/// Of every paragraph that has such a value.
export const olderWordsByParagraph = (breakdown: Breakdown | null, readings: Readings): ReadonlyMap<string, OlderWords> =>
  new Map(
    (breakdown?.script ?? []).flatMap((row) => {
      const older = 'text' in row ? olderWordsIn(row, readings) : NONE
      return 'text' in row && older.size > 0 ? [[row.id, older] as const] : []
    }),
  )

const short = (words: string): string => (words.length > 80 ? `${words.slice(0, 80)} …` : words)
