import type { Side } from '../../app/body/landmark-name'
import type { Event } from '../../app/project/film'
import type { Measure } from '../../app/project/question'

/// Measures by what one wants to say.

export interface Asked {
  readonly id: string
  readonly clip: string
  readonly subject: string
  readonly frame: number
  readonly events: readonly Event[]
  readonly lead: Side | null
  readonly choice: string
  readonly from: string
  readonly to: string
  readonly what: string
  readonly value: number
  readonly unit: string
  /// Places of the hall that were followed by themselves.
  readonly background: readonly string[]
}

export interface Question {
  readonly name: string
  readonly says: string
  /// What must be chosen: which limb, two events, both of these, or words and a value.
  readonly asks: 'limb' | 'events' | 'way' | 'eye' | 'nothing'
  readonly limbs?: readonly Limb[]
  readonly measure: (asked: Asked) => Measure
}

interface Limb {
  readonly name: string
  readonly points: readonly string[]
}

const joints: readonly Limb[] = [
  { name: 'knee', points: ['hip', 'knee', 'ankle'] },
  { name: 'elbow', points: ['shoulder', 'elbow', 'wrist'] },
  { name: 'hip', points: ['shoulder', 'hip', 'knee'] },
]

/// The event whose bracket the frame lies in, if any: its error then enters the value's.
const eventAt = ({ events, clip, frame }: Asked): { event?: string } => {
  const found = events.find((event) => event.clip === clip && event.earliest <= frame && frame <= event.latest)
  return found ? { event: found.id } : {}
}
const onFrame = (asked: Asked) => ({ id: asked.id, clip: asked.clip, subject: asked.subject, frame: asked.frame, ...eventAt(asked) })

/// "rear knee" of a choice, as its points.
function jointPoints({ choice }: Asked): string[] {
  const [side = 'left', name = 'knee'] = choice.split(' ')
  return (joints.find((joint) => joint.name === name) ?? joints[0] as Limb).points.map((place) => `${place}.${side}`)
}

const travellers: readonly Limb[] = [{ name: 'fist', points: ['fist'] }, { name: 'wrist', points: ['wrist'] }, { name: 'ankle', points: ['ankle'] }, { name: 'head', points: ['head.top'] }]
const travellerOf = ({ choice }: Asked): string => (choice === 'head' ? 'head.top' : jointName(choice))
const jointName = (choice: string): string => {
  const [side = 'left', name = 'wrist'] = choice.split(' ')
  return `${name}.${side}`
}
/// From the middle of the first event's bracket to that of the second.
function spanOf({ events, from, to }: Asked): { fromFrame: number; toFrame: number } {
  const middle = (id: string): number => {
    const event = events.find((each) => each.id === id)
    return event ? Math.floor((event.earliest + event.latest) / 2) : 0
  }
  return { fromFrame: middle(from), toFrame: middle(to) }
}

const across = ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right']
const trunk = ['hip.mid', 'shoulder.mid']

export const questions: readonly Question[] = [
  { name: 'joint', says: 'how far a knee, elbow or hip is bent', asks: 'limb', limbs: joints, measure: (asked) => ({ ...onFrame(asked), kind: 'joint-angle', points: jointPoints(asked) }) },
  { name: 'lean', says: 'how far the trunk leans', asks: 'nothing', measure: (asked) => ({ ...onFrame(asked), kind: 'line-lean', points: trunk }) },
  { name: 'time', says: 'how long from one event to another', asks: 'events', measure: ({ id, clip, from, to }) => ({ id, clip, kind: 'time-between', from, to }) },
  { name: 'frames', says: 'how many frames from one event to another', asks: 'events', measure: ({ id, clip, from, to }) => ({ id, clip, kind: 'frame-count', from, to }) },
  { name: 'order', says: 'which of two events comes first', asks: 'events', measure: ({ id, clip, from, to }) => ({ id, clip, kind: 'order', from, to }) },
  { name: 'separation', says: 'how far shoulders are turned against hips, from the side', asks: 'nothing', measure: (asked) => ({ ...onFrame(asked), kind: 'separation', view: 'side' }) },
  { name: 'separation above', says: 'how far shoulders are turned against hips, from a high camera', asks: 'nothing', measure: (asked) => ({ ...onFrame(asked), kind: 'separation', view: 'above' }) },
  { name: 'lines', says: 'at what angle the hip line stands to the shoulder line, as drawn', asks: 'nothing', measure: (asked) => ({ ...onFrame(asked), kind: 'line-angle', points: across }) },
  { name: 'stance', says: 'how wide the stance is, in trunk lengths', asks: 'nothing', measure: (asked) => ({ ...onFrame(asked), kind: 'distance', points: ['ankle.left', 'ankle.right'], unit: { points: trunk, frame: asked.frame, name: 'trunk lengths' } }) },
  { name: 'rate', says: 'how fast a knee, elbow or hip opens', asks: 'limb', limbs: joints, measure: (asked) => ({ ...onFrame(asked), kind: 'angular-rate', points: jointPoints(asked) }) },
  {
    name: 'way', says: 'how far a hand, foot or the head travels, in trunk lengths', asks: 'way', limbs: travellers,
    measure: (asked) => ({ id: asked.id, clip: asked.clip, subject: asked.subject, kind: 'path', points: [travellerOf(asked)], ...spanOf(asked), unit: { points: trunk, frame: spanOf(asked).fromFrame, name: 'trunk lengths' }, ...(asked.background.length > 2 ? { camera: { background: asked.background.slice(0, 50) } } : {}) }),
  },
  { name: 'eye', says: 'what I see by eye, with a value', asks: 'eye', measure: (asked) => ({ id: asked.id, clip: asked.clip, subject: asked.subject, frame: asked.frame, kind: 'by-eye', what: asked.what, value: asked.value, unit: asked.unit }) },
]

/// The limbs to choose from, "rear knee" where the lead side is known, else "left knee".
export function limbChoices(question: Question, lead: Side | null): string[] {
  const sides = lead === null ? ['left', 'right'] : ['rear', 'lead']
  return (question.limbs ?? []).flatMap(({ name }) => (name === 'head' ? [name] : sides.map((side) => `${side} ${name}`)))
}
