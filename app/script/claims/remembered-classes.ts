import type { ClaimClass } from '../../project/claim'
import { suggestClasses, type Suggestion } from './suggest-classes'

const MOST = 4000
const known = new Map<string, Suggestion>()

/// `suggestClasses` in English, each sentence looked at once: a script of 200 paragraphs takes half a second to look at,
/// and a key changes one sentence of it. The sentences asked for lately are kept.
export function rememberedClasses(text: string, of: readonly ClaimClass[]): Suggestion {
  const key = `${of.join('')}/${text}`
  const suggestion = known.get(key) ?? suggestClasses(text, of)
  known.delete(key)
  known.set(key, suggestion)
  if (known.size > MOST) known.delete(known.keys().next().value as string)
  return suggestion
}
