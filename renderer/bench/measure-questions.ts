import type { Measure } from '../../app/project/question'
import { across, against, camera, ofEvents, onFloor, onFrame, since, spanOf, trunk, trunkLengths } from './measure-parts'
import type { Asked } from './question-choices'
import { feet, joints, lines, movers, pointsOf, travellers, type Limb } from './question-limbs'

/// A group of fields that a question needs.
export type Part = 'limb' | 'events' | 'since' | 'against' | 'turns' | 'table' | 'widths' | 'peaks' | 'pair' | 'cases' | 'line' | 'eye'

export const groups = ['Of this frame', 'Of motion', 'Of time', 'Of the floor', 'Of several', 'By eye'] as const

/// A measure by what one wants to say.
export interface Question {
  readonly name: string
  readonly group: (typeof groups)[number]
  readonly says: string
  readonly parts: readonly Part[]
  readonly limbs?: readonly Limb[]
  /// Null while something is missing.
  readonly measure: (asked: Asked) => Measure | null
}

/// A frame that was typed; null: none.
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
