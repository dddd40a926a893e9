import type { Pinhole } from '../../../demo-data/mocap/camera'
import type { Vector3 } from '../../../demo-data/mocap/bvh'
import { Breakdown } from '../../../app/project/breakdown'
import type { Measure } from '../../../app/project/question'
import type { Clip, Event, View } from '../../../app/project/film'
import type { Pose } from './trial'
import type { Random } from './random'

/// Builds a breakdown as an analyst would leave it: landmarks seen by a known camera, placed with
/// known errors.

export interface Placing {
  /// σ per axis of each placing, px; stated on the sample when `stated`, else left to the default.
  readonly click_px: number
  /// σ per axis of the constant offset of each landmark in the clip, px.
  readonly anatomical_px: number
  readonly stated: boolean
}

export const EXACT: Placing = { click_px: 0, anatomical_px: 0, stated: false }

export type Sample = { frame: number; at: [number, number]; sigma?: number }

/// Samples of every landmark on the given frames, as the camera shows them, with placing errors.
export function placedBy(
  camera: Pinhole | ((frame: number) => Pinhole),
  poses: ReadonlyMap<number, Pose> | readonly (readonly [number, Pose])[],
  placing: Placing,
  random: Random,
  prefix = '',
): { point: string; samples: Sample[] }[] {
  const byPoint = new Map<string, Sample[]>()
  const offsets = new Map<string, [number, number]>()
  for (const [frame, pose] of poses)
    for (const [point, at] of pose) {
      const { x, y } = (typeof camera === 'function' ? camera(frame) : camera).project(at as Vector3)
      let offset = offsets.get(point)
      if (!offset) offsets.set(point, (offset = [placing.anatomical_px * random.normal(), placing.anatomical_px * random.normal()]))
      const noisy: [number, number] = [
        x + offset[0] + placing.click_px * random.normal(),
        y + offset[1] + placing.click_px * random.normal(),
      ]
      const samples = byPoint.get(point) ?? []
      byPoint.set(point, samples)
      samples.push(placing.stated ? { frame, at: noisy, sigma: placing.click_px } : { frame, at: noisy })
    }
  return [...byPoint].map(([point, samples]) => ({ point: prefix + point, samples }))
}

export interface FilmedParts {
  readonly clips: readonly Clip[]
  readonly landmarks: readonly { clip: string; subject?: string; point: string; samples: Sample[] }[]
  readonly measures: readonly Measure[]
  readonly views?: readonly View[]
  readonly events?: readonly Event[]
  /// Further tables of the document.
  readonly more?: Readonly<Record<string, unknown>>
}

/// The whole document, checked by its own schema.
export function filmed(parts: FilmedParts): Breakdown {
  return Breakdown.parse({
    format: 'claimframe-breakdown',
    version: 1,
    title: 'A trial',
    output: { width: 1280, height: 720, rate: '60' },
    footage: [{ id: 'f', file: 'trial.mp4' }],
    subjects: [{ id: 's', name: 'Nela Varga' }],
    clips: parts.clips,
    ...(parts.views ? { views: parts.views } : {}),
    ...(parts.events ? { events: parts.events } : {}),
    landmarks: parts.landmarks.map((l) => ({ subject: 's', ...l })),
    measures: parts.measures,
    script: [],
    ...parts.more,
  })
}

export const clipOf = (id: string, more: Partial<Clip> = {}): Clip => ({
  id,
  footage: 'f',
  from: 0,
  to: 1_000_000,
  capture: { factor: '1', u: 0 },
  roll: { deg: 0, u: 0 },
  ...more,
})
