import type { Asked } from './question-choices'

/// Parts of a measure that several questions share, from what was chosen for them.

/// The event whose bracket the frame lies in, if any: its error then enters the value's.
const eventAt = ({ events, clip, frame }: Asked): { event?: string } => {
  const found = events.find((event) => event.clip === clip && event.earliest <= frame && frame <= event.latest)
  return found ? { event: found.id } : {}
}

/// What a measure of one frame begins with.
export const onFrame = (asked: Asked) => ({ id: asked.id, clip: asked.clip, subject: asked.subject, frame: asked.frame, ...eventAt(asked) })

/// The frame in the middle of an event's bracket; null without it.
function frameOf({ events }: Asked, id: string): number | null {
  const event = events.find((each) => each.id === id)
  return event ? Math.floor((event.earliest + event.latest) / 2) : null
}

/// From the middle of the first event's bracket to that of the second; null where there is nothing between.
export function spanOf(asked: Asked): { readonly fromFrame: number; readonly toFrame: number } | null {
  const [fromFrame, toFrame] = [frameOf(asked, asked.from), frameOf(asked, asked.to)]
  return fromFrame !== null && toFrame !== null && asked.from !== asked.to ? { fromFrame, toFrame } : null
}

/// What a measure between two events begins with; null while they are not two.
export const ofEvents = ({ id, clip, from, to, events }: Asked) =>
  from !== to && [from, to].every((end) => events.some((event) => event.id === end)) ? { id, clip, from, to } : null

/// A frame and that of an event; null while they are the same.
export function since(asked: Asked) {
  const fromFrame = frameOf(asked, asked.from)
  return fromFrame === null || fromFrame === asked.frame ? null : { ...onFrame(asked), fromFrame }
}

/// The places by which the camera's own motion is taken out, where there are enough.
export const camera = ({ background }: Asked) => (background.length > 2 ? { camera: { background: background.slice(0, 50) } } : {})

/// The line of the hips and that of the shoulders.
export const across = ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right']
/// From the middle of the hips to that of the shoulders.
export const trunk = ['hip.mid', 'shoulder.mid']
/// The trunk on a frame, as the unit.
export const trunkLengths = (frame: number) => ({ unit: { points: trunk, frame, name: 'trunk lengths' } })

/// Against the picture, the camera's own motion taken out where the hall is followed; or against the trunk.
export const against = (asked: Asked) => (asked.against === 'trunk' ? { against: 'shoulder.mid' } : camera(asked))

const toes = ['toe.left', 'toe.right']
/// A line from one person's feet to the other's, frozen at an event; the floor itself is stated of the clip. Null without either.
export function onFloor(asked: Asked) {
  const frame = frameOf(asked, asked.from)
  if (frame === null || asked.other === '' || asked.other === asked.subject) return null
  const stands: [{ subject: string; points: string[] }, { subject: string; points: string[] }] = [
    { subject: asked.subject, points: [...toes] },
    { subject: asked.other, points: [...toes] },
  ]
  return { ...onFrame(asked), line: { frame, stands }, ...(asked.planted ? { planted: true as const } : {}) }
}
