import { staleWords } from '../../app/align/tie-take'
import type { Take } from '../../app/contract/take-calls'
import type { Paragraph } from '../../app/project/picture'
import type { Readings } from '../../app/script/spoken-form'

interface Props {
  readonly takes: readonly Take[]
  readonly paragraph: Paragraph
  readonly readings: Readings
  readonly readOnly: boolean
  /// Nothing is being recorded.
  readonly idle: boolean
  readonly onFinish: (take: Take) => void
  readonly onUse: (take: Take) => void
  readonly onTakeApart: (take: Take) => void
}

/// Words in quotes, or that there are none.
export const quoted = (words: string): string => (words === '' ? 'nothing there' : `“${words}”`)

/// The takes of the paragraph in hand, and recordings of the whole script.
export function TakeList({ takes, paragraph, readings, readOnly, idle, onFinish, onUse, onTakeApart }: Props) {
  return (
    <>
      {takes
        .filter((take) => take.paragraph === paragraph.id)
        .map((take) => {
          const old = take.words && staleWords(take.words, paragraph, readings)
          return (
            <div key={take.id} className="take-row">
              <strong title={take.source === null ? undefined : `from ${take.source}`}>{take.id}</strong>
              <span className="figures">{(take.samples / take.sampleRate).toFixed(1)} s</span>
              {take.state === 'recording' ? (
                idle && (
                  <button type="button" onClick={() => onFinish(take)}>
                    Keep what is there
                  </button>
                )
              ) : take.file === paragraph.take ? (
                <span>in the film</span>
              ) : (
                <button type="button" disabled={readOnly} onClick={() => onUse(take)}>
                  Use
                </button>
              )}
              {old && (
                <p>
                  says {quoted(old.said)}; the script says {quoted(old.now)}
                </p>
              )}
            </div>
          )
        })}
      {takes
        .filter(({ kind }) => kind === 'script')
        .map((take) => (
          <div key={take.id} className="take-row">
            <strong title={take.source ?? undefined}>{take.id}</strong>
            <span className="figures">{(take.samples / take.sampleRate).toFixed(1)} s</span>
            <button type="button" disabled={readOnly} onClick={() => onTakeApart(take)}>
              Take apart
            </button>
          </div>
        ))}
    </>
  )
}
