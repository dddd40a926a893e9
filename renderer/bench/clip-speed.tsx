import type { MeasureContext } from '../../app/measure/context'
import type { Clip } from '../../app/project/film'
import { goTo } from '../state/place'
import { speedWords } from './speed-words'

/// The clip's speed among what the view costs, with the way to the form in which it is stated.
export function ClipSpeed({
  clip,
  context,
  readOnly,
}: {
  readonly clip: Clip
  readonly context: MeasureContext
  readonly readOnly: boolean
}) {
  return (
    <section aria-label="How fast it plays">
      <h3>How fast it plays</h3>
      <p className={clip.capture === 'unknown' ? undefined : 'quiet'}>{speedWords(clip, context)}</p>
      {!readOnly && (
        <p className="actions">
          <button type="button" className="link" onClick={() => goTo({ room: 'Footage', form: clip.id })}>
            {clip.capture === 'unknown' ? 'Say how fast' : 'Say it otherwise'}, on the clip’s form in Footage
          </button>
        </p>
      )}
    </section>
  )
}
