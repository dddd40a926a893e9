import { useState } from 'react'
import type { Change } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { Override } from '../../app/project/claim'
import { isLeftOut, NOTICE_CODES, NOTICE_PROBLEMS, noticesOf, type NoticeCode } from '../../app/release/notices'
import { adding, freeId, removing } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'

const NAMES: Readonly<Record<NoticeCode, string>> = { 'start-card-missing': 'Start card', 'end-card-missing': 'End card', 'health-note-missing': 'In the description' }

/// The notices that the film carries: required, worded on their cards, and left out only with a reason, which is recorded.
export function NoticeList() {
  const { breakdown, readOnly } = useShown()
  if (!breakdown) return null
  const notices = noticesOf(breakdown)
  return (
    <section aria-labelledby="notices">
      <h2 id="notices">Cautions</h2>
      <p className="quiet">They are worded on the caution and end cards of the script; the description follows them.</p>
      <ul className="plain">
        {NOTICE_CODES.map((code) => (
          <li key={code}>
            <strong>{NAMES[code]}</strong>
            {!isLeftOut(breakdown, code) && (code === 'start-card-missing' ? <p>{notices.start}</p> : <p>{notices.end.map(({ label, text }) => `${label ? `${label}: ` : ''}${text}`).join(' ')}</p>)}
            <Leaving code={code} override={(breakdown.overrides ?? []).find((each) => each.finding === code)} out={isLeftOut(breakdown, code)} disabled={readOnly} />
          </li>
        ))}
      </ul>
    </section>
  )
}

function Leaving({ code, override, out, disabled }: { readonly code: NoticeCode; readonly override: Override | undefined; readonly out: boolean; readonly disabled: boolean }) {
  const project = useProject()
  const [reason, setReason] = useState<string | null>(null)
  if (out && override)
    return (
      <p className="leaving">
        <span className="refusal">Left out on {override.when}: {override.reason}</span>
        <button type="button" disabled={disabled} onClick={() => void project.edit((state) => takeBack(state, override))}>Put it back</button>
      </p>
    )
  if (reason === null) return <p><button type="button" disabled={disabled} onClick={() => setReason('')}>Leave it out …</button></p>
  return (
    <form
      className="leaving"
      onSubmit={(event) => {
        event.preventDefault()
        void project.edit((state) => leaveOut(state, code, reason))
        setReason(null)
      }}
    >
      <label className="quiet" htmlFor={`reason-${code}`}>Reason, which stands in the evidence report</label>
      <input id={`reason-${code}`} autoFocus value={reason} onChange={(event) => setReason(event.target.value)} />
      <button type="submit" disabled={reason.trim() === ''}>Leave it out</button>
      <button type="button" onClick={() => setReason(null)}>Keep it</button>
    </form>
  )
}

function leaveOut(state: ProjectState, code: NoticeCode, reason: string): Omit<Change, 'selection'> {
  const record: Override = { id: freeId(state, 'overrides', 'override-'), finding: code, problem: NOTICE_PROBLEMS[code], reason: reason.trim(), by: 'the author', when: new Date().toISOString().slice(0, 10) }
  return { label: `Leave out: ${NAMES[code]}`, steps: [], diffs: [adding(state, 'overrides', record)] }
}

const takeBack = (state: ProjectState, override: Override): Omit<Change, 'selection'> => ({ label: 'Put a caution back', steps: [], diffs: [removing(state, 'overrides', override)] })
