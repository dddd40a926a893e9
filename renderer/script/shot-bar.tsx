import { ArrowDownToLine, ArrowUpToLine, Trash2 } from 'lucide-react'
import type { Breakdown } from '../../app/project/breakdown'
import type { Shot } from '../../app/project/picture'
import { newShot, type ShotKind } from './shot-changes'

/// What is open beneath the row's picture.
export type HandPanel = 'none' | 'change' | 'point' | 'names'

interface Props {
  readonly breakdown: Breakdown
  /// The shot that is seen; undefined where the paragraph has none of its own.
  readonly own: Shot | undefined
  readonly panel: HandPanel
  /// Whether there is a paragraph before (−1) or after (1).
  readonly hasBeside: (by: -1 | 1) => boolean
  readonly onAdd: (kind: ShotKind) => void
  readonly onPanel: (panel: HandPanel) => void
  readonly onCut: () => void
  readonly onMoveTo: (by: -1 | 1) => void
  readonly onDelete: () => void
}

/// What can be done to the shot that is seen, and shots to add behind it.
export function ShotBar({ breakdown, own, panel, hasBeside, onAdd, onPanel, onCut, onMoveTo, onDelete }: Props) {
  return (
    <div className="shot-bar">
      <select
        aria-label="Add a shot"
        value=""
        onChange={(event) => onAdd(event.target.value as ShotKind)}
        onKeyDown={(event) => event.stopPropagation()}
      >
        <option value="" disabled>
          Add a shot …
        </option>
        {newShot('run', breakdown, own) && <option value="run">run: a clip at a speed</option>}
        {newShot('hold', breakdown, own) && <option value="hold">hold: one frame, frozen</option>}
        {newShot('pair', breakdown, own) && <option value="pair">pair: two to four clips in step</option>}
        <option value="card">card: words</option>
      </select>
      {own && (
        <button type="button" aria-expanded={panel === 'change'} onClick={() => onPanel('change')}>
          Change
        </button>
      )}
      {own && !('pair' in own) && (
        <button type="button" onClick={onCut} title="cut the shot in two before this frame: X">
          Cut
        </button>
      )}
      {own && !('card' in own) && (
        <button type="button" aria-expanded={panel === 'point'} onClick={() => onPanel('point')}>
          Point
        </button>
      )}
      <button type="button" aria-expanded={panel === 'names'} onClick={() => onPanel('names')}>
        Names
      </button>
      {own &&
        ([-1, 1] as const).map((by) => (
          <button
            key={by}
            type="button"
            className="small"
            disabled={!hasBeside(by)}
            title={`to the paragraph ${by < 0 ? 'before: Alt+Up' : 'after: Alt+Down'} on the shot`}
            aria-label={`Move the shot to the paragraph ${by < 0 ? 'before' : 'after'}`}
            onClick={() => onMoveTo(by)}
          >
            {by < 0 ? <ArrowUpToLine size={16} aria-hidden="true" /> : <ArrowDownToLine size={16} aria-hidden="true" />}
          </button>
        ))}
      {own && (
        <button type="button" className="small" title="delete the shot: Delete" aria-label="Delete the shot" onClick={onDelete}>
          <Trash2 size={16} aria-hidden="true" />
        </button>
      )}
    </div>
  )
}
