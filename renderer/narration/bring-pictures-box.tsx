import type { CueShots } from '../../app/programme/cue-shots'

const PACES = ['1/8', '1/4', '1/2', '1'] as const

/// The pace that the room begins with.
export const FIRST_PACE = '1/4'

interface Props {
  readonly solved: CueShots
  readonly pace: string
  readonly onPace: (pace: string) => void
  /// A cue's time was not confirmed yet.
  readonly unsure: boolean
  readonly readOnly: boolean
  readonly onBring: () => void
}

/// Brings the pictures to the words at a pace, and says what stands in the way.
export function BringPicturesBox({ solved, pace, onPace, unsure, readOnly, onBring }: Props) {
  return (
    <div aria-label="Pictures">
      <label>
        pace{' '}
        <select value={pace} onChange={(event) => onPace(event.target.value)}>
          {PACES.map((each) => (
            <option key={each}>{each}</option>
          ))}
        </select>
      </label>{' '}
      <button type="button" disabled={readOnly || unsure} onClick={onBring}>
        Bring the pictures to the words
      </button>
      {unsure && <p className="quiet">Some words are not sure yet: hear and confirm them first.</p>}
      {solved.conflicts.map((conflict, i) => (
        <p key={i}>
          {conflict.problem}. Ways out: {conflict.ways.join('; ')}.
        </p>
      ))}
    </div>
  )
}
