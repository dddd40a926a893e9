import { isOfHall } from '../../app/body/landmark-name'
import type { Breakdown } from '../../app/project/breakdown'

/// Whose points were placed first on a clip; null: nobody's.
export const firstSubject = (breakdown: Breakdown, clip: string): string | null =>
  breakdown.landmarks?.find((l) => l.clip === clip)?.subject ?? null

/// Whether a person has points on a clip, or a view stated.
export const isOnClip = ({ landmarks = [], views = [] }: Breakdown, clip: string, subject: string): boolean =>
  [...landmarks, ...views].some((each) => each.clip === clip && each.subject === subject)

/// Whose points come in hand as a clip is opened on a frame: of the person who was in hand last, where they are on this clip; else
/// of whom a point of the body stands nearest to the frame, of two as near the one placed first; else the first placed. Null: nobody
/// is on the clip.
export function subjectInHand(breakdown: Breakdown, clip: string, frame: number, last: string | null): string | null {
  if (last !== null && isOnClip(breakdown, clip, last)) return last
  let nearest: { readonly subject: string; readonly far: number } | null = null
  for (const landmark of breakdown.landmarks ?? []) {
    if (landmark.clip !== clip || isOfHall(landmark.point)) continue
    const far = landmark.samples.reduce((least, sample) => Math.min(least, Math.abs(sample.frame - frame)), Infinity)
    if (far < (nearest?.far ?? Infinity)) nearest = { subject: landmark.subject, far }
  }
  return nearest?.subject ?? firstSubject(breakdown, clip)
}
