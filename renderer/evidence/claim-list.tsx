import { useDeferredValue, useEffect, useMemo, useRef, useState, type KeyboardEvent } from 'react'
import type { ClaimAnswer } from '../../app/contract/claim-calls'
import { filmTimeText } from '../../app/programme/sentence-time'
import { ClaimClass, quotedKey } from '../../app/project/claim'
import { classesInWords } from '../../app/script/claims/class-words'
import { supportsOf, wantedBehind } from '../../app/release/support'
import { tallyClaims, type Tallied, type TallyGroup } from '../../app/script/claims/claim-tally'
import { holdsBack, type Finding } from '../../app/script/claims/finding'
import { recordNames, type RecordNames } from '../../app/script/claims/record-names'
import { useFilmTypeface } from '../player/film-typeface'
import { goTo, usePlace } from '../state/place'
import { programmeOf } from '../state/programme'
import type { Shown } from '../state/shown'
import { useProject, useShown } from '../state/use-project'
import { NotAnswered, useAnswer } from './claim-answers'
import { stating, toggled, viewToggled, type Stated } from './claim-edits'
import { ClaimRow } from './claim-row'
import { nameOf } from './support-name'
import { LostClaims } from './lost-claims'
import { saidAt } from './said-at'

/// Every sentence with its class and what it rests on. Up and down go through them; Enter confirms the
/// one in hand, Shift+Enter all that nothing is open on; a letter A–M gives or takes a class; O marks it as
/// your view. Right goes to what it rests on, P to the Bench at its first frame, W to its words in the Script.
/// `notices`: how many findings on the film's notices hold it back besides.
export function ClaimList({ notices }: { readonly notices: number }) {
  const project = useProject()
  const { breakdown, findings, readings, tables, films, takes, readOnly } = useShown()
  const listed = useAnswer('claims.list', {})
  const answer = listed.value
  const printed = useAnswer('references.list', {}).value
  const cited = useMemo(() => new Map(printed?.references.map((reference) => [reference.id, reference])), [printed])
  const names = useMemo(() => (breakdown ? recordNames(breakdown, readings) : null), [breakdown, readings])
  const typeface = useFilmTypeface()
  // A long film takes long to lay out: the list stands first, and what is stated of a claim lays out nothing anew.
  const laidBy = useDeferredValue(
    breakdown &&
      JSON.stringify([breakdown.script, breakdown.clips, breakdown.events, breakdown.measures, breakdown.cueTimes, breakdown.output]),
    null,
  )
  const times = useMemo(() => {
    const laid = laidBy === null ? null : programmeOf({ breakdown, tables, films, readings, takes }, typeface)
    return laid && breakdown ? saidAt(laid.programme, breakdown, readings) : null
  }, [laidBy, tables, films, readings, takes, typeface])
  const place = usePlace()
  const [at, setAt] = useState(0)
  const rows = useRef<HTMLOListElement>(null)
  const claims = answer?.claims ?? []
  const known = claims.findIndex(({ on }) => quotedKey(on) === place.claim)
  const inHand = known >= 0 ? known : Math.min(at, claims.length - 1)
  useEffect(() => {
    rows.current?.querySelector('[aria-current="true"]')?.scrollIntoView({ block: 'nearest' })
  }, [inHand])
  const unanswered = <NotAnswered what="What the script claims" of={listed} />
  if (!answer) return listed.refused === null ? <p className="quiet">Reading what the script claims …</p> : unanswered

  const state = (list: readonly { answer: ClaimAnswer; change: Stated }[], label: string): Promise<boolean> =>
    project
      .edit((now) =>
        list.length === 0 || readOnly ? null : { label, steps: [], diffs: stating(now, list, claims, readings, new Date().toISOString()) },
      )
      .then((kept) => kept !== null)
  const take = (index: number): void => {
    const next = Math.max(0, Math.min(index, claims.length - 1))
    const claim = claims[next]
    setAt(next)
    if (claim) goTo({ claim: quotedKey(claim.on) })
  }
  const plain = claims.filter((claim) => claim.state !== 'confirmed' && !findingsOn(claim, findings).some(holdsBack))
  const confirmAll = (): void =>
    void state(
      plain.map((each) => ({ answer: each, change: { state: 'confirmed' } })),
      'Confirm claims',
    )
  const now = claims[inHand]
  const confirm = (): void => {
    if (now) void state([{ answer: now, change: { state: 'confirmed' } }], 'Confirm a claim')
    take(inHand + 1)
  }
  const toWords = (): void => (now ? goTo({ room: 'Script', ...(now.paragraph === '' ? {} : { paragraph: now.paragraph }) }) : undefined)
  const firstStill = (): HTMLElement | null => rows.current?.querySelector<HTMLElement>('[aria-current="true"] .support-still') ?? null

  const onKeyDown = (event: KeyboardEvent<HTMLElement>): void => {
    if (
      event.target instanceof HTMLInputElement ||
      event.target instanceof HTMLSelectElement ||
      event.target instanceof HTMLTextAreaElement
    )
      return
    if (event.ctrlKey || event.metaKey || event.altKey) return
    const key = event.key.toUpperCase()
    const letter = ClaimClass.safeParse(key)
    if (event.key === 'ArrowDown') take(inHand + 1)
    else if (event.key === 'ArrowUp') take(inHand - 1)
    else if (event.key === 'ArrowRight' && event.target === rows.current) firstStill()?.focus()
    else if (key === 'P') firstStill()?.click()
    else if (key === 'W') toWords()
    else if (event.key === 'Enter' && event.shiftKey) confirmAll()
    else if (event.key === 'Enter' && !(event.target instanceof HTMLButtonElement)) confirm()
    else if (letter.success && now)
      void state([{ answer: now, change: { classes: (before) => toggled(before, letter.data) } }], `Class of a claim`)
    else if (key === 'O' && now) void state([{ answer: now, change: { evidence: viewToggled } }], 'Mark as your view')
    else return
    event.preventDefault()
  }

  const timeOf = ({ on }: ClaimAnswer): string => {
    const from_s = times?.get(quotedKey(on))
    return from_s === undefined ? '' : filmTimeText(from_s)
  }
  const open = findings.filter(holdsBack).length + notices
  return (
    <section aria-label="Claims" className="claims" onKeyDown={onKeyDown}>
      {unanswered}
      <div className="claim-counts">
        <p>
          <b>{claims.length}</b> said
        </p>
        {tallyClaims(claims).map((group) => (
          <TallyEntry key={group.name} group={group} />
        ))}
        <p>
          <b>{claims.filter((claim) => claim.state === 'confirmed').length}</b> confirmed
        </p>
        {open > 0 ? (
          <p className="open-mark">
            <b>{open}</b> open: the film is held back
          </p>
        ) : (
          <p>nothing holds the film back</p>
        )}
        <button type="button" disabled={readOnly || plain.length === 0} title="Shift+Enter" onClick={confirmAll}>
          Confirm the {plain.length} with nothing open
        </button>
      </div>
      <ol className="claim-rows plain" ref={rows} tabIndex={0} aria-label="What the film says">
        {claims.map((claim, i) =>
          i === inHand ? (
            <ClaimRow
              key={keyOf(claim)}
              claim={claim}
              time={timeOf(claim)}
              cited={cited}
              findings={findingsOn(claim, findings)}
              onLeave={() => rows.current?.focus()}
              onWords={toWords}
              onState={(change, label) => state([{ answer: claim, change }], label)}
              onConfirm={confirm}
              readOnly={readOnly}
            />
          ) : (
            <li key={keyOf(claim)} className="claim" onClick={() => take(i)}>
              <p className="claim-time figures">{timeOf(claim)}</p>
              <p className="claim-words">
                <bdi>{claim.shown}</bdi>
              </p>
              <p className="claim-side">
                <b className={findingsOn(claim, findings).some(holdsBack) ? 'open-mark' : undefined}>
                  <span aria-hidden="true">{claim.state === 'confirmed' ? '●' : '◌'}</span> {claim.classes.join('')}{' '}
                  {classesInWords(claim.classes)}
                </b>
                <span className="quiet">{sideWords(claim, findings, { breakdown, readings }, names)}</span>
              </p>
            </li>
          ),
        )}
      </ol>
      <LostClaims lost={answer.lost} names={names} inHand={now ?? null} readOnly={readOnly} />
    </section>
  )
}

/// Groups that stand in the tally though they have no sentence.
const ALWAYS_TOLD: readonly TallyGroup[] = ['measured or shown', 'cited or cause', 'opinion']

/// How many sentences a group has; of those that speak of bodies' harm or of minds also their class, and what is asked of each.
function TallyEntry({ group: { name, letters, count } }: { readonly group: Tallied }) {
  if (count === 0 && !ALWAYS_TOLD.includes(name)) return null
  const asked = name === 'medical' || name === 'intent' ? wantedBehind(letters) : []
  return (
    <p>
      <b>{count}</b> {name}
      {asked.length > 0 && (
        <span className="quiet">
          {' '}
          (class {letters.join('')}; asked of each: {asked.join('; ')})
        </span>
      )}
    </p>
  )
}

const keyOf = ({ on }: ClaimAnswer): string => quotedKey(on)

/// How sure its classes are; null where there is nothing to say.
function stateWords({ state, changed, byHand }: ClaimAnswer): string | null {
  if (state === 'to-confirm') return `its ${changed.length > 0 ? 'value' : 'words'} changed: to be confirmed`
  return state === 'confirmed' || byHand ? null : 'suggested'
}

function sideWords(
  claim: ClaimAnswer,
  findings: readonly Finding[],
  { breakdown, readings }: Pick<Shown, 'breakdown' | 'readings'>,
  names: RecordNames | null,
): string {
  const [open] = findingsOn(claim, findings).filter(holdsBack)
  if (open) return open.problem
  const rests =
    breakdown && names
      ? supportsOf(claim, breakdown)
          .filter(({ beneath }) => beneath === null)
          .map((support) => (support.of === 'value' && readings.get(support.id)?.plate.value) || nameOf(support, names))
      : []
  return [stateWords(claim), claim.byHand ? 'class changed by hand' : null, ...rests].filter((words) => words !== null).join(' · ')
}

const findingsOn = ({ on }: ClaimAnswer, findings: readonly Finding[]): Finding[] =>
  findings.filter((finding) => finding.on !== null && quotedKey(finding.on) === quotedKey(on))
