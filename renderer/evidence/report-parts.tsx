import { countCases } from '../../app/measure/count'
import type { Breakdown } from '../../app/project/breakdown'
import { METHOD_NOTE } from '../../app/release/description'
import { clipName } from '../script/clip-name'
import { useShown } from '../state/use-project'

/// What the report says besides the sentences, as it stands now: how it was measured, what was counted over which set, and
/// the clips that were looked at and left out.
export function ReportParts() {
  const { breakdown } = useShown()
  if (!breakdown) return null
  const sets = (breakdown.measures ?? []).flatMap((measure) => (measure.kind === 'count' ? [measure] : []))
  const rejected = breakdown.clips.filter(({ use }) => use?.state === 'rejected')
  return (
    <div className="report-parts">
      <section aria-labelledby="method-note">
        <h2 id="method-note">How it was measured</h2>
        <ul>
          {METHOD_NOTE.map((line) => (
            <li key={line} className="quiet">
              {line}
            </li>
          ))}
        </ul>
      </section>
      {sets.length > 0 && (
        <section aria-labelledby="counted-sets">
          <h2 id="counted-sets">What was counted</h2>
          <ul className="plain">
            {sets.map((measure) => (
              <CountedSet key={measure.id} measure={measure} breakdown={breakdown} />
            ))}
          </ul>
        </section>
      )}
      {rejected.length > 0 && (
        <section aria-labelledby="rejected-clips">
          <h2 id="rejected-clips">Clips that were left out</h2>
          <ul className="plain">
            {rejected.map(({ id, bout, technique, use }) => (
              <li key={id}>
                <b>
                  <bdi>{clipName(breakdown, id)}</bdi>
                </b>{' '}
                {[bout, technique].filter(Boolean).join(', ')}
                <div className="quiet">
                  <bdi>{use?.reason || 'no reason is noted'}</bdi>
                </div>
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  )
}

function CountedSet({
  measure,
  breakdown,
}: {
  readonly measure: Extract<NonNullable<Breakdown['measures']>[number], { kind: 'count' }>
  readonly breakdown: Breakdown
}) {
  const { k, n, unusable } = countCases(measure.cases, { clip: (id) => breakdown.clips.find((clip) => clip.id === id) ?? null })
  return (
    <li>
      <b>
        <bdi>{measure.what}</bdi>: {k} of {n}
      </b>
      {unusable > 0 ? `, ${unusable} not usable` : ''}
      <div className="quiet">
        Looked at: <bdi>{measure.set}</bdi>
      </div>
      <div className="quiet">
        {measure.cases
          .map(
            ({ clip, holds, note }) =>
              `${clipName(breakdown, clip)}: ${holds === null ? 'not usable' : holds ? 'seen' : 'not seen'}${note ? ` (${note})` : ''}`,
          )
          .join('; ')}
      </div>
    </li>
  )
}
