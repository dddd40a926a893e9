import type { Breakdown } from '../../../app/project/breakdown'
import { Breakdown as Schema } from '../../../app/project/breakdown'
import type { Measure } from '../../../app/project/question'
import type { Sample } from '../../../app/project/film'
import type { MeasureOf } from '../../../app/measure/kind'
import { readingsOf } from '../../../app/measure/readings'
import type { Reading } from '../../../app/measure/reading'
import { evenFrameTable, type FrameTable } from '../../../app/time/frame-table'

/// A small bout: one subject, two clips of one film at 60 fps, the second of unknown rate.

export const table60: FrameTable = evenFrameTable(2000, { n: 60, d: 1 })
export const tableSized: FrameTable = { ...table60, picture: { width: 1280, height: 720 } }

export const standing: Readonly<Record<string, readonly [number, number]>> = {
  'hip.left': [600, 300],
  'hip.right': [630, 302],
  'knee.left': [640, 400],
  'knee.right': [590, 402],
  'ankle.left': [600, 500],
  'ankle.right': [520, 498],
  'shoulder.left': [610, 180],
  'shoulder.right': [650, 184],
  'elbow.left': [680, 220],
  'elbow.right': [700, 240],
  'wrist.left': [740, 190],
  'wrist.right': [700, 180],
}

export interface SceneParts {
  readonly points?: Readonly<Record<string, readonly [number, number]>>
  readonly sample?: Partial<Sample>
  readonly frame?: number
  readonly more?: Partial<Breakdown>
}

export function scene(
  measures: readonly Measure[],
  { points = standing, sample = { sigma: 4 }, frame = 460, more = {} }: SceneParts = {},
): Breakdown {
  return Schema.parse({
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Two right hands',
    output: { width: 1920, height: 1080, rate: '60/1' },
    footage: [{ id: 'f1', file: 'bout-a.mp4' }],
    subjects: [{ id: 's1', name: 'Nela Varga' }],
    clips: [
      { id: 'c1', footage: 'f1', from: 400, to: 830, capture: { factor: '1', u: 0 }, roll: { deg: 0, u: 1 } },
      { id: 'c2', footage: 'f1', from: 900, to: 1200, capture: 'unknown' },
    ],
    views: [{ clip: 'c1', subject: 's1', from: 400, to: 700, lead: 'left', yaw: { deg: 0, u: 5 }, elevation: { deg: 5, u: 3 } }],
    events: [
      { id: 'plant', clip: 'c1', name: 'plant', earliest: 442, latest: 442 },
      { id: 'contact', clip: 'c1', name: 'contact', earliest: 460, latest: 460 },
      { id: 'landing', clip: 'c1', name: 'landing', earliest: 460, latest: 462 },
      { id: 'replayed', clip: 'c2', name: 'contact', earliest: 960, latest: 961 },
      { id: 'again', clip: 'c2', name: 'plant', earliest: 930, latest: 930 },
    ],
    landmarks: Object.entries(points).map(([point, at]) => ({ clip: 'c1', subject: 's1', point, samples: [{ frame, at, ...sample }] })),
    measures,
    script: [],
    ...more,
  })
}

export function read(measure: Measure, parts: SceneParts & { readonly table?: FrameTable | null } = {}): Reading {
  const [reading] = readingsOf(scene([measure], parts), () => (parts.table === undefined ? table60 : parts.table))
  return reading!
}

export const knee: MeasureOf['joint-angle'] = {
  id: 'm1',
  kind: 'joint-angle',
  clip: 'c1',
  subject: 's1',
  frame: 460,
  points: ['hip.left', 'knee.left', 'ankle.left'],
}
