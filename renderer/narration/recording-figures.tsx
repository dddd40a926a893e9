import { withMinus } from '../../app/measure/minus'
import type { OwnRate } from '../../app/programme/own-rate'
import type { Recording } from './use-recording'

interface Props {
  readonly recording: Pick<Recording, 'state' | 'meter'>
  /// How long the paragraph should take, with its error of 95 %, and what that is reckoned from.
  readonly expected: { readonly seconds: number; readonly U: number }
  readonly own: OwnRate
}

/// The recording's length and levels, beside the length that the words should have.
export function RecordingFigures({ recording: { state, meter }, expected, own }: Props) {
  return (
    <dl>
      <dt>{state === 'recording' ? 'recording' : 'last recording'}</dt>
      <dd>{meter ? `${meter.seconds.toFixed(1)} s` : '–'}</dd>
      <dt>level</dt>
      <dd>{meter ? `${withMinus(meter.peak.toFixed(0))} dB peak${meter.most >= -1 ? ', too loud' : ''}` : '–'}</dd>
      <dt>room</dt>
      <dd>{meter ? `${withMinus(meter.floor.toFixed(0))} dB${meter.floor <= -60 ? ', quiet enough' : ', not quiet'}` : '–'}</dd>
      <dt>should take</dt>
      <dd>
        {expected.seconds.toFixed(1)} ± {expected.U.toFixed(1)} s
      </dd>
      <dt>reckoned from</dt>
      <dd>{own.takes === 0 ? 'a usual pace' : `your ${own.takes} paragraphs, ${own.rate.syllablesPerSecond.toFixed(1)} syllables/s`}</dd>
    </dl>
  )
}
