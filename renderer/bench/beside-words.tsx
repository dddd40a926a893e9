import { lockWords, matchWords, type Lock } from './beside'

interface Props {
  readonly lock: Lock
  readonly frame: number | null
  readonly by: number
  readonly onLockOn: (event: string) => void
}

/// Beneath the clip beside: which it is, its frame, and the event that both are locked on; another one may be chosen where they
/// share more.
export function BesideWords({ lock, frame, by, onLockOn }: Props) {
  const { clip, on, shared } = lock
  return (
    <div className="beside-words">
      <span role="status">
        {clip.name ?? clip.id} · frame {frame} · {shared.length > 1 ? ['locked', ...matchWords(lock, by)].join(', ') : lockWords(lock, by)}
      </span>
      {shared.length > 1 && (
        <select aria-label="Event that both clips are locked on" value={on.name} onChange={(event) => onLockOn(event.target.value)}>
          {shared.map((name) => (
            <option key={name} value={name}>
              on {name}
            </option>
          ))}
        </select>
      )}
    </div>
  )
}
