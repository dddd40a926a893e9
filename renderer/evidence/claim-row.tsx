import type { ClaimAnswer } from '../../app/contract/claim-calls'
import { ClaimClass, type Evidence } from '../../app/project/claim'
import { CLASS_NAMES, classesInWords, evidenceInWords } from '../../app/script/claims/class-words'
import { holdsBack, type Finding } from '../../app/script/claims/finding'
import { clipName } from '../script/clip-name'
import { useShown } from '../state/use-project'
import { errorParts } from './error-parts'
import { toggled, type Stated } from './claim-edits'
import { FindingLine } from './claim-finding'
import { EvidenceForm } from './evidence-form'

/// The sentence in hand: its classes, what it rests on, what is open.
export function ClaimRow(props: { claim: ClaimAnswer; findings: readonly Finding[]; readOnly: boolean; onConfirm: () => void; onState: (change: Stated, label: string) => void }) {
  const { claim, findings, readOnly } = props
  const { breakdown, readings } = useShown()
  const values = claim.values.flatMap((id) => readings.get(id) ?? [])
  return (
    <li className="claim in-hand" aria-current="true">
      <div>
        <p className="claim-words"><bdi>{claim.shown}</bdi></p>
        <p className="class-row" role="group" aria-label="Classes">
          {ClaimClass.options.map((letter) => (
            <button key={letter} type="button" className="class-letter" aria-pressed={claim.classes.includes(letter)} disabled={readOnly} title={`${CLASS_NAMES[letter]} (${letter})`}
              onClick={() => props.onState({ classes: (before) => toggled(before, letter) }, 'Class of a claim')}>
              {letter}
            </button>
          ))}
        </p>
        {claim.state !== 'confirmed' && claim.because.length > 0 && <p className="quiet">Suggested by {claim.because.filter(({ words }) => words !== '').map(({ class: letter, words }) => `“${words}” (${CLASS_NAMES[letter]})`).join(', ')}</p>}
      </div>
      <div>
        <p><b className={findings.some(holdsBack) ? 'open-mark' : undefined}><span aria-hidden="true">{claim.state === 'confirmed' ? '●' : '◌'}</span> {classesInWords(claim.classes)}</b></p>
        <dl className="rests">
          {values.map((reading) => (
            <div key={reading.id}>
              <dt>{reading.id}</dt>
              <dd><b>{reading.plate.value}</b> {reading.plate.what}<span className="quiet"> {errorParts(reading, 3)}{reading.frame === null ? '' : ` · frame ${reading.frame} of ${breakdown && reading.clip !== null ? clipName(breakdown, reading.clip) : ''}`}</span></dd>
            </div>
          ))}
          {claim.evidence.map((each, i) => (
            <div key={i}>
              <dt>rests on</dt>
              <dd><bdi>{evidenceInWords(each)}</bdi> <button type="button" className="text" disabled={readOnly} onClick={() => props.onState({ evidence: (before) => before.filter((other) => JSON.stringify(other) !== JSON.stringify(each)) }, 'Take evidence away')}>take away</button></dd>
            </div>
          ))}
        </dl>
        <div className="actions">
          {breakdown && <EvidenceForm key={claim.shown} breakdown={breakdown} claim={claim} readOnly={readOnly} onAdd={(evidence) => props.onState({ evidence: (before) => joined(before, evidence) }, 'Add evidence')} />}
          <button type="button" className="main-action" disabled={readOnly || claim.state === 'confirmed'} title="Enter" onClick={props.onConfirm}>Confirm</button>
        </div>
        {findings.map((finding) => <FindingLine key={`${finding.code}${finding.problem}`} finding={finding} readOnly={readOnly} />)}
      </div>
    </li>
  )
}

/// Events of several choices stand as one piece of evidence: what is in order is said of both together.
function joined(evidence: readonly Evidence[], added: Evidence): Evidence[] {
  const events = (each: Evidence): string[] => (each !== 'opinion' && 'events' in each ? each.events : [])
  if (events(added).length === 0) return [...evidence.filter((each) => JSON.stringify(each) !== JSON.stringify(added)), added]
  return [...evidence.filter((each) => events(each).length === 0), { events: [...new Set([...evidence.flatMap(events), ...events(added)])].slice(0, 20) }]
}
