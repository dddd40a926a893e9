import type { ClaimClass } from '../../project/claim'

/// The groups in which a film's sentences are told up, in their order: each class is in one.
const GROUPS = [
  { name: 'measured or shown', letters: ['A', 'B', 'C', 'D', 'E'] },
  { name: 'cited or cause', letters: ['F', 'G', 'K'] },
  { name: 'medical', letters: ['J'] },
  { name: 'intent', letters: ['I'] },
  { name: 'opinion', letters: ['H'] },
  { name: 'about the film, or advice', letters: ['L', 'M'] },
] as const satisfies readonly { readonly name: string; readonly letters: readonly ClaimClass[] }[]

export type TallyGroup = (typeof GROUPS)[number]['name']

export interface Tallied {
  readonly name: TallyGroup
  readonly letters: readonly ClaimClass[]
  readonly count: number
}

/// How many sentences each group has; each sentence counts once, by the class that leads it, but for a medical one, which counts as
/// that wherever it stands among its classes. The counts sum to the number of sentences.
export function tallyClaims(claims: readonly { readonly classes: readonly ClaimClass[] }[]): readonly Tallied[] {
  const leading = claims.map(({ classes }) => (classes.includes('J') ? 'J' : (classes[0] ?? 'A')))
  return GROUPS.map(({ name, letters }) => ({
    name,
    letters,
    count: leading.filter((letter) => (letters as readonly ClaimClass[]).includes(letter)).length,
  }))
}
