import { withSide, type Side } from './landmark-name'

/// The body points that an analyst is guided through, and where exactly each lies. Joint centres, not outer edges: who
/// places the outer hip instead of the joint sees hips nearly twice as wide.

export interface BodyPoint {
  readonly place: string
  /// Once for the left and once for the right side.
  readonly paired: boolean
  readonly definition: string
}

export const bodyPoints: readonly BodyPoint[] = [
  { place: 'head.top', paired: false, definition: 'the highest point of the skull, hair pressed flat' },
  { place: 'chin', paired: false, definition: 'the lowest point of the chin, mouth shut' },
  { place: 'shoulder', paired: true, definition: 'the middle of the ball of the upper arm, not the edge of the sleeve' },
  { place: 'elbow', paired: true, definition: 'the middle of the joint, between its two bony sides' },
  { place: 'wrist', paired: true, definition: 'the middle of the joint, under the glove’s cuff' },
  { place: 'fist', paired: true, definition: 'the knuckle of the middle finger, through the glove' },
  { place: 'hip', paired: true, definition: 'the joint’s centre, a hand’s width inside and below the belt’s edge' },
  { place: 'knee', paired: true, definition: 'the middle of the joint, between its two bony sides' },
  { place: 'ankle', paired: true, definition: 'the middle between the two ankle bones' },
  { place: 'heel', paired: true, definition: 'the rearmost point of the heel, on the sole' },
  { place: 'toe', paired: true, definition: 'the foremost point of the foot, on the sole' },
]

export const pointGroups = {
  // The chin only makes head heights: it is asked for where they are.
  'whole body': bodyPoints.map(({ place }) => place).filter((place) => place !== 'chin'),
  'hips and shoulders': ['hip', 'shoulder'],
  legs: ['hip', 'knee', 'ankle', 'heel', 'toe'],
  arms: ['shoulder', 'elbow', 'wrist', 'fist'],
} as const satisfies Readonly<Record<string, readonly string[]>>
export type PointGroup = keyof typeof pointGroups

/// The names of a group's points in an order that suits the hand: down one side, then down the other; the rear side
/// first, for it is nearer to what is usually asked. Left first where the lead side is not known.
export function placingOrder(group: PointGroup, lead: Side | null): string[] {
  const places = bodyPoints.filter(({ place }) => (pointGroups[group] as readonly string[]).includes(place))
  const first: Side = lead === 'left' ? 'right' : 'left'
  const sides: readonly Side[] = first === 'left' ? ['left', 'right'] : ['right', 'left']
  return [
    ...places.filter((p) => !p.paired).map((p) => p.place),
    ...sides.flatMap((side) => places.filter((p) => p.paired).map((p) => withSide(p.place, side))),
  ]
}

/// Where a named point lies; null for a point of one's own.
export const definitionOf = (name: string): string | null =>
  bodyPoints.find(({ place, paired }) => (paired ? name.startsWith(`${place}.`) : name === place))?.definition ?? null

/// The bones that are drawn between points: [from, to] without side, across both sides, or from side to side.
export const bones: readonly { readonly from: string; readonly to: string; readonly part: 'limb' | 'hips' | 'shoulders' }[] = [
  ...(['left', 'right'] as const).flatMap((side) =>
    [
      ['shoulder', 'elbow'],
      ['elbow', 'wrist'],
      ['wrist', 'fist'],
      ['hip', 'knee'],
      ['knee', 'ankle'],
      ['heel', 'toe'],
    ].map(([from, to]) => ({ from: withSide(from as string, side), to: withSide(to as string, side), part: 'limb' as const })),
  ),
  { from: 'shoulder.left', to: 'shoulder.right', part: 'shoulders' },
  { from: 'hip.left', to: 'hip.right', part: 'hips' },
]
