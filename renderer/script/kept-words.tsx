import { useProject, usePart } from '../state/use-project'

/// Words that an edit would have put in and that were refused: each is copied or put away, and stands until then.
export function KeptWords() {
  const project = useProject()
  const kept = usePart('kept')
  return kept.map((words, i) => (
    <span key={i} className="refusal" role="alert">
      Not kept: “{words.length > 80 ? `${words.slice(0, 80)} …` : words}”{' '}
      <button type="button" onClick={() => void navigator.clipboard.writeText(words)}>
        Copy it
      </button>{' '}
      <button type="button" onClick={() => project.putAway(i)}>
        Put it away
      </button>
    </span>
  ))
}
