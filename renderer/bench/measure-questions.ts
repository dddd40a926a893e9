import type { Side } from '../../app/body/landmark-name'
import type { Event } from '../../app/project/film'
import type { Measure } from '../../app/project/question'

/// Measures by what one wants to say.

/// How a case of a count was seen; '': it is none of the set.
export type CaseState = '' | 'seen' | 'not seen' | 'not usable'
export interface Case {
  readonly state: CaseState
  readonly note: string
}

/// What a person has chosen or typed, as it stands in the fields.
export interface Choices {
  readonly limb: string
  /// Two events of the clip.
  readonly from: string
  readonly to: string
  readonly against: 'hall' | 'trunk'
  readonly turns: 'either' | 'opening' | 'closing'
  readonly table: 'de-leva-female' | 'de-leva-male' | 'winter' | 'hip-midpoint'
  /// Two measures.
  readonly first: string
  readonly second: string
  /// How near counts as the same.
  readonly delta: string
  readonly what: string
  readonly value: string
  readonly unit: string
  /// How a limb was seen that is judged by eye; and 1 σ of what is judged, empty: as it is taken to be.
  readonly seen: 'planar' | 'oblique' | 'transverse'
  readonly u: string
  readonly set: string
  readonly cases: Readonly<Record<string, Case>>
  /// Frames on which hips and shoulders face the camera, and which side of each is nearer to it.
  readonly hipsFrame: string
  readonly shouldersFrame: string
  readonly nearHip: Side | ''
  readonly nearShoulder: Side | ''
  /// The person towards whom a line on the floor goes, and that the foot stands flat.
  readonly other: string
  readonly planted: boolean
}

export const noChoices: Choices = {
  limb: '',
  from: '',
  to: '',
  against: 'hall',
  turns: 'either',
  table: 'winter',
  first: '',
  second: '',
  delta: '',
  what: '',
  value: '',
  unit: '°',
  seen: 'oblique',
  u: '',
  set: '',
  cases: {},
  hipsFrame: '',
  shouldersFrame: '',
  nearHip: '',
  nearShoulder: '',
  other: '',
  planted: false,
}

/// Where it is asked, and what was chosen.
export interface Asked extends Choices {
  readonly id: string
  readonly clip: string
  readonly subject: string
  readonly frame: number
  /// The clip's.
  readonly events: readonly Event[]
  readonly lead: Side | null
  /// Places of the hall that were followed by themselves.
  readonly background: readonly string[]
}

/// A group of fields that a question needs.
export type Part = 'limb' | 'events' | 'since' | 'against' | 'turns' | 'table' | 'widths' | 'peaks' | 'pair' | 'cases' | 'line' | 'eye'

export const groups = ['Of this frame', 'Of motion', 'Of time', 'Of the floor', 'Of several', 'By eye'] as const

export interface Question {
  readonly name: string
  readonly group: (typeof groups)[number]
  readonly says: string
  readonly parts: readonly Part[]
  readonly limbs?: readonly Limb[]
  /// Null while something is missing.
  readonly measure: (asked: Asked) => Measure | null
}

interface Limb {
  readonly name: string
  readonly points: readonly string[]
  /// Both sides at once, or none: the head, the line of the hips.
  readonly whole?: true
}

const joints: readonly Limb[] = [
  { name: 'knee', points: ['hip', 'knee', 'ankle'] },
  { name: 'elbow', points: ['shoulder', 'elbow', 'wrist'] },
  { name: 'hip', points: ['shoulder', 'hip', 'knee'] },
]
const head: Limb = { name: 'head', points: ['head.top'], whole: true }
const travellers: readonly Limb[] = [
  { name: 'fist', points: ['fist'] },
  { name: 'wrist', points: ['wrist'] },
  { name: 'ankle', points: ['ankle'] },
  head,
]
const movers: readonly Limb[] = [
  ...travellers.filter((limb) => limb !== head),
  { name: 'knee', points: ['knee'] },
  { name: 'toe', points: ['toe'] },
  { name: 'hip', points: ['hip'] },
]
const lines: readonly Limb[] = [
  { name: 'hips', points: ['hip.left', 'hip.right'], whole: true },
  { name: 'shoulders', points: ['shoulder.left', 'shoulder.right'], whole: true },
]

/// "rear knee" of a choice, as its points.
function pointsOf(limbs: readonly Limb[], { limb }: Asked): string[] {
  const whole = limbs.find(({ name }) => name === limb)
  if (whole) return [...whole.points]
  const [side = 'left', name] = limb.split(' ')
  return (limbs.find((each) => each.name === name) ?? (limbs[0] as Limb)).points.map((place) => `${place}.${side}`)
}

/// The limbs to choose from, "rear knee" where the lead side is known, else "left knee".
export function limbChoices(question: Question, lead: Side | null): string[] {
  const sides = lead === null ? ['left', 'right'] : ['rear', 'lead']
  return (question.limbs ?? []).flatMap(({ name, whole }) => (whole ? [name] : sides.map((side) => `${side} ${name}`)))
}

/// The event whose bracket the frame lies in, if any: its error then enters the value's.
const eventAt = ({ events, clip, frame }: Asked): { event?: string } => {
  const found = events.find((event) => event.clip === clip && event.earliest <= frame && frame <= event.latest)
  return found ? { event: found.id } : {}
}
const onFrame = (asked: Asked) => ({ id: asked.id, clip: asked.clip, subject: asked.subject, frame: asked.frame, ...eventAt(asked) })

/// The frame in the middle of an event's bracket; null without it.
function frameOf({ events }: Asked, id: string): number | null {
  const event = events.find((each) => each.id === id)
  return event ? Math.floor((event.earliest + event.latest) / 2) : null
}

/// From the middle of the first event's bracket to that of the second; null where there is nothing between.
function spanOf(asked: Asked): { readonly fromFrame: number; readonly toFrame: number } | null {
  const [fromFrame, toFrame] = [frameOf(asked, asked.from), frameOf(asked, asked.to)]
  return fromFrame !== null && toFrame !== null && asked.from !== asked.to ? { fromFrame, toFrame } : null
}

const ofEvents = ({ id, clip, from, to, events }: Asked) =>
  from !== to && [from, to].every((end) => events.some((event) => event.id === end)) ? { id, clip, from, to } : null

/// A frame and an earlier one; null while they are the same.
function since(asked: Asked) {
  const fromFrame = frameOf(asked, asked.from)
  return fromFrame === null || fromFrame === asked.frame ? null : { ...onFrame(asked), fromFrame }
}

const camera = ({ background }: Asked) => (background.length > 2 ? { camera: { background: background.slice(0, 50) } } : {})

const across = ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right']
const trunk = ['hip.mid', 'shoulder.mid']
const trunkLengths = (frame: number) => ({ unit: { points: trunk, frame, name: 'trunk lengths' } })

/// Against the picture, the camera's own motion taken out where the hall is followed; or against the trunk.
const against = (asked: Asked) => (asked.against === 'trunk' ? { against: 'shoulder.mid' } : camera(asked))

const toes = ['toe.left', 'toe.right']
/// A line from one person's feet to the other's, frozen at an event; the floor itself is stated of the clip. Null without either.
function onFloor(asked: Asked) {
  const frame = frameOf(asked, asked.from)
  if (frame === null || asked.other === '' || asked.other === asked.subject) return null
  const stands: [{ subject: string; points: string[] }, { subject: string; points: string[] }] = [
    { subject: asked.subject, points: [...toes] },
    { subject: asked.other, points: [...toes] },
  ]
  return { ...onFrame(asked), line: { frame, stands }, ...(asked.planted ? { planted: true as const } : {}) }
}
const feet: readonly Limb[] = [{ name: 'foot', points: ['heel', 'toe'] }]

const stated = (text: string): number | null => (/^\d{1,9}$/.test(text.trim()) ? Number(text) : null)

function fromSide(asked: Asked): Measure {
  const [hipsFrame, shouldersFrame] = [stated(asked.hipsFrame), stated(asked.shouldersFrame)]
  return {
    ...onFrame(asked),
    kind: 'separation',
    view: 'side',
    ...(hipsFrame !== null && shouldersFrame !== null ? { widths: { hipsFrame, shouldersFrame } } : {}),
    ...(asked.nearHip !== '' && asked.nearShoulder !== '' ? { near: { hips: asked.nearHip, shoulders: asked.nearShoulder } } : {}),
  }
}

const HOLDS = { seen: true, 'not seen': false, 'not usable': null } as const

function counted({ id, what, set, cases }: Asked): Measure | null {
  const found = Object.entries(cases).flatMap(([clip, { state, note }]) =>
    state === '' ? [] : [{ clip, holds: HOLDS[state], ...(note.trim() === '' ? {} : { note: note.trim() }) }],
  )
  return what.trim() === '' || set.trim() === '' || found.length === 0
    ? null
    : { id, kind: 'count', what: what.trim(), set: set.trim(), cases: found }
}

const SIGNS = { either: {}, opening: { sign: '+' }, closing: { sign: '-' } } as const

export const questions: readonly Question[] = [
  {
    name: 'joint',
    group: 'Of this frame',
    says: 'how far a knee, elbow or hip is bent',
    parts: ['limb'],
    limbs: joints,
    measure: (asked) => ({ ...onFrame(asked), kind: 'joint-angle', points: pointsOf(joints, asked) }),
  },
  {
    name: 'lean',
    group: 'Of this frame',
    says: 'how far the trunk leans',
    parts: [],
    measure: (asked) => ({ ...onFrame(asked), kind: 'line-lean', points: trunk }),
  },
  {
    name: 'stance',
    group: 'Of this frame',
    says: 'how wide the stance is',
    parts: [],
    measure: (asked) => ({ ...onFrame(asked), kind: 'distance', points: ['ankle.left', 'ankle.right'], ...trunkLengths(asked.frame) }),
  },
  {
    name: 'separation',
    group: 'Of this frame',
    says: 'from the side: how far hips and shoulders part',
    parts: ['widths'],
    measure: fromSide,
  },
  {
    name: 'separation above',
    group: 'Of this frame',
    says: 'from above: how far hips and shoulders part',
    parts: [],
    measure: (asked) => ({ ...onFrame(asked), kind: 'separation', view: 'above' }),
  },
  {
    name: 'lines',
    group: 'Of this frame',
    says: 'the hip line to the shoulder line, as drawn',
    parts: [],
    measure: (asked) => ({ ...onFrame(asked), kind: 'line-angle', points: across }),
  },
  {
    name: 'rate',
    group: 'Of motion',
    says: 'how fast a knee, elbow or hip opens',
    parts: ['limb'],
    limbs: joints,
    measure: (asked) => ({ ...onFrame(asked), kind: 'angular-rate', points: pointsOf(joints, asked) }),
  },
  {
    name: 'speed',
    group: 'Of motion',
    says: 'how fast a hand, foot or the head moves',
    parts: ['limb'],
    limbs: travellers,
    measure: (asked) => ({
      ...onFrame(asked),
      kind: 'speed',
      points: pointsOf(travellers, asked),
      ...trunkLengths(asked.frame),
      ...camera(asked),
    }),
  },
  {
    name: 'way',
    group: 'Of motion',
    says: 'how long the way of a hand, foot or head is',
    parts: ['limb', 'events'],
    limbs: travellers,
    measure(asked) {
      const span = spanOf(asked)
      return (
        span && {
          id: asked.id,
          clip: asked.clip,
          subject: asked.subject,
          kind: 'path',
          points: pointsOf(travellers, asked),
          ...span,
          ...trunkLengths(span.fromFrame),
          ...camera(asked),
        }
      )
    },
  },
  {
    name: 'head',
    group: 'Of motion',
    says: 'how far the head has moved since an event',
    parts: ['since', 'against'],
    measure(asked) {
      const moved = since(asked)
      return (
        moved && {
          ...moved,
          kind: 'head-displacement',
          points: ['head.top'],
          unit: { points: ['head.top', 'chin'], frame: moved.fromFrame, name: 'head heights' },
          ...against(asked),
        }
      )
    },
  },
  {
    name: 'moved',
    group: 'Of motion',
    says: 'how far a limb has moved since an event',
    parts: ['limb', 'since', 'against'],
    limbs: movers,
    measure(asked) {
      const moved = since(asked)
      return (
        moved && { ...moved, kind: 'displacement', points: pointsOf(movers, asked), ...trunkLengths(moved.fromFrame), ...against(asked) }
      )
    },
  },
  {
    name: 'balance',
    group: 'Of motion',
    says: 'how far the balance point has moved',
    parts: ['since', 'table'],
    measure(asked) {
      const moved = since(asked)
      return moved && { ...moved, kind: 'centre-of-mass', table: asked.table, ...trunkLengths(moved.fromFrame), ...camera(asked) }
    },
  },
  {
    name: 'time',
    group: 'Of time',
    says: 'how long from one event to another',
    parts: ['events'],
    measure: (asked) => {
      const ends = ofEvents(asked)
      return ends && { ...ends, kind: 'time-between' }
    },
  },
  {
    name: 'frames',
    group: 'Of time',
    says: 'how many frames from one event to another',
    parts: ['events'],
    measure: (asked) => {
      const ends = ofEvents(asked)
      return ends && { ...ends, kind: 'frame-count' }
    },
  },
  {
    name: 'order',
    group: 'Of time',
    says: 'which of two events comes first',
    parts: ['events'],
    measure: (asked) => {
      const ends = ofEvents(asked)
      return ends && { ...ends, kind: 'order' }
    },
  },
  {
    name: 'peak',
    group: 'Of time',
    says: 'when a knee, elbow or hip turns fastest',
    parts: ['limb', 'turns', 'events'],
    limbs: joints,
    measure(asked) {
      const span = spanOf(asked)
      return (
        span && {
          id: asked.id,
          clip: asked.clip,
          subject: asked.subject,
          kind: 'peak-time',
          points: pointsOf(joints, asked),
          ...span,
          ...SIGNS[asked.turns],
        }
      )
    },
  },
  {
    name: 'peak above',
    group: 'Of time',
    says: 'from above: when hips or shoulders turn fastest',
    parts: ['limb', 'events'],
    limbs: lines,
    measure(asked) {
      const span = spanOf(asked)
      return (
        span && {
          id: asked.id,
          clip: asked.clip,
          subject: asked.subject,
          kind: 'peak-time',
          points: pointsOf(lines, asked),
          above: true,
          ...span,
        }
      )
    },
  },
  {
    name: 'peaks',
    group: 'Of time',
    says: 'which of two turns is at its fastest first',
    parts: ['peaks'],
    measure: ({ id, first, second }) =>
      first === '' || second === '' || first === second ? null : { id, kind: 'peak-order', measures: [first, second] },
  },
  {
    name: 'heading',
    group: 'Of the floor',
    says: 'how a foot points to the line between two people',
    parts: ['limb', 'line'],
    limbs: feet,
    measure(asked) {
      const floor = onFloor(asked)
      return floor && { ...floor, kind: 'foot-heading', points: pointsOf(feet, asked) }
    },
  },
  {
    name: 'off line',
    group: 'Of the floor',
    says: 'how far a foot stepped off that line',
    parts: ['limb', 'line'],
    limbs: feet,
    measure(asked) {
      const floor = onFloor(asked)
      return floor && { ...floor, kind: 'step-off-line', points: pointsOf(feet, asked).slice(1) }
    },
  },
  // The margin is written down by rules of its own: `statedComparison`.
  {
    name: 'comparison',
    group: 'Of several',
    says: 'more than, less than or the same as',
    parts: ['pair'],
    measure: ({ id, first, second }) =>
      first === '' || second === '' || first === second ? null : { id, kind: 'comparison', measures: [first, second] },
  },
  { name: 'count', group: 'Of several', says: 'in how many of the clips something is seen', parts: ['cases'], measure: counted },
  {
    name: 'eye',
    group: 'By eye',
    says: 'what I see by eye, with a value',
    parts: ['eye'],
    measure: (asked) =>
      asked.what.trim() === '' || asked.value.trim() === ''
        ? null
        : {
            id: asked.id,
            clip: asked.clip,
            subject: asked.subject,
            frame: asked.frame,
            kind: 'by-eye',
            what: asked.what,
            value: Number(asked.value),
            unit: asked.unit,
            ...(asked.unit === '°' ? { seen: asked.seen } : {}),
            ...(asked.u.trim() === '' ? {} : { u: Number(asked.u) }),
          },
  },
]

/// The question that made a measure, and what was chosen for it; null for one that is asked anew instead of changed.
export function askedFor(measure: Measure): { readonly question: Question; readonly choices: Choices } | null {
  const question = questions.find(({ name }) => name === measure.kind)
  if (!question) return null
  if (measure.kind === 'comparison')
    return {
      question,
      choices: {
        ...noChoices,
        first: measure.measures[0],
        second: measure.measures[1],
        delta: measure.margin ? String(measure.margin.delta) : '',
      },
    }
  if (measure.kind !== 'count') return null
  const state = (holds: boolean | null): CaseState => (holds === null ? 'not usable' : holds ? 'seen' : 'not seen')
  return {
    question,
    choices: {
      ...noChoices,
      what: measure.what,
      set: measure.set,
      cases: Object.fromEntries(measure.cases.map(({ clip, holds, note }) => [clip, { state: state(holds), note: note ?? '' }])),
    },
  }
}
