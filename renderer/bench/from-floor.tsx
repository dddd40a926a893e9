import { useMemo } from 'react'
import { hallLines } from '../../app/body/landmark-name'
import { measureContext } from '../../app/measure/context'
import { elevationFromFloor, yawFromFloor } from '../../app/measure/floor-view'
import { reasons, type ReasonCode } from '../../app/measure/reason'
import type { AngleWithU } from '../../app/project/fields'
import type { Clip } from '../../app/project/film'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import { frameOf } from './hall-edits'
import { stateAngle, type ViewSpan } from './view-spans'

interface Props {
  readonly hand: BenchHand
  readonly clip: Clip
  readonly subject: string
  readonly span: ViewSpan | null
}

/// Elevation and yaw as the floor's marks tell them, beside what a person states: taken only where it is asked for.
export function FromFloor({ hand, clip, subject, span }: Props) {
  const project = useProject()
  const { breakdown, state, tables, readOnly } = useShown()
  const context = useMemo(() => (breakdown ? measureContext(breakdown, (footage) => tables.get(footage) ?? null) : null), [breakdown, tables])
  const frame = breakdown ? frameOf(breakdown, clip.id, subject, hallLines.facing, hand.frame) : null
  const found = useMemo(() => (context && clip.hall?.floor ? { elevation: elevationFromFloor(context, clip, subject, hand.frame), yaw: frame === null ? null : yawFromFloor(context, clip, subject, frame) } : null), [context, clip, subject, hand.frame, frame])
  if (!breakdown || !state || !span || !found || readOnly) return null
  const { elevation, yaw } = found
  const yawSpan = frame !== null && span.from <= frame && frame < span.to
  const take = (name: 'yaw' | 'elevation', angle: AngleWithU): void => void project.edit((now) => stateAngle(now, clip.id, subject, span, name, angle))
  return (
    <div className="from-line">
      <h3>From the floor</h3>
      {elevation.ok
        ? <p role="status">Frame {hand.frame}: the camera looks down on {elevation.value.to === 'hips' ? 'the middle of the hips' : 'the middle of the points placed'} by <strong>{degrees(elevation.value.angle.deg)}</strong> ± {elevation.value.angle.u.toFixed(1)}° (1 σ).</p>
        : <p role="status">{elevation.error === 'landmark-missing' ? 'Elevation: place the hips on this frame, for it is told to where the person stands.' : why('Elevation', elevation.error)}</p>}
      {elevation.ok && <Take name="elevation" stated={span.view?.elevation} onTake={() => take('elevation', elevation.value.angle)} />}
      <button type="button" onClick={() => hand.place(hallLines.facing)}>{frame === null ? 'Place a line on the floor along which they face' : 'Place the line along which they face again'}</button>
      {frame === null && <p className="quiet">First behind, then ahead: along the feet or the belt, as it falls on the floor.</p>}
      {yaw?.ok && <p role="status">Frame {frame}: that line is turned by <strong>{degrees(yaw.value.deg)}</strong> ± {yaw.value.u.toFixed(1)}° (1 σ) from facing right across the picture; 90° is towards the camera, 180° left.</p>}
      {yaw && !yaw.ok && <p role="status">{why('Yaw', yaw.error)}</p>}
      {yaw?.ok && yawSpan && <Take name="yaw" stated={span.view?.yaw} onTake={() => take('yaw', yaw.value)} />}
      {yaw?.ok && !yawSpan && <button type="button" onClick={() => hand.go(frame!)}>Go to frame {frame}, where the line is placed</button>}
    </div>
  )
}

/// Says what would give way: what a person stated is replaced by a press alone.
function Take({ name, stated, onTake }: { readonly name: 'yaw' | 'elevation'; readonly stated: AngleWithU | undefined; readonly onTake: () => void }) {
  return (
    <>
      <button type="button" onClick={onTake}>Take it as the {name}</button>
      {stated && <p className="quiet">Stated: {degrees(stated.deg)} ± {stated.u}°. Taking it puts this in its place.</p>}
    </>
  )
}

const degrees = (deg: number): string => `${deg.toFixed(1).replace('-', '−')}°`
const why = (what: string, code: ReasonCode): string => `${what}: ${reasons[code].wording}. ${reasons[code].advice}`
