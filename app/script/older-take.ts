import type { Reading } from '../measure/reading'
import type { Paragraph } from '../project/picture'
import { inWords } from './number-words'
import { heardWords } from './pauses'
import { placedValues, type PlacedValue, type Readings } from './spoken-form'

/// The live values that a paragraph's take does not say as they are now, by the words that it was recorded with. None where
/// there is no take, or its words are not known; a value without a reading is another matter.
export function olderValues(paragraph: Paragraph, readings: Readings): (PlacedValue & { readonly reading: Reading })[] {
  if (paragraph.take === undefined || paragraph.narration?.words === undefined) return []
  const heard = plain(heardWords(paragraph.narration).join(' '))
  return placedValues(paragraph, readings).flatMap((placed) => {
    const reading = readings.get(placed.value)
    return !reading || heard.includes(plain(inWords(placed.said))) ? [] : [{ ...placed, reading }]
  })
}

const plain = (text: string): string => ` ${text.toLowerCase().normalize('NFD').replace(/\p{M}/gu, '').replace(/[^a-z']+/gu, ' ').trim()} `
