import type { Measure } from '../../app/project/question'

/// What can be asked of a foot on the stated floor, against the line from its person to another as they stood on one frame.

export interface FootAsked {
  readonly id: string
  readonly clip: string
  readonly subject: string
  readonly frame: number
  readonly kind: 'foot-heading' | 'step-off-line'
  /// left, right, lead or rear.
  readonly side: string
  readonly other: string
  readonly lineFrame: number
  /// The feet stand flat on the floor on both frames.
  readonly planted: boolean
}

/// Only the front of a foot is asked how far it stands off: a raised heel is read far off. Where a person stands is the middle of
/// the toes.
export const footMeasure = ({ id, clip, subject, frame, kind, side, other, lineFrame, planted }: FootAsked): Measure => ({
  id, clip, subject, frame, kind,
  points: kind === 'foot-heading' ? [`heel.${side}`, `toe.${side}`] : [`toe.${side}`],
  line: { frame: lineFrame, stands: [{ subject, points: ['toe.left', 'toe.right'] }, { subject: other, points: ['toe.left', 'toe.right'] }] },
  ...(planted ? { planted: true as const } : {}),
})
