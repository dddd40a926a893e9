import { reasons, type ReasonCode } from '../../app/measure/reason'
import { useShown } from '../state/use-project'
import { LiveValue } from '../script/live-value'
import { AnswerBox } from './answer-box'
import { FindingLine } from './claim-finding'
import { ClaimList } from './claim-list'
import { errorParts } from './error-parts'
import { ReferenceSheet } from './reference-sheet'

/// What the script claims without enough behind it, and every value with what it rests on.
export function EvidenceRoom() {
  const { findings, readings, readOnly } = useShown()
  const elsewhere = findings.filter((finding) => finding.on === null)
  return (
    <div className="evidence">
      <AnswerBox />
      <ClaimList />
      {elsewhere.length > 0 && (
        <section aria-labelledby="open-findings">
          <h2 id="open-findings">On pictures and takes</h2>
          <ul className="plain">
            {elsewhere.map((finding) => (
              <li key={`${finding.place}${finding.code}${finding.problem}`} className="finding">
                <FindingLine finding={finding} readOnly={readOnly} />
              </li>
            ))}
          </ul>
        </section>
      )}
      <section aria-labelledby="values">
        <h2 id="values">Values</h2>
        {readings.size === 0 && <p className="quiet">Nothing has been measured yet.</p>}
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
                <td><LiveValue reading={reading} measure={reading.id} /></td>
                <td>
                  {reading.plate.what}
                  <div className="quiet">{reading.clip ?? ''}{reading.frame === null ? '' : `, frame ${reading.frame}`}</div>
                </td>
                <td className="quiet">{errorParts(reading, 4)}</td>
                <td className="quiet">{reading.reasons.map((code) => reasons[code as ReasonCode]?.wording ?? code).join('; ')}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <ReferenceSheet />
    </div>
  )
}
