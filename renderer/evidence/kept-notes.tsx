import { useShown } from '../state/use-project'
import { NotAnswered, useAnswer } from './claim-answers'

/// What is to know of the published versions and what was kept of them: those that were recorded at this opening, and
/// those whose evidence is not there.
export function KeptNotes() {
  const { breakdown } = useShown()
  const asked = useAnswer('release.kept', {})
  const kept = asked.value
  const unanswered = <NotAnswered what="What was kept of the versions" of={asked} />
  if (!kept) return unanswered
  const names = kept.missing.map((id) => breakdown?.releases?.find((release) => release.id === id)?.version ?? id)
  return (
    <>
      {unanswered}
      {kept.mended.map(({ release, version, folder, there }) => (
        <p key={release} role="status">
          Version {version} had been made when Claimframe ended, and was not recorded. It is recorded now.{' '}
          {there ? `Its delivery lies in ${folder}.` : `Its delivery does not lie in ${folder}, where it was made.`}
        </p>
      ))}
      {names.length > 0 && (
        <p className="quiet">
          What was kept of version {names.join(', ')} does not lie beside the project: its stills and its report cannot be shown. Its words,
          values and events are in the project.
        </p>
      )}
    </>
  )
}
