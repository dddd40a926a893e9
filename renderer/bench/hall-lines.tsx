import { useMemo, useState } from 'react'
import { hallLines } from '../../app/body/landmark-name'
import { cameraRoll, type LineKind } from '../../app/measure/camera-roll'
import { measureContext } from '../../app/measure/context'
import { withMinus } from '../../app/measure/minus'
import { reasons } from '../../app/measure/reason'
import type { Clip } from '../../app/project/film'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import { frameOf, ofClip, stateRoll } from './hall-edits'
import type { ToldByHall } from './use-hall-view'

/// The camera's roll from two points of a line that is known to be upright or level; lines at right angles tell it with the lens,
/// where a post alone must guess it.
export function RollFromLine({
  hand,
  clip,
  subject,
  told,
}: {
  readonly hand: BenchHand
  readonly clip: Clip
  readonly subject: string
  readonly told: ToldByHall
}) {
  const project = useProject()
  const { breakdown, tables, readOnly } = useShown()
  const [kind, setKind] = useState<LineKind>('upright')
  const context = useMemo(
    () => (breakdown ? measureContext(breakdown, (footage) => tables.get(footage) ?? null) : null),
    [breakdown, tables],
  )
  if (!breakdown || !context || readOnly) return null
  const frame = frameOf(breakdown, clip.id, subject, hallLines[kind], hand.frame)
  const better = told.view?.lines?.ok === true && told.view.lines.value.roll.ok
  const found = frame === null || better ? null : cameraRoll(context, clip, subject, kind, frame)
  return (
    <div className="from-line">
      <label>
        Roll from a line that is{' '}
        <select value={kind} onChange={({ target }) => setKind(target.value as LineKind)}>
          <option value="upright">upright: a post, a door frame</option>
          <option value="level">level: square to the camera</option>
        </select>
      </label>
      <button type="button" onClick={() => hand.place(hallLines[kind])}>
        {frame === null ? 'Place the line’s two ends' : 'Place the line’s ends again'}
      </button>
      {found?.ok && (
        <p role="status">
          On frame {frame} the line says <strong>{withMinus(found.value.deg.toFixed(1))}°</strong> ± {found.value.u.toFixed(1)}° (1 σ) of
          roll.
        </p>
      )}
      {found && !found.ok && (
        <p role="status">
          {reasons[found.error].wording}. {reasons[found.error].advice}
        </p>
      )}
      {found?.ok && (
        <button type="button" onClick={() => void project.edit(ofClip(clip.id, (now) => stateRoll(now, found.value)))}>
          Take it as the roll
        </button>
      )}
      {better && <p className="quiet">The lines at right angles tell the roll, and know the lens besides: see below.</p>}
      {frame === null && !better && <p className="quiet">Ends far apart, and near the picture’s middle, tell it best.</p>}
    </div>
  )
}
