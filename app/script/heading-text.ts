import type { Chapter } from '../project/picture'
import { shownValue, type Readings, type ValueInline } from './spoken-form'

/// A heading in pieces: words and live values.
export const headingPieces = ({ chapter }: Chapter): readonly (string | ValueInline)[] =>
  typeof chapter === 'string' ? (chapter === '' ? [] : [chapter]) : chapter

/// Ids of the measures whose values stand in a heading, each once.
export const headingValues = (chapter: Chapter): string[] => [
  ...new Set(headingPieces(chapter).flatMap((piece) => (typeof piece === 'string' ? [] : [piece.value]))),
]

/// A heading as it is shown: live values in their form.
export const headingText = (chapter: Chapter, readings: Readings): string =>
  headingPieces(chapter).reduce<string>((text, piece) => text + (typeof piece === 'string' ? piece : shownValue(piece, readings, text)), '')
