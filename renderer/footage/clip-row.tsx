import { stillAddress } from '../../app/contract/addresses'
import type { Clip } from '../../app/project/film'
import { goTo } from '../state/place'
import { clipFacts } from './film-words'

interface Props {
  readonly clip: Clip
  /// Who was placed, or whose view was stated, on it.
  readonly names: readonly string[]
  /// Its film can be shown.
  readonly ready: boolean
  readonly readOnly: boolean
  readonly onChange: () => void
  readonly onRemove: () => void
}

/// A clip of the shelf, with the way to the Bench.
export function ClipRow({ clip, names, ready, readOnly, onChange, onRemove }: Props) {
  const name = clip.name ?? clip.id
  return (
    <li className={clip.use?.state === 'rejected' ? 'clip rejected' : 'clip'}>
      <div className="clip-still">
        {ready && (
          <img
            className={clip.mirrored ? 'mirrored' : undefined}
            src={stillAddress(clip.footage, Math.floor((clip.from + clip.to) / 2), 160)}
            alt=""
            loading="lazy"
          />
        )}
      </div>
      <div>
        <strong>{name}</strong> {[names.join(' and '), clip.bout, clip.technique].filter(Boolean).join(' · ')}
        <div className="quiet">{clipFacts(clip)}</div>
        {clip.use && (
          <div>
            {clip.use.state === 'used' ? '✓ used' : '✕ rejected'}
            {clip.use.reason ? `: ${clip.use.reason}` : ''}
          </div>
        )}
      </div>
      <div className="actions">
        <button
          type="button"
          onClick={() => goTo({ room: 'Bench', clip: clip.id, frame: clip.from })}
          aria-label={`Measure ${name} on the Bench`}
        >
          Measure
        </button>
        {!readOnly && (
          <button type="button" onClick={onChange} aria-label={`Change ${name}`}>
            Change
          </button>
        )}
        {!readOnly && (
          <button type="button" onClick={onRemove} aria-label={`Remove ${name}`}>
            Remove
          </button>
        )}
      </div>
    </li>
  )
}
