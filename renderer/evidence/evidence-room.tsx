import { useEffect, useRef } from 'react'
import { reasons, type ReasonCode } from '../../app/measure/reason'
import { useShown } from '../state/use-project'
import { LiveValue } from '../script/live-value'
import { clipName } from '../script/clip-name'
import { AnswerBox } from './answer-box'
import { NotAnswered, useAnswer } from './claim-answers'
import { FindingLine } from './claim-finding'
import { ClaimList } from './claim-list'
import { errorParts } from './error-parts'
import { PublishedVersions } from './published-versions'
import { ReferenceSheet } from './reference-sheet'
import { ReportParts } from './report-parts'
import { WhereUsed } from './where-used'
import '../styles/evidence.css'

/// Where the keys of the room go.
const PARTS: Readonly<Record<string, string>> = {
  q: '.answer input',
  s: '.claim-rows',
  v: '[data-versions]',
  u: '.used-things',
  r: '[data-references]',
}

/// What the script claims without enough behind it, every value with what it rests on and where it is used, and the
/// versions that went out. Q goes to the question, S to what is said, V to the versions, U to where things are used,
/// R to the references.
export function EvidenceRoom() {
  const { breakdown, findings, readings, readOnly } = useShown()
  const room = useRef<HTMLDivElement>(null)
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const typed =
        event.target instanceof HTMLTextAreaElement ||
        (event.target instanceof HTMLInputElement && event.target.type !== 'checkbox') ||
        event.target instanceof HTMLSelectElement
      if (event.defaultPrevented || typed || event.ctrlKey || event.metaKey || event.altKey) return
      const part = PARTS[event.key.toLowerCase()]
      const element = part === undefined ? null : room.current?.querySelector<HTMLElement>(part)
      if (!element) return
      element.focus()
      element.scrollIntoView({ block: 'center' })
      event.preventDefault()
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  }, [])
  const noted = useAnswer('release.notes', {})
  const notices = noted.value?.notices ?? []
  const elsewhere = findings.filter((finding) => finding.on === null)
  return (
    <div className="evidence" ref={room}>
      <AnswerBox />
      <ClaimList notices={notices.length} />
      <NotAnswered what="What is open on the notices" of={noted} />
      {elsewhere.length + notices.length > 0 && (
        <section aria-labelledby="open-findings">
          <h2 id="open-findings">On paragraphs, pictures, takes and notices</h2>
          <ul className="plain">
            {elsewhere.map((finding) => (
              <li key={`${finding.place}${finding.code}${finding.problem}`} className="finding">
                <FindingLine finding={finding} readOnly={readOnly} />
              </li>
            ))}
            {notices.map(({ code, problem, wayOut }) => (
              <li key={`${code}${problem}`} className="finding claim-finding">
                <p>
                  <span className="open-mark">open:</span> <bdi>{problem}</bdi>
                </p>
                <p className="quiet">{wayOut} Both are done under Cautions in the Release room.</p>
              </li>
            ))}
          </ul>
        </section>
      )}
      <PublishedVersions />
      <section aria-labelledby="values">
        <h2 id="values">Values</h2>
        {readings.size === 0 && <p className="quiet">Nothing has been measured yet.</p>}
        {readings.size > 0 && (
          <table className="values">
            <thead>
              <tr>
                <th scope="col">Value</th>
                <th scope="col">What it is</th>
                <th scope="col">Where its error comes from, 95 %</th>
                <th scope="col">What to know</th>
              </tr>
            </thead>
            <tbody>
              {[...readings.values()].map((reading) => (
                <tr key={reading.id}>
                  <td>
                    <LiveValue reading={reading} measure={reading.id} />
                  </td>
                  <td>
                    {reading.plate.what}
                    <div className="quiet">
                      {breakdown && reading.clip !== null ? clipName(breakdown, reading.clip) : ''}
                      {reading.frame === null ? '' : `, frame ${reading.frame}`}
                    </div>
                  </td>
                  <td className="quiet">{errorParts(reading, 4)}</td>
                  <td className="quiet">{reading.reasons.map((code) => reasons[code as ReasonCode]?.wording ?? code).join('; ')}</td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </section>
      <WhereUsed />
      <ReferenceSheet />
      <ReportParts />
    </div>
  )
}
