import { useId, useState } from 'react'
import type { Change } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { Breakdown } from '../../app/project/breakdown'
import type { Override } from '../../app/project/claim'
import {
  endCardWords,
  isLeftOut,
  letStand,
  NOTICE_CODES,
  NOTICE_PROBLEMS,
  noticesOf,
  rewordedNotices,
  type NoticeCode,
  type NoticeFinding,
  type Notices,
} from '../../app/release/notices'
import { AnsweredForm } from '../sheets/answered-form'
import { adding, freeId, removing } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'

const NAMES: Readonly<Record<NoticeCode, string>> = {
  'start-card-missing': 'Start card',
  'end-card-missing': 'End card',
  'health-note-missing': 'In the description',
}

const OTHER_NAMES: Readonly<Partial<Record<NoticeFinding['code'], string>>> = {
  'start-card-reworded': 'Start card, in other words',
  'end-card-reworded': 'End card, in other words',
  'end-card-not-last': 'Where the end card stands',
}

/// How a decision is worded: asked for, made, done, not made, taken back.
interface DecisionWords {
  readonly ask: string
  readonly make: string
  readonly done: string
  readonly keep: string
  readonly back: string
}
const LEAVING: DecisionWords = { ask: 'Leave it out …', make: 'Leave it out', done: 'Left out', keep: 'Keep it', back: 'Put it back' }
const LETTING: DecisionWords = { ask: 'Let it stand …', make: 'Let it stand', done: 'Let stand', keep: 'Not now', back: 'Open it again' }

/// The notices that the film carries: required, left out or worded anew only with a reason, which is recorded. `open`: what is
/// wrong with them as the film is laid out now.
export function NoticeList({ open }: { readonly open: readonly NoticeFinding[] }) {
  const { breakdown, readOnly } = useShown()
  if (!breakdown) return null
  const stood = [
    ...rewordedNotices(breakdown),
    { code: 'end-card-not-last' as const, problem: NOTICE_PROBLEMS['end-card-not-last'], wayOut: '' },
  ].filter((each) => letStand(breakdown, each) !== undefined)
  const others = [...open.filter(({ code }) => !NOTICE_CODES.some((each) => each === code)), ...stood]
  return (
    <section aria-labelledby="notices">
      <h2 id="notices">Cautions</h2>
      <p className="quiet">
        The caution card and the end card of the script carry them, and so does the description. A card may say them in other words, with a
        reason that the report shows.
      </p>
      <ul className="plain">
        {NOTICE_CODES.map((code) => (
          <li key={code}>
            <strong>{NAMES[code]}</strong>
            {!isLeftOut(breakdown, code) && <p>{wordsOf(code, breakdown)}</p>}
            <Leaving
              finding={{ code, problem: NOTICE_PROBLEMS[code] }}
              name={NAMES[code]}
              words={LEAVING}
              override={letStand(breakdown, { code, problem: NOTICE_PROBLEMS[code] })}
              disabled={readOnly}
            />
          </li>
        ))}
        {others.map((finding) => (
          <li key={`${finding.code}${finding.problem}`}>
            <strong>{OTHER_NAMES[finding.code] ?? finding.code}</strong>
            <p>
              <bdi>{finding.problem}</bdi>
            </p>
            {letStand(breakdown, finding) === undefined && <p className="quiet">{finding.wayOut}</p>}
            <Leaving
              finding={finding}
              name={OTHER_NAMES[finding.code] ?? finding.code}
              words={LETTING}
              override={letStand(breakdown, finding)}
              disabled={readOnly}
            />
          </li>
        ))}
      </ul>
    </section>
  )
}

/// What a notice says. The description says again what the cards say: of it only that, and what no card says.
function wordsOf(code: NoticeCode, breakdown: Breakdown): string {
  const { start, end } = noticesOf(breakdown)
  if (code === 'start-card-missing') return start
  const onCard = endCardWords(breakdown)
  if (code === 'end-card-missing') return inOneLine(onCard)
  const shown = isLeftOut(breakdown, 'end-card-missing') ? [] : onCard
  const more = end.filter(({ text }) => !shown.some((block) => block.text === text))
  const cards = [...(start === '' ? [] : ['the start card']), ...(shown.length === 0 ? [] : ['the end card'])].join(' and ')
  return [cards && `The words of ${cards} again${more.length > 0 ? ', and:' : '.'}`, inOneLine(more)].filter(Boolean).join(' ')
}

const inOneLine = (blocks: Notices['end']): string => blocks.map(({ label, text }) => `${label ? `${label}: ` : ''}${text}`).join(' ')

interface LeavingProps {
  readonly finding: Pick<NoticeFinding, 'code' | 'problem'>
  readonly name: string
  readonly words: DecisionWords
  readonly override: Override | undefined
  readonly disabled: boolean
}

function Leaving({ finding, name, words, override, disabled }: LeavingProps) {
  const project = useProject()
  const [reason, setReason] = useState<string | null>(null)
  const field = useId()
  if (override)
    return (
      <p className="leaving">
        <span className="refusal">
          {words.done} on {override.when}: <bdi>{override.reason}</bdi>
        </span>
        <button type="button" disabled={disabled} onClick={() => void project.edit((state) => takeBack(state, override))}>
          {words.back}
        </button>
      </p>
    )
  if (reason === null)
    return (
      <p>
        <button type="button" disabled={disabled} onClick={() => setReason('')}>
          {words.ask}
        </button>
      </p>
    )
  return (
    <AnsweredForm
      className="leaving"
      onKeep={() =>
        project.edit((state) => leaveOut(state, finding, `${words.make}: ${name}`, reason)).then((kept) => kept && setReason(null))
      }
    >
      <label className="quiet" htmlFor={field}>
        Reason, which stands in the evidence report
      </label>
      <input id={field} autoFocus value={reason} onChange={(event) => setReason(event.target.value)} />
      <button type="submit" disabled={reason.trim() === ''}>
        {words.make}
      </button>
      <button type="button" onClick={() => setReason(null)}>
        {words.keep}
      </button>
    </AnsweredForm>
  )
}

function leaveOut(
  state: ProjectState,
  { code, problem }: Pick<NoticeFinding, 'code' | 'problem'>,
  label: string,
  reason: string,
): Omit<Change, 'selection'> {
  const record: Override = {
    id: freeId(state, 'overrides', 'override-'),
    finding: code,
    problem,
    reason: reason.trim(),
    by: 'the author',
    when: new Date().toISOString().slice(0, 10),
  }
  return { label, steps: [], diffs: [adding(state, 'overrides', record)] }
}

const takeBack = (state: ProjectState, override: Override): Omit<Change, 'selection'> => ({
  label: 'Put a caution back',
  steps: [],
  diffs: [removing(state, 'overrides', override)],
})
