import { sentenceAt } from '../programme/sentence-time'
import type { Release, Said } from '../project/release'

/// The paragraph that something published belongs to: its own; else that of the sentence said at its time, or last
/// before it. Null for what has neither.
export function saidParagraph(said: Said, release: Release): string | null {
  if (said.paragraph !== undefined) return said.paragraph
  if (said.from_s === undefined) return null
  const sentences = release.said.flatMap((each) =>
    each.as === 'sentence' && each.paragraph !== undefined
      ? [{ paragraph: each.paragraph, from_s: each.from_s ?? 0, to_s: each.to_s ?? 0 }]
      : [],
  )
  return sentenceAt(sentences, said.from_s)?.paragraph ?? null
}
