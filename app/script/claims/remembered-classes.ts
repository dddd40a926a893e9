import type { ClaimClass } from '../../project/claim'
import { strongByRules, suggestClasses, type Suggestion } from './suggest-classes'

const MOST = 4000

/// `of`, each text looked at once: a script of 200 paragraphs takes half a second to look at, and a key changes one sentence
/// of it. The texts asked for lately are kept.
export function remembered<T>(
  of: (text: string, classes: readonly ClaimClass[]) => T,
): (text: string, classes?: readonly ClaimClass[]) => T {
  const known = new Map<string, T>()
  return (text, classes = []) => {
    const key = `${classes.join('')}/${text}`
    const value = known.get(key) ?? of(text, classes)
    known.delete(key)
    known.set(key, value)
    if (known.size > MOST) known.delete(known.keys().next().value as string)
    return value
  }
}

/// `suggestClasses` in English, remembered.
export const rememberedClasses: (text: string, of?: readonly ClaimClass[]) => Suggestion = remembered((text, of) =>
  suggestClasses(text, of),
)

/// `strongByRules` in English, remembered.
export const rememberedStrong: (text: string) => ReadonlyMap<ClaimClass, string> = remembered((text) => strongByRules(text))
