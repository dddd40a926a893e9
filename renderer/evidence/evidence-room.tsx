import { reasons, type ReasonCode } from '../../app/measure/reason'
import { useShown } from '../state/use-project'
import { LiveValue } from '../script/live-value'
import { errorParts } from './error-parts'

/// What the script claims without enough behind it, and every value with what it rests on.
export function EvidenceRoom() {
  const { findings, readings } = useShown()
  return (
    <div className="evidence">
      <section aria-labelledby="open-findings">
        <h2 id="open-findings">{findings.length === 0 ? 'Nothing is open' : `${findings.length} open`}</h2>
        {findings.length === 0 && <p className="quiet">No number is typed, no value is gone or refused, and no wording is stronger than its verdict.</p>}
        <ul className="plain">
          {findings.map((finding, i) => (
            <li key={i} className="finding">
              {finding.sentence && <q>{finding.sentence}</q>}
              <p><span className="open-mark" aria-hidden="true">◌</span> {finding.problem}</p>
              <p className="quiet">{finding.wayOut}</p>
            </li>
          ))}
        </ul>
      </section>
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
    </div>
  )
}
