import { useState } from 'react'
import type { Finding } from '../../app/script/claims/finding'
import { AnsweredForm } from '../sheets/answered-form'
import { useProject } from '../state/use-project'
import { overriding, reopening } from './claim-edits'

/// A finding with its way out, and the way past it: letting it stand, with a reason that goes into the report.
export function FindingLine({ finding, readOnly }: { finding: Finding; readOnly: boolean }) {
  const project = useProject()
  const [reason, setReason] = useState('')
  const [asked, setAsked] = useState(false)
  const { override } = finding
  return (
    <div className="claim-finding">
      <p>
        <span className={override ? 'quiet' : finding.holds ? 'open-mark' : undefined}>
          {override ? 'let stand:' : finding.holds ? 'open:' : 'to know:'}
        </span>{' '}
        <bdi>{finding.problem}</bdi>
      </p>
      {override ? (
        <p className="quiet">
          <bdi>{override.reason}</bdi> ({override.by}, {override.when.slice(0, 10)}){' '}
          <button type="button" className="text" disabled={readOnly} onClick={() => void project.edit(reopening(override.id))}>
            open again
          </button>
        </p>
      ) : (
        <>
          <p className="quiet">
            {finding.wayOut}{' '}
            {!asked && (
              <button type="button" className="text" disabled={readOnly} onClick={() => setAsked(true)}>
                let it stand …
              </button>
            )}
          </p>
          {asked && (
            <AnsweredForm
              className="actions"
              onLeave={() => setAsked(false)}
              onKeep={() => project.edit(overriding(finding, reason.trim(), 'the analyst', new Date().toISOString()))}
            >
              <input
                aria-label="Why it is let stand"
                autoFocus
                value={reason}
                maxLength={2000}
                placeholder="why; this goes into the report"
                onChange={(event) => setReason(event.target.value)}
              />
              <button type="submit" disabled={reason.trim() === ''}>
                Let it stand
              </button>
            </AnsweredForm>
          )}
        </>
      )}
    </div>
  )
}
