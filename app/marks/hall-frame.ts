import { isBackground } from '../body/landmark-name'
import { applySimilarity, similarityOf, type Similarity } from '../geometry/similarity'
import type { MeasureContext } from '../measure/context'
import type { Point } from '../project/fields'
import type { Camera } from '../project/question'
import type { Steady } from './followed-point'

/// Ways drawn in the hall's frame: each place is carried by the background from its own frame's picture into the one shown, so
/// that a camera that goes along draws no way of its own. What is drawn rests on a turn, a scale and a shift (a homography for
/// every pair of frames would take seconds a picture); what is measured does not (`measure/camera-motion`).

/// With fewer places on both frames nothing is carried: two always agree, so nothing would bear them out.
const LEAST = 3

/// The places of the hall that were followed by themselves in a clip.
export const backgroundOf = (measures: MeasureContext, clip: string, subject: string): string[] =>
  (measures.breakdown.landmarks ?? [])
    .filter((landmark) => landmark.clip === clip && landmark.subject === subject && isBackground(landmark.point))
    .map(({ point }) => point)

/// Into the picture of `frame`; everything as it was seen, where the camera stood still or nothing is known of it.
export function steadyAt(measures: MeasureContext, clip: string, subject: string, camera: Camera | undefined, frame: number): Steady {
  if (camera === undefined || camera === 'still') return (_, at) => at
  const here = placesOf(measures, clip, subject, camera.background, frame)
  const known = new Map<number, Similarity | null>()
  return (other, at) => {
    if (other === frame) return at
    if (!known.has(other)) {
      const there = placesOf(measures, clip, subject, camera.background, other)
      const names = [...there.keys()].filter((name) => here.has(name))
      known.set(
        other,
        names.length < LEAST
          ? null
          : similarityOf(
              names.map((name) => there.get(name)!),
              names.map((name) => here.get(name)!),
            ),
      )
    }
    const map = known.get(other)
    return map ? applySimilarity(map, at) : null
  }
}

function placesOf(measures: MeasureContext, clip: string, subject: string, names: readonly string[], frame: number): Map<string, Point> {
  const places = new Map<string, Point>()
  for (const name of names) {
    const samples = measures.samples(clip, subject, name, frame)
    if (samples.length > 0)
      places.set(name, [
        samples.reduce((sum, s) => sum + s.at[0], 0) / samples.length,
        samples.reduce((sum, s) => sum + s.at[1], 0) / samples.length,
      ])
  }
  return places
}
