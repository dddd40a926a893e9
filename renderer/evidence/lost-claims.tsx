import type { ClaimAnswer } from '../../app/contract/claim-calls'
import type { Claim } from '../../app/project/claim'
import { classesInWords, evidenceInWords } from '../../app/script/claims/class-words'
import type { RecordNames } from '../../app/script/claims/record-names'
import { removing, updating } from '../state/record-change'
import { useProject } from '../state/use-project'

/// Claims whose words are gone: what each had can be given to the sentence in hand, to be confirmed anew, or it is let go.
export function LostClaims({
  lost,
  names,
  inHand,
  readOnly,
}: {
  readonly lost: readonly Claim[]
  readonly names: RecordNames | null
  readonly inHand: ClaimAnswer | null
  readonly readOnly: boolean
}) {
  const project = useProject()
  if (lost.length === 0) return null
  const give = ({ id }: Claim): void =>
    void project.edit((state) => {
      const known = state.tables.claims.get(id)
      if (!known || !inHand) return null
      const { by: _by, when: _when, values: _values, ...rest } = known
      return {
        label: 'Give a claim to other words',
        steps: [],
        diffs: [updating('claims', known, { ...rest, on: inHand.on, state: 'suggested' })],
      }
    })
  const drop = ({ id }: Claim): void =>
    void project.edit((state) => {
      const known = state.tables.claims.get(id)
      return known ? { label: 'Let a claim go', steps: [], diffs: [removing(state, 'claims', known)] } : null
    })
  return (
    <details>
      <summary>{lost.length === 1 ? 'One claim whose words are gone' : `${lost.length} claims whose words are gone`}</summary>
      <ul className="plain lost-claims" aria-label="Claims whose words are gone">
        {lost.map((claim) => (
          <li key={claim.id}>
            <p>
              <q>
                <bdi>{claim.on.words}</bdi>
              </q>
            </p>
            <p className="quiet">
              {[
                `${claim.state === 'confirmed' ? 'confirmed as' : 'stated as'} ${classesInWords(claim.classes)}`,
                ...(names ? (claim.evidence ?? []).map((each) => evidenceInWords(each, names)) : []),
              ].join(' · ')}
            </p>
            <p className="actions">
              <button type="button" disabled={readOnly || !inHand || inHand.records.length > 0} onClick={() => give(claim)}>
                Give it to the sentence in hand
              </button>
              <button type="button" disabled={readOnly} onClick={() => drop(claim)}>
                Let it go
              </button>
            </p>
          </li>
        ))}
      </ul>
    </details>
  )
}
