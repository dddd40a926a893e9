import type { Recording } from './use-recording'

interface Props {
  readonly recording: Pick<Recording, 'state' | 'count' | 'toggle'>
  /// Room tone is being recorded.
  readonly toning: boolean
  readonly readOnly: boolean
  /// Which of the script's paragraphs this is, from 0.
  readonly index: number
  readonly paragraphs: number
  readonly onStep: (by: -1 | 1) => void
  /// Over the picture; null where there is none.
  readonly talking: boolean | null
  readonly onTalking: (talking: boolean) => void
  /// The sentence before is heard first; null where it was not recorded.
  readonly leads: boolean | null
  readonly onLeads: (leads: boolean) => void
  /// The word at which C is to be pressed next; null: none.
  readonly tapAt: string | null
}

/// Records the paragraph that is prompted, and goes to the others.
export function PromptSteps(props: Props) {
  const { recording, toning, readOnly, index, paragraphs, onStep, talking, onTalking, leads, onLeads, tapAt } = props
  const idle = recording.state === 'idle'
  return (
    <div className="prompt-steps">
      <button
        type="button"
        title="R"
        className="main-action"
        disabled={readOnly || recording.state === 'ending' || toning}
        onClick={recording.toggle}
      >
        {recordWords(recording)}
      </button>
      <button type="button" title="up" disabled={index === 0 || !idle} onClick={() => onStep(-1)}>
        Before
      </button>
      <button type="button" title="down" disabled={index + 1 >= paragraphs || !idle} onClick={() => onStep(1)}>
        Next
      </button>
      {talking !== null && (
        <button type="button" title="T" aria-pressed={talking} disabled={!idle} onClick={() => onTalking(!talking)}>
          Talk over the picture
        </button>
      )}
      {leads !== null && (
        <button type="button" title="P" aria-pressed={leads} disabled={!idle || toning} onClick={() => onLeads(!leads)}>
          Hear the sentence before
        </button>
      )}
      {tapAt !== null && <span className="quiet">C as you say “{tapAt}”</span>}
      <span className="quiet">
        paragraph {index + 1} of {paragraphs}
      </span>
    </div>
  )
}

function recordWords({ state, count }: Props['recording']): string {
  if (state === 'idle') return 'Record'
  if (state !== 'counting') return 'Stop'
  return count > 0 ? `in ${count} …` : 'listen …'
}
