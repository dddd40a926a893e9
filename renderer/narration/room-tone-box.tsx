import type { Take } from '../../app/contract/take-calls'
import { withMinus } from '../../app/measure/minus'
import type { RoomTone } from './use-room-tone'

interface Props {
  readonly tone: RoomTone
  readonly tones: readonly Take[]
  /// The file that fills the film's gaps.
  readonly chosen: string | undefined
  readonly remark: string | null
  readonly readOnly: boolean
  readonly busy: boolean
  readonly onChoose: (file: string) => void
}

/// The quiet of the room: recorded once, kept, and put into the gaps of the film.
export function RoomToneBox({ tone, tones, chosen, remark, readOnly, busy, onChoose }: Props) {
  const { state, meter } = tone
  return (
    <div role="group" aria-label="Room tone">
      <div className="take-row">
        <span>{state === 'recording' ? 'keep still …' : 'room tone'}</span>
        <span className="figures">
          {state === 'recording' && meter
            ? `${meter.seconds.toFixed(1)} s, ${withMinus(meter.floor.toFixed(0))} dB`
            : chosen === undefined
              ? 'none: gaps are silent'
              : ''}
        </span>
        <button type="button" title="Q" disabled={readOnly || busy || state === 'ending' || state === 'starting'} onClick={tone.toggle}>
          {state === 'recording' ? 'Enough' : 'Keep the quiet'}
        </button>
        {(tone.problem ?? remark) && <p>{tone.problem ?? remark}</p>}
      </div>
      {chosen !== undefined && !tones.some(({ file }) => file === chosen) && (
        <div className="take-row">
          <strong>{chosen}</strong>
          <span />
          <span>in the film</span>
        </div>
      )}
      {tones.map((take) => (
        <div key={take.id} className="take-row">
          <strong>{take.id}</strong>
          <span className="figures">{(take.samples / take.sampleRate).toFixed(1)} s</span>
          {take.file === chosen ? (
            <span>in the film</span>
          ) : (
            <button type="button" disabled={readOnly || take.file === null} onClick={() => take.file !== null && onChoose(take.file)}>
              Use
            </button>
          )}
        </div>
      ))}
    </div>
  )
}
