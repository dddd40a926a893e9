/// Whether two JSON values are equal, whatever the order of their keys. An absent key and an
/// undefined one are the same.
export function sameRecord(a: unknown, b: unknown): boolean {
  if (a === b) return true
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null || Array.isArray(a) !== Array.isArray(b)) return false
  if (Array.isArray(a) && Array.isArray(b)) return a.length === b.length && a.every((value, i) => sameRecord(value, b[i]))
  const left = entriesOf(a)
  const right = entriesOf(b)
  return left.size === right.size && [...left].every(([key, value]) => right.has(key) && sameRecord(value, right.get(key)))
}

const entriesOf = (value: object): Map<string, unknown> => new Map(Object.entries(value).filter(([, v]) => v !== undefined))
