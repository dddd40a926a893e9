import { useMemo } from 'react'
import { hallLines } from '../../app/body/landmark-name'
import type { MeasureContext } from '../../app/measure/context'
import { hallView, type HallView } from '../../app/measure/hall-view'
import { hasLines } from '../../app/measure/line-view'
import type { Clip } from '../../app/project/film'
import { frameOf } from './hall-edits'

export interface ToldByHall {
  /// Null where the clip has neither floor marks nor lines at right angles.
  readonly view: HallView | null
  /// The frame on which a line along which the person faces is placed; null: there is none.
  readonly facing: number | null
}

/// What the hall tells of the view on a frame, found once for all of the View sheet.
export function useHallView(context: MeasureContext | null, clip: Clip | null, subject: string | null, frame: number): ToldByHall {
  const known = context && clip && subject !== null ? { context, clip, subject } : null
  const facing = known && frameOf(known.context.breakdown, known.clip.id, known.subject, hallLines.facing, frame)
  const view = useMemo(
    () => known && hallView(known.context, known.clip, known.subject, frame, facing, hasLines(known.context, known.clip, known.subject)),
    [context, clip, subject, frame, facing],
  )
  return { view, facing }
}
