import type { Breakdown } from '../../app/project/breakdown'
import type { Event } from '../../app/project/film'
import type { Truth } from '../film/truth'
import { placePoints, type Wish } from './placing'

/// What the demo's analyst marked and asked: clips, events, points, measures. Events are bracketed
/// as a person could, points are placed by a simulated hand; no value is written here.

export type Truths = ReadonlyMap<string, Truth>
export type Evidence = Pick<Breakdown, 'footage' | 'subjects' | 'clips' | 'views' | 'events' | 'landmarks' | 'measures'>

/// Frames that matter, per clip.
export interface Moments {
  readonly contact: Readonly<Record<ClipId, number>>
  readonly hips: Readonly<Record<ClipId, number>>
  readonly shoulders: Readonly<Record<ClipId, number>>
  readonly frames: Readonly<Record<ClipId, number>>
}

export const CLIPS = { c1: 'bout-a-side', c2: 'bout-b-side', c3: 'bout-a-high', c4: 'bout-b-far', c5: 'bout-b-replay' } as const
export type ClipId = keyof typeof CLIPS
const clipIds = Object.keys(CLIPS) as ClipId[]

export const BOXERS = { s1: 'Nela Varga', s2: 'Ruta Selmane' } as const
const boxerOf: Readonly<Record<ClipId, keyof typeof BOXERS>> = { c1: 's1', c2: 's2', c3: 's1', c4: 's2', c5: 's2' }

export function truthOf(truths: Truths, clip: ClipId): Truth {
  const truth = truths.get(CLIPS[clip])
  if (!truth) throw new RangeError(`the truth of ${CLIPS[clip]} is missing`)
  return truth
}

export function momentsOf(truths: Truths): Moments {
  const each = (pick: (t: Truth) => number): Record<ClipId, number> =>
    Object.fromEntries(clipIds.map((c) => [c, pick(truthOf(truths, c))])) as Record<ClipId, number>
  return {
    contact: each((t) => Math.floor(t.contact.frame)),
    hips: each((t) => Math.round(t.turns.hips)),
    shoulders: each((t) => Math.round(t.turns.shoulders)),
    frames: each((t) => t.frames),
  }
}

/// The fastest turn of a line is marked by eye to within this many frames either way.
const TURN_BRACKET = 3

export function evidenceOf(truths: Truths): Evidence {
  const at = momentsOf(truths)
  const contact = (id: string, clip: ClipId): Event => ({
    id,
    clip,
    name: 'contact',
    earliest: at.contact[clip],
    latest: at.contact[clip] + 1,
    definition: 'The last frame with a gap between glove and bag, and the first without.',
  })
  const turn = (id: string, clip: ClipId, what: 'hips' | 'shoulders'): Event => ({
    id,
    clip,
    name: what === 'hips' ? 'hip turn' : 'shoulder turn',
    earliest: at[what][clip] - TURN_BRACKET,
    latest: at[what][clip] + TURN_BRACKET,
    definition: `Where the line through both ${what} turns fastest towards the bag, by eye, three frames either way.`,
  })
  return {
    footage: [
      {
        id: 'f1',
        file: 'bout-a-side.mp4',
        source: {
          owner: 'Lantern Yard Boxing Club',
          where: 'club ring, ringside',
          when: 'open evening',
          basis: "with the club's leave",
          credit: 'Lantern Yard club archive, ringside',
        },
      },
      {
        id: 'f2',
        file: 'bout-b-side.mp4',
        source: {
          owner: 'Lantern Yard Boxing Club',
          where: 'club ring, far side',
          when: 'late show',
          basis: "with the club's leave",
          credit: 'Lantern Yard club archive, far side',
        },
      },
      {
        id: 'f3',
        file: 'bout-a-high.mp4',
        source: {
          owner: 'Lantern Yard Boxing Club',
          where: 'lamp rig',
          when: 'open evening',
          basis: "with the club's leave",
          credit: 'Lantern Yard club archive, lamp rig',
        },
      },
      {
        id: 'f4',
        file: 'bout-b-far.mp4',
        source: {
          owner: 'Lantern Yard Boxing Club',
          where: 'corner post',
          when: 'late show',
          basis: "with the club's leave",
          credit: 'Lantern Yard club archive, corner camera',
        },
      },
      {
        id: 'f5',
        file: 'bout-b-replay.mp4',
        source: {
          owner: 'Lantern Yard Boxing Club',
          where: 'hall screen',
          when: 'late show',
          basis: "with the club's leave",
          credit: 'Lantern Yard hall screen, replay',
        },
      },
    ],
    subjects: Object.entries(BOXERS).map(([id, name]) => ({ id, name })),
    clips: [
      {
        id: 'c1',
        footage: 'f1',
        from: 0,
        to: at.frames.c1,
        name: 'Varga, ringside',
        bout: 'open evening',
        technique: 'lead right hand on the bag',
        capture: { factor: '1', u: 0 },
        roll: { deg: 0, u: 0.5 },
        picture: 'live',
      },
      {
        id: 'c2',
        footage: 'f2',
        from: 0,
        to: at.frames.c2,
        name: 'Selmane, far side',
        bout: 'late show',
        technique: 'lead right hand on the bag',
        capture: { factor: '1', u: 0 },
        mirrored: true,
        roll: { deg: 0, u: 0.5 },
        picture: 'live',
      },
      {
        id: 'c3',
        footage: 'f3',
        from: 0,
        to: at.frames.c3,
        name: 'Varga, from above',
        bout: 'open evening',
        technique: 'lead right hand on the bag',
        capture: { factor: '1', u: 0 },
        picture: 'live',
      },
      {
        id: 'c4',
        footage: 'f4',
        from: 0,
        to: at.frames.c4,
        name: 'Selmane, corner',
        bout: 'late show',
        technique: 'lead right hand on the bag',
        capture: { factor: '1', u: 0 },
        roll: { deg: 0, u: 1 },
        picture: 'live',
      },
      {
        id: 'c5',
        footage: 'f5',
        from: 0,
        to: at.frames.c5,
        name: 'Selmane, replay',
        bout: 'late show',
        technique: 'lead right hand on the bag',
        capture: 'unknown',
        picture: 'replay',
      },
    ],
    views: [
      { clip: 'c1', subject: 's1', from: 0, to: at.frames.c1, lead: 'right', yaw: { deg: 0, u: 8 }, elevation: { deg: 5, u: 3 } },
      { clip: 'c2', subject: 's2', from: 0, to: at.frames.c2, lead: 'right', yaw: { deg: 180, u: 8 }, elevation: { deg: 5, u: 3 } },
      { clip: 'c3', subject: 's1', from: 0, to: at.frames.c3, lead: 'right', elevation: { deg: 54, u: 3 } },
      { clip: 'c4', subject: 's2', from: 0, to: at.frames.c4, lead: 'right', yaw: { deg: 125, u: 8 }, elevation: { deg: 8, u: 3 } },
      { clip: 'c5', subject: 's2', from: 0, to: at.frames.c5, lead: 'right' },
    ],
    events: [
      contact('e1', 'c1'),
      contact('e2', 'c2'),
      contact('e3', 'c3'),
      contact('e4', 'c4'),
      contact('e5', 'c5'),
      turn('e6', 'c1', 'hips'),
      turn('e7', 'c1', 'shoulders'),
      turn('e8', 'c2', 'hips'),
      turn('e9', 'c2', 'shoulders'),
      turn('e10', 'c3', 'hips'),
      turn('e11', 'c5', 'shoulders'),
    ],
    landmarks: placePoints(wishes(at), truths, 41),
    measures: [
      { id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: at.contact.c1, points: ['hip.lead', 'knee.lead', 'ankle.lead'] },
      { id: 'm2', kind: 'joint-angle', clip: 'c2', subject: 's2', frame: at.contact.c2, points: ['hip.lead', 'knee.lead', 'ankle.lead'] },
      { id: 'm3', kind: 'line-lean', clip: 'c1', subject: 's1', frame: at.contact.c1, points: ['hip.mid', 'shoulder.mid'] },
      {
        id: 'm4',
        kind: 'joint-angle',
        clip: 'c1',
        subject: 's1',
        frame: at.contact.c1,
        points: ['shoulder.rear', 'elbow.rear', 'wrist.rear'],
      },
      {
        id: 'm5',
        kind: 'line-angle',
        clip: 'c3',
        subject: 's1',
        frame: at.hips.c3,
        points: ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right'],
      },
      {
        id: 'm6',
        kind: 'line-angle',
        clip: 'c3',
        subject: 's1',
        frame: at.contact.c3,
        points: ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right'],
      },
      { id: 'm7', kind: 'order', clip: 'c1', from: 'e6', to: 'e7' },
      { id: 'm8', kind: 'order', clip: 'c2', from: 'e8', to: 'e9' },
      { id: 'm9', kind: 'time-between', clip: 'c1', from: 'e6', to: 'e1' },
      {
        id: 'm10',
        kind: 'distance',
        clip: 'c1',
        subject: 's1',
        frame: at.contact.c1,
        points: ['ankle.rear', 'ankle.lead'],
        unit: { points: ['hip.mid', 'shoulder.mid'], frame: at.contact.c1, name: 'trunk lengths' },
        label: 'stance, ankle to ankle',
      },
      { id: 'm11', kind: 'time-between', clip: 'c5', from: 'e11', to: 'e5' },
      { id: 'm12', kind: 'frame-count', clip: 'c5', from: 'e11', to: 'e5' },
      { id: 'm13', kind: 'joint-angle', clip: 'c4', subject: 's2', frame: at.contact.c4, points: ['hip.lead', 'knee.lead', 'ankle.lead'] },
      { id: 'm14', kind: 'comparison', measures: ['m1', 'm2'] },
    ],
  }
}

const every = (from: number, to: number): number[] => Array.from({ length: Math.max(0, to - from) }, (_, i) => from + i)

function wishes(at: Moments): Wish[] {
  const on = (clip: ClipId, frame: number, points: readonly string[]): Wish[] =>
    points.map((point) => ({ film: CLIPS[clip], clip, subject: boxerOf[clip], point, frames: [frame], repeats: 3 }))
  const follow = (clip: ClipId, from: number, to: number, points: readonly string[], except: readonly number[] = []): Wish[] =>
    points.map((point) => ({
      film: CLIPS[clip],
      clip,
      subject: boxerOf[clip],
      point,
      frames: every(from, to).filter((f) => !except.includes(f)),
      origin: 'tracked' as const,
    }))
  const lines = ['hip.left', 'hip.right', 'shoulder.left', 'shoulder.right']
  const leg = ['hip.right', 'knee.right', 'ankle.right']
  const c1 = at.contact.c1
  const c3 = [at.hips.c3, at.contact.c3]
  return [
    ...on('c1', c1, [...leg, 'hip.left', 'shoulder.left', 'shoulder.right', 'elbow.left', 'wrist.left', 'ankle.left', 'fist.right']),
    ...on('c2', at.contact.c2, [...leg, 'hip.left', 'shoulder.left', 'shoulder.right', 'fist.right']),
    ...c3.flatMap((frame) => on('c3', frame, lines)),
    ...on('c4', at.contact.c4, leg),
    ...follow('c1', 0, Math.min(at.frames.c1, c1 + 12), lines, [c1]),
    ...follow('c1', c1 - 34, c1 + 12, ['fist.right'], [c1]),
    ...follow('c3', 0, at.frames.c3, lines, c3),
    ...follow('c5', at.contact.c5 - 20, Math.min(at.frames.c5, at.contact.c5 + 10), ['fist.right']),
  ]
}
