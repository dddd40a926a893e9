import { useState } from 'react'
import type { ClaimAnswer } from '../../app/contract/claim-calls'
import { ClaimClass, type Evidence } from '../../app/project/claim'
import { CLASS_NAMES, classesInWords, evidenceInWords } from '../../app/script/claims/class-words'
import { holdsBack, type Finding } from '../../app/script/claims/finding'
import { clipName } from '../script/shot-fields'
import { useShown } from '../state/use-project'
import { errorParts } from './error-parts'
import { toggled, type Stated } from './claim-edits'
import { FindingLine } from './claim-finding'

/// The sentence in hand: its classes, what it rests on, what is open.
export function ClaimRow(props: { claim: ClaimAnswer; findings: readonly Finding[]; readOnly: boolean; onConfirm: () => void; onState: (change: Stated, label: string) => void }) {
  const { claim, findings, readOnly } = props
  const { breakdown, readings } = useShown()
  const choices = evidenceChoices(breakdown, claim)
  const [chosen, setChosen] = useState('')
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
        <p className="actions">
          <select aria-label="What it rests on" value={chosen} disabled={readOnly} onChange={(event) => setChosen(event.target.value)}>
            <option value="">what it rests on …</option>
            {choices.map(({ label }, i) => <option key={i} value={String(i)}>{label}</option>)}
          </select>
          <button type="button" disabled={readOnly || chosen === ''} onClick={() => {
            const choice = choices[Number(chosen)]
            if (choice) props.onState({ evidence: (before) => joined(before, choice.evidence) }, 'Add evidence')
            setChosen('')
          }}>Add</button>
          <button type="button" className="main-action" disabled={readOnly || claim.state === 'confirmed'} title="Enter" onClick={props.onConfirm}>Confirm</button>
        </p>
        {findings.map((finding) => <FindingLine key={`${finding.code}${finding.problem}`} finding={finding} readOnly={readOnly} />)}
      </div>
    </li>
  )
}

interface Choice {
  readonly label: string
  readonly evidence: Evidence
}

/// Everything of the project that a claim can rest on.
function evidenceChoices(breakdown: ReturnType<typeof useShown>['breakdown'], claim: ClaimAnswer): Choice[] {
  if (!breakdown) return []
  const name = (clip: string): string => clipName(breakdown, clip)
  return [
    { label: 'my view (O)', evidence: 'opinion' },
    ...(breakdown.measures ?? []).map((measure): Choice => ({ label: `${measure.kind === 'count' ? 'count' : 'reading'} ${measure.label ?? measure.id}`, evidence: measure.kind === 'count' ? { count: measure.id } : { reading: measure.id } })),
    ...(breakdown.events ?? []).map((event): Choice => ({ label: `event ${event.name}, ${name(event.clip)}, ${event.earliest}–${event.latest}`, evidence: { events: [event.id] } })),
    ...(breakdown.references ?? []).map((reference): Choice => ({ label: `reference ${reference.id}`, evidence: { reference: reference.id } })),
    ...(breakdown.script.flatMap((row) => ('text' in row && row.id === claim.paragraph ? (row.shots ?? []) : []))).flatMap((shot): Choice[] => ('hold' in shot ? [{ label: `frame ${shot.at} of ${name(shot.hold)}, held here`, evidence: { frame: shot.at, clip: shot.hold } }] : [])),
  ]
}

/// Events of several choices stand as one piece of evidence: what is in order is said of both together.
function joined(evidence: readonly Evidence[], added: Evidence): Evidence[] {
  const events = (each: Evidence): string[] => (each !== 'opinion' && 'events' in each ? each.events : [])
  if (events(added).length === 0) return [...evidence.filter((each) => JSON.stringify(each) !== JSON.stringify(added)), added]
  return [...evidence.filter((each) => events(each).length === 0), { events: [...new Set([...evidence.flatMap(events), ...events(added)])].slice(0, 20) }]
}
