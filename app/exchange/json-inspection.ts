import { placeWithin, type ProblemList } from './problem-list'

/// The deepest nesting a document can need is 12; anything past this is refused unread.
const DEEPEST = 40

/// Looks through a parsed JSON value for what no field may hold, whatever its type: nesting past
/// 40, numbers too large to be finite, texts with a NUL or half a surrogate pair (which no store
/// keeps as they are), and the key `__proto__`. Turns −0 into 0 in place.
export function inspectJson(value: unknown, problems: ProblemList): void {
  inspect(value, '', 0, problems)
}

function inspect(value: unknown, place: string, depth: number, problems: ProblemList): void {
  if (typeof value === 'string') {
    const problem = problemOfText(value)
    if (problem) problems.add(place, problem)
  } else if (typeof value === 'number') {
    if (!Number.isFinite(value)) problems.add(place, 'is too large a number')
  } else if (typeof value === 'object' && value !== null) {
    if (depth >= DEEPEST) problems.add(place, `is nested deeper than ${DEEPEST}`)
    else if (Array.isArray(value)) inspectList(value, place, depth, problems)
    else inspectObject(value as Record<string, unknown>, place, depth, problems)
  }
}

function inspectList(list: unknown[], place: string, depth: number, problems: ProblemList): void {
  for (let i = 0; i < list.length; i++) {
    const value = list[i]
    if (typeof value === 'number' && Number.isFinite(value)) {
      if (value === 0) list[i] = 0
    } else inspect(value, placeWithin(place, i), depth + 1, problems)
  }
}

function inspectObject(object: Record<string, unknown>, place: string, depth: number, problems: ProblemList): void {
  for (const key of Object.keys(object)) {
    if (key === '__proto__') {
      problems.add(placeWithin(place, key), 'is not a known key')
      continue
    }
    const value = object[key]
    if (value === 0) object[key] = 0
    else if (typeof value !== 'number' || !Number.isFinite(value)) inspect(value, placeWithin(place, key), depth + 1, problems)
  }
}

function problemOfText(text: string): string | null {
  if (text.includes('\0')) return 'holds a NUL character'
  return /\p{Surrogate}/u.test(text) ? 'holds half a character (a lone surrogate)' : null
}
