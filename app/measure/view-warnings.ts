import type { MeasureContext } from './context'
import type { OnFrame } from './on-frame'
import type { ReasonCode } from './reason'

/// What the view card says about angles that are read off the picture. Obliquity changes the
/// wording and the advice of an apparent angle, never its error.

const OBLIQUE_DEG = 20
const OBLIQUE_LEAN_DEG = 15
const HIGH_DEG = 25

/// Degrees between the camera's axis and the body's side-on or square view, whichever is asked:
/// yaw is folded so that 0 and 180 are the same view from either side.
const obliquityOf = (yaw: number): number => {
  const folded = Math.abs(yaw) % 180
  return Math.min(folded, 180 - folded)
}

/// How far the view is from square to the body: 0 when the camera stands side-on, in front or behind.
const offSquare = (yaw: number): number => {
  const folded = Math.abs(yaw) % 90
  return Math.min(folded, 90 - folded)
}

export function viewWarnings(context: MeasureContext, { clip, subject, frame }: OnFrame, kind: 'joint' | 'lean'): ReasonCode[] {
  const view = context.view(clip, subject, frame)
  const codes: ReasonCode[] = []
  if (view?.yaw && kind === 'joint' && obliquityOf(view.yaw.deg) > OBLIQUE_DEG) codes.push('view-oblique')
  if (view?.yaw && kind === 'lean' && offSquare(view.yaw.deg) > OBLIQUE_LEAN_DEG) codes.push('view-oblique-lean')
  if (view?.elevation && Math.abs(view.elevation.deg) > HIGH_DEG) codes.push('elevation-over-25')
  return codes
}
