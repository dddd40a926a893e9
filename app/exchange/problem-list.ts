/// What is wrong in a document, and where: `script[3].shots[1].frame`.
export interface Problem {
  readonly place: string
  readonly problem: string
}

const SHOWN = 50
const NAME_SHOWN = 60

/// Collects problems; keeps the first 50 and counts the rest.
export class ProblemList {
  private readonly kept: Problem[] = []
  private more = 0

  add(place: string, problem: string): void {
    if (this.kept.length < SHOWN) this.kept.push({ place: place === '' ? 'document' : place, problem })
    else this.more++
  }

  get empty(): boolean {
    return this.kept.length === 0
  }

  /// The problems in the order found; the last line says how many more there are, if any.
  list(): readonly Problem[] {
    return this.more === 0 ? this.kept : [...this.kept, { place: 'document', problem: `${this.more} more problems` }]
  }
}

/// The place of `step` within `place`: a key as `.key`, an index as `[3]`, anything odd quoted and cut short.
export function placeWithin(place: string, step: PropertyKey): string {
  if (typeof step === 'number') return `${place}[${step}]`
  const key = String(step)
  if (/^[A-Za-z_][A-Za-z0-9_]{0,59}$/.test(key)) return place === '' ? key : `${place}.${key}`
  return `${place}[${quoted(key)}]`
}

/// A text as it may stand in a message: quoted, control characters escaped, cut short.
export function quoted(text: string): string {
  return JSON.stringify(text.length > NAME_SHOWN ? `${text.slice(0, NAME_SHOWN)}…` : text)
}
