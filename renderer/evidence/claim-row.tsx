import type { ClaimAnswer, ReferenceAnswer } from '../../app/contract/claim-calls'
import { ClaimClass, type Evidence } from '../../app/project/claim'
import { byHandInWords, CLASS_NAMES, classesInWords } from '../../app/script/claims/class-words'
import { holdsBack, type Finding } from '../../app/script/claims/finding'
import { useShown } from '../state/use-project'
import { toggled, type Stated } from './claim-edits'
import { FindingLine } from './claim-finding'
import { ClaimSupports } from './claim-supports'
import { EvidenceForm } from './evidence-form'

/// The sentence in hand: its classes, what it rests on, what is open.
/// `time`: when it is said, in the film's time; "" where it is not spoken. `onState`: whether it was kept.
export function ClaimRow(props: {
  claim: ClaimAnswer
  time: string
  cited: ReadonlyMap<string, ReferenceAnswer>
  findings: readonly Finding[]
  readOnly: boolean
  onConfirm: () => void
  onLeave: () => void
  onWords: () => void
  onState: (change: Stated, label: string) => Promise<boolean>
}) {
  const { claim, findings, readOnly } = props
  const { breakdown } = useShown()
  const because = claim.because.filter(({ words }) => words !== '')
  return (
    <li className="claim in-hand" aria-current="true">
      <p className="claim-time figures">{props.time}</p>
      <div>
        <p className="claim-words">
          <bdi>{claim.shown}</bdi>
        </p>
        <p className="class-row" role="group" aria-label="Classes">
          {ClaimClass.options.map((letter) => (
            <button
              key={letter}
              type="button"
              className="class-letter"
              aria-pressed={claim.classes.includes(letter)}
              disabled={readOnly}
              title={`${CLASS_NAMES[letter]} (${letter})`}
              onClick={() => void props.onState({ classes: (before) => toggled(before, letter) }, 'Class of a claim')}
            >
              {letter}
            </button>
          ))}
        </p>
        <p>
          <button type="button" className="text" title="W" onClick={props.onWords}>
            to its words in the Script
          </button>
        </p>
        {claim.byHand && <p className="quiet">Class {byHandInWords(claim.byHand, claim.classes)}. The report says so too.</p>}
        {claim.state !== 'confirmed' && because.length > 0 && (
          <p className="quiet">
            Suggested by {because.map(({ class: letter, words }) => `“${words}” (${CLASS_NAMES[letter]})`).join(', ')}
          </p>
        )}
      </div>
      <div>
        <p>
          <b className={findings.some(holdsBack) ? 'open-mark' : undefined}>
            <span aria-hidden="true">{claim.state === 'confirmed' ? '●' : '◌'}</span> {classesInWords(claim.classes)}
          </b>
        </p>
        <ClaimSupports
          claim={claim}
          cited={props.cited}
          readOnly={readOnly}
          onLeave={props.onLeave}
          onTakeAway={(evidence) => void props.onState({ evidence }, 'Take evidence away')}
        />
        <div className="actions">
          {breakdown && (
            <EvidenceForm
              key={claim.shown}
              breakdown={breakdown}
              claim={claim}
              readOnly={readOnly}
              onAdd={(evidence) => props.onState({ evidence: (before) => joined(before, evidence) }, 'Add evidence')}
            />
          )}
          <button
            type="button"
            className="main-action"
            disabled={readOnly || claim.state === 'confirmed'}
            title="Enter"
            onClick={props.onConfirm}
          >
            Confirm
          </button>
        </div>
        {findings.map((finding) => (
          <FindingLine key={`${finding.code}${finding.problem}`} finding={finding} readOnly={readOnly} />
        ))}
      </div>
    </li>
  )
}

/// Events of several choices stand as one piece of evidence: what is in order is said of both together.
function joined(evidence: readonly Evidence[], added: Evidence): Evidence[] {
  const events = (each: Evidence): string[] => (each !== 'opinion' && 'events' in each ? each.events : [])
  if (events(added).length === 0) return [...evidence.filter((each) => JSON.stringify(each) !== JSON.stringify(added)), added]
  return [
    ...evidence.filter((each) => events(each).length === 0),
    { events: [...new Set([...evidence.flatMap(events), ...events(added)])].slice(0, 20) },
  ]
}
