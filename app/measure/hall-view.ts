import type { AngleWithU } from '../project/fields'
import type { Clip } from '../project/film'
import type { Result } from '../result'
import type { MeasureContext } from './context'
import { elevationFromFloor, yawFromFloor } from './floor-view'
import { elevationFromLines, seenByLines, yawFromLines, type SeenByLines } from './line-view'
import type { ReasonCode } from './reason'
import type { ElevationToPerson } from './sight'

/// What the hall tells of how the camera looks at a person: by the floor's marks where they tell it, else by lines at right angles.

export interface ByHall<T> {
  readonly by: 'floor' | 'lines'
  readonly found: Result<T, ReasonCode>
}

export interface HallView {
  readonly elevation: ByHall<ElevationToPerson>
  /// Null while no line along which they face is placed.
  readonly yaw: ByHall<AngleWithU> | null
  /// The camera by the lines, where any are asked for.
  readonly lines: Result<SeenByLines, ReasonCode> | null
}

/// `facing`: the frame on which a line along which the person faces is placed, if there is one. `lines`: whether any are drawn in the
/// clip. Marks stand before lines: their places are known, and they tell the same plane that the person stands on. Null where the
/// clip has neither.
export function hallView(
  context: MeasureContext,
  clip: Clip,
  subject: string,
  frame: number,
  facing: number | null,
  lines: boolean,
): HallView | null {
  const floor = clip.hall?.floor !== undefined
  if (!floor && !lines) return null
  const seen = lines ? seenByLines(context, clip, subject, frame) : null
  const faced = lines && facing !== null ? (facing === frame ? seen : seenByLines(context, clip, subject, facing)) : null
  return {
    elevation: better(
      floor ? elevationFromFloor(context, clip, subject, frame) : null,
      () => seen && elevationFromLines(context, clip, subject, frame, seen),
    ),
    yaw:
      facing === null
        ? null
        : better(
            floor ? yawFromFloor(context, clip, subject, facing) : null,
            () => faced && yawFromLines(context, clip, subject, facing, faced),
          ),
    lines: seen,
  }
}

/// The floor's where it tells, else the lines'; where neither does, why the floor does not.
function better<T>(floor: Result<T, ReasonCode> | null, lines: () => Result<T, ReasonCode> | null): ByHall<T> {
  if (floor?.ok) return { by: 'floor', found: floor }
  const found = lines()
  if (found && (found.ok || !floor)) return { by: 'lines', found }
  return { by: 'floor', found: floor! }
}
