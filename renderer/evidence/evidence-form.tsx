import { useRef, useState, type ReactNode } from 'react'
import type { ClaimAnswer } from '../../app/contract/claim-calls'
import type { Breakdown } from '../../app/project/breakdown'
import type { Evidence } from '../../app/project/claim'
import { recordNames, type RecordNames } from '../../app/script/claims/record-names'
import { clipName } from '../script/clip-name'
import { AnsweredForm } from '../sheets/answered-form'
import { useShown } from '../state/use-project'

/// What a sentence can be given to rest on: one of what the project has, by a list; any frame of any clip, two readings
/// held against each other, or an earlier film, by a form of their own. `onAdd`: whether it was kept.
export function EvidenceForm({
  breakdown,
  claim,
  readOnly,
  onAdd,
}: {
  breakdown: Breakdown
  claim: ClaimAnswer
  readOnly: boolean
  onAdd: (evidence: Evidence) => Promise<boolean>
}) {
  const [chosen, setChosen] = useState('')
  const { readings } = useShown()
  const names = recordNames(breakdown, readings)
  const choices = evidenceChoices(breakdown, claim, names)
  const list = useRef<HTMLSelectElement>(null)
  /// What was pressed goes, or takes no keys any more: whoever was at it goes on at the list.
  const leave = (): void => {
    if (list.current?.parentElement?.contains(document.activeElement)) list.current.focus({ preventScroll: true })
    setChosen('')
  }
  const add = async (evidence: Evidence): Promise<void> => {
    if (await onAdd(evidence)) leave()
  }
  const addChoice = (): void => {
    const choice = choices[Number(chosen)]
    if (choice) void onAdd(choice.evidence)
    leave()
  }
  const Form = isFormed(chosen) ? FORMS[chosen] : null
  return (
    <>
      <select
        ref={list}
        aria-label="What it rests on"
        value={chosen}
        disabled={readOnly}
        onChange={(event) => setChosen(event.target.value)}
      >
        <option value="">what it rests on …</option>
        {choices.map(({ label }, i) => (
          <option key={i} value={String(i)}>
            {label}
          </option>
        ))}
        {breakdown.clips.length > 0 && <option value="frame">a frame of a clip …</option>}
        {(breakdown.measures ?? []).length > 1 && <option value="readings">two readings …</option>}
        <option value="film">an earlier film …</option>
      </select>
      {Form ? (
        <Form breakdown={breakdown} claim={claim} names={names} onAdd={add} onLeave={leave} />
      ) : (
        <button type="button" disabled={readOnly || chosen === ''} onClick={addChoice}>
          Add
        </button>
      )}
    </>
  )
}

interface FormProps {
  readonly breakdown: Breakdown
  readonly claim: ClaimAnswer
  readonly names: RecordNames
  readonly onAdd: (evidence: Evidence) => Promise<void>
  readonly onLeave: () => void
}

const FORMS = { frame: FrameForm, readings: ReadingsForm, film: FilmForm } as const
const isFormed = (chosen: string): chosen is keyof typeof FORMS => chosen in FORMS

function Fields({
  label,
  ready,
  onAdd,
  onLeave,
  children,
}: {
  label: string
  ready: boolean
  onAdd: () => Promise<void>
  onLeave: () => void
  children: ReactNode
}) {
  return (
    <AnsweredForm label={label} className="actions evidence-form" onKeep={onAdd} onLeave={onLeave}>
      {children}
      <button type="submit" disabled={!ready}>
        Add
      </button>
    </AnsweredForm>
  )
}

function FrameForm({ breakdown, claim, onAdd, onLeave }: FormProps) {
  const shown = breakdown.script
    .flatMap((row) => ('text' in row && row.id === claim.paragraph ? (row.shots ?? []) : []))
    .flatMap((shot) => ('hold' in shot ? [shot.hold] : 'run' in shot ? [shot.run] : []))[0]
  const [clip, setClip] = useState(shown ?? breakdown.clips[0]?.id ?? '')
  const [frame, setFrame] = useState('')
  const { from = 0, to = 0 } = breakdown.clips.find(({ id }) => id === clip) ?? {}
  const number = Number(frame)
  const ready = /^\d+$/.test(frame) && number >= from && number < to
  return (
    <Fields label="A frame of a clip" ready={ready} onLeave={onLeave} onAdd={() => onAdd({ frame: number, clip })}>
      <select aria-label="Clip" autoFocus value={clip} onChange={(event) => setClip(event.target.value)}>
        {breakdown.clips.map(({ id }) => (
          <option key={id} value={id}>
            {clipName(breakdown, id)}
          </option>
        ))}
      </select>
      <label>
        frame{' '}
        <input
          inputMode="numeric"
          size={7}
          maxLength={9}
          value={frame}
          aria-describedby="evidence-frames"
          onChange={(event) => setFrame(event.target.value.trim())}
        />
      </label>
      <span id="evidence-frames" className="quiet">
        {from} to {to - 1}
      </span>
    </Fields>
  )
}

function ReadingsForm({ breakdown, names, onAdd, onLeave }: FormProps) {
  const measures = (breakdown.measures ?? []).filter(({ kind }) => kind !== 'count' && kind !== 'comparison')
  const [first, setFirst] = useState(measures[0]?.id ?? '')
  const [second, setSecond] = useState(measures[1]?.id ?? '')
  const choice = (label: string, value: string, onChange: (id: string) => void, focus: boolean) => (
    <select aria-label={label} autoFocus={focus} value={value} onChange={(event) => onChange(event.target.value)}>
      {measures.map(({ id }) => (
        <option key={id} value={id}>
          {names.measure(id)}
        </option>
      ))}
    </select>
  )
  return (
    <Fields
      label="Two readings"
      ready={first !== '' && second !== '' && first !== second}
      onLeave={onLeave}
      onAdd={() => onAdd({ readings: [first, second] })}
    >
      {choice('First reading', first, setFirst, true)} and {choice('Second reading', second, setSecond, false)}
    </Fields>
  )
}

function FilmForm({ breakdown, onAdd, onLeave }: FormProps) {
  const [film, setFilm] = useState('')
  const [at, setAt] = useState('')
  const [says, setSays] = useState('')
  const films = [...new Set((breakdown.releases ?? []).map((release) => release.film))]
  const ready = film.trim() !== '' && at.trim() !== ''
  return (
    <Fields
      label="An earlier film"
      ready={ready}
      onLeave={onLeave}
      onAdd={() => onAdd({ film: film.trim(), at: at.trim(), ...(says.trim() === '' ? {} : { says: says.trim() }) })}
    >
      <label>
        film <input autoFocus value={film} maxLength={500} list="evidence-films" onChange={(event) => setFilm(event.target.value)} />
      </label>
      <datalist id="evidence-films">
        {films.map((each) => (
          <option key={each} value={each} />
        ))}
      </datalist>
      <label>
        at <input value={at} size={6} maxLength={20} placeholder="8:12" onChange={(event) => setAt(event.target.value)} />
      </label>
      <label>
        it says <input value={says} maxLength={500} placeholder="may be left out" onChange={(event) => setSays(event.target.value)} />
      </label>
    </Fields>
  )
}

interface Choice {
  readonly label: string
  readonly evidence: Evidence
}

/// What of the project a claim can rest on by one choice.
function evidenceChoices(breakdown: Breakdown, claim: ClaimAnswer, names: RecordNames): Choice[] {
  return [
    { label: 'my view (O)', evidence: 'opinion' },
    ...(breakdown.measures ?? []).map((measure): Choice => ({
      label: `${measure.kind === 'count' ? 'count' : 'reading'} ${names.measure(measure.id)}`,
      evidence: measure.kind === 'count' ? { count: measure.id } : { reading: measure.id },
    })),
    ...(breakdown.events ?? []).map((event): Choice => ({
      label: `event ${event.name}, ${names.clip(event.clip)}, ${event.earliest === event.latest ? event.earliest : `${event.earliest}–${event.latest}`}`,
      evidence: { events: [event.id] },
    })),
    ...(breakdown.references ?? []).map((reference): Choice => ({
      label: `reference ${names.reference(reference.id)}`,
      evidence: { reference: reference.id },
    })),
    ...breakdown.script
      .flatMap((row) => ('text' in row && row.id === claim.paragraph ? (row.shots ?? []) : []))
      .flatMap((shot): Choice[] =>
        'hold' in shot
          ? [{ label: `frame ${shot.at} of ${names.clip(shot.hold)}, held here`, evidence: { frame: shot.at, clip: shot.hold } }]
          : [],
      ),
  ]
}
