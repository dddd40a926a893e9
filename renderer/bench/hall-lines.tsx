import { useMemo, useState } from 'react'
import { hallLines } from '../../app/body/landmark-name'
import { cameraRoll, type LineKind } from '../../app/measure/camera-roll'
import { measureContext } from '../../app/measure/context'
import { reasons } from '../../app/measure/reason'
import type { Clip } from '../../app/project/film'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import { frameOf, ofClip, stateRoll } from './hall-edits'

/// The camera's roll from two points of a line that is known to be upright or level.
export function RollFromLine({ hand, clip, subject }: { readonly hand: BenchHand; readonly clip: Clip; readonly subject: string }) {
  const project = useProject()
  const { breakdown, tables, readOnly } = useShown()
  const [kind, setKind] = useState<LineKind>('upright')
  const context = useMemo(() => (breakdown ? measureContext(breakdown, (footage) => tables.get(footage) ?? null) : null), [breakdown, tables])
  if (!breakdown || !context || readOnly) return null
  const frame = frameOf(breakdown, clip.id, subject, hallLines[kind], hand.frame)
  const found = frame === null ? null : cameraRoll(context, clip, subject, kind, frame)
  return (
    <div className="from-line">
      <label>
        Roll from a line that is{' '}
        <select value={kind} onChange={({ target }) => setKind(target.value as LineKind)}>
          <option value="upright">upright: a post, a door frame</option>
          <option value="level">level: square to the camera</option>
        </select>
      </label>
      <button type="button" onClick={() => hand.place(hallLines[kind])}>{frame === null ? 'Place the line’s two ends' : 'Place the line’s ends again'}</button>
      {found?.ok && <p role="status">On frame {frame} the line says <strong>{found.value.deg.toFixed(1).replace('-', '−')}°</strong> ± {found.value.u.toFixed(1)}° (1 σ) of roll.</p>}
      {found && !found.ok && <p role="status">{reasons[found.error].wording}. {reasons[found.error].advice}</p>}
      {found?.ok && <button type="button" onClick={() => void project.edit(ofClip(clip.id, (now) => stateRoll(now, found.value)))}>Take it as the roll</button>}
      {frame === null && <p className="quiet">Ends far apart, and near the picture’s middle, tell it best.</p>}
    </div>
  )
}
