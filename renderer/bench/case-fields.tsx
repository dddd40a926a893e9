import type { Clip } from '../../app/project/film'
import type { Case, CaseState } from './question-choices'
import type { FieldProps } from './question-fields'

const STATES: readonly (readonly [CaseState, string])[] = [
  ['', 'not looked at'],
  ['seen', 'seen'],
  ['not seen', 'not seen'],
  ['not usable', 'cannot be judged'],
]

/// What was looked for, in what set of clips and why these, and what each showed; clips that were set aside stand apart.
export function CaseFields({ choices, set, clips }: FieldProps & { readonly clips: readonly Clip[] }) {
  const isAside = (clip: Clip): boolean => clip.use?.state === 'rejected'
  const caseOf = (clip: Clip): Case => choices.cases[clip.id] ?? { state: '', note: '' }
  const put = (clip: Clip, part: Partial<Case>): void => set({ cases: { ...choices.cases, [clip.id]: { ...caseOf(clip), ...part } } })
  const row = (clip: Clip) => {
    const { state, note } = caseOf(clip)
    const name = clip.name ?? clip.id
    return (
      <li key={clip.id}>
        <label>
          {name}
          {clip.use?.reason && isAside(clip) && <span className="quiet"> set aside: {clip.use.reason}</span>}
          <select
            aria-label={`${name}: what it shows`}
            value={state}
            onChange={(event) => put(clip, { state: event.target.value as CaseState })}
          >
            {STATES.map(([id, says]) => (
              <option key={id} value={id}>
                {says}
              </option>
            ))}
          </select>
        </label>
        {state === 'not usable' && (
          <input
            aria-label={`${name}: why it cannot be judged`}
            placeholder="why"
            value={note}
            onChange={(event) => put(clip, { note: event.target.value })}
          />
        )}
      </li>
    )
  }
  const aside = clips.filter(isAside)
  return (
    <>
      <label>
        What is seen{' '}
        <input value={choices.what} placeholder="rear heel off the floor" onChange={(event) => set({ what: event.target.value })} />
      </label>
      <label>
        What was looked at, and why these <textarea rows={2} value={choices.set} onChange={(event) => set({ set: event.target.value })} />
      </label>
      <ul className="plain cases" aria-label="Clips of the set">
        {clips.filter((clip) => !isAside(clip)).map(row)}
      </ul>
      {aside.length > 0 && (
        <>
          <h3>Set aside in Footage</h3>
          <ul className="plain cases" aria-label="Clips set aside">
            {aside.map(row)}
          </ul>
        </>
      )}
    </>
  )
}
