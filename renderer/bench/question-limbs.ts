import type { Side } from '../../app/body/landmark-name'
import type { Asked } from './question-choices'

/// A part of the body that a question is asked about, by its points.
export interface Limb {
  readonly name: string
  readonly points: readonly string[]
  /// Both sides at once, or none: the head, the line of the hips.
  readonly whole?: true
}

/// What can be bent, from end to end.
export const joints: readonly Limb[] = [
  { name: 'knee', points: ['hip', 'knee', 'ankle'] },
  { name: 'elbow', points: ['shoulder', 'elbow', 'wrist'] },
  { name: 'hip', points: ['shoulder', 'hip', 'knee'] },
]
const head: Limb = { name: 'head', points: ['head.top'], whole: true }

/// What has a speed and a way.
export const travellers: readonly Limb[] = [
  { name: 'fist', points: ['fist'] },
  { name: 'wrist', points: ['wrist'] },
  { name: 'ankle', points: ['ankle'] },
  head,
]

/// What can have moved since an event; the head has a question of its own.
export const movers: readonly Limb[] = [
  ...travellers.filter((limb) => limb !== head),
  { name: 'knee', points: ['knee'] },
  { name: 'toe', points: ['toe'] },
  { name: 'hip', points: ['hip'] },
]

/// What turns as seen from above.
export const lines: readonly Limb[] = [
  { name: 'hips', points: ['hip.left', 'hip.right'], whole: true },
  { name: 'shoulders', points: ['shoulder.left', 'shoulder.right'], whole: true },
]

export const feet: readonly Limb[] = [{ name: 'foot', points: ['heel', 'toe'] }]

/// "rear knee" of a choice, as its points.
export function pointsOf(limbs: readonly Limb[], { limb }: Asked): string[] {
  const whole = limbs.find(({ name }) => name === limb)
  if (whole) return [...whole.points]
  const [side = 'left', name] = limb.split(' ')
  return (limbs.find((each) => each.name === name) ?? (limbs[0] as Limb)).points.map((place) => `${place}.${side}`)
}

/// The limbs to choose from, "rear knee" where the lead side is known, else "left knee".
export function limbChoices(question: { readonly limbs?: readonly Limb[] }, lead: Side | null): string[] {
  const sides = lead === null ? ['left', 'right'] : ['rear', 'lead']
  return (question.limbs ?? []).flatMap(({ name, whole }) => (whole ? [name] : sides.map((side) => `${side} ${name}`)))
}
