import { useMemo, type KeyboardEvent, type ReactNode } from 'react'
import type { ClaimAnswer, ReferenceAnswer } from '../../app/contract/claim-calls'
import type { FilmFacts } from '../../app/contract/footage-calls'
import { countCases } from '../../app/measure/count'
import { reasons, type ReasonCode } from '../../app/measure/reason'
import type { Breakdown } from '../../app/project/breakdown'
import { captureWords } from '../../app/project/capture-words'
import type { Evidence } from '../../app/project/claim'
import { exact } from '../../app/project/fields'
import type { Clip } from '../../app/project/film'
import { settingWords, type Reference } from '../../app/project/reference'
import type { EvidenceStill } from '../../app/release/evidence-still'
import { keptStill, supportsOf, wantedBehind, withoutSupport, type Support } from '../../app/release/support'
import { recordNames, type RecordNames } from '../../app/script/claims/record-names'
import { isStrong } from '../../app/script/claims/suggest-classes'
import { shortName } from '../../app/script/reference-name'
import { secondsAt, type FrameTable } from '../../app/time/frame-table'
import { toNumber } from '../../app/time/rational'
import { clipAt, clipName } from '../script/clip-name'
import { LiveValue } from '../script/live-value'
import { goTo } from '../state/place'
import { isGone } from '../state/programme'
import { useShown } from '../state/use-project'
import { errorParts } from './error-parts'
import { EvidencePicture, useLaidStills, type LaidStills } from './evidence-picture'
import { TextRuns } from './text-runs'

interface Props {
  readonly claim: ClaimAnswer
  /// References as they are printed, by id.
  readonly cited: ReadonlyMap<string, ReferenceAnswer>
  readonly readOnly: boolean
  readonly onTakeAway: (change: (before: readonly Evidence[]) => readonly Evidence[]) => void
  /// The keys go back to the sentences.
  readonly onLeave: () => void
}

/// Everything that the sentence in hand rests on: each value, event and frame with its still, when and where it was filmed;
/// each reference with whom it holds for and how far. Up and Down go through the stills, Enter or P goes to the Bench at
/// one, Left goes back. A sentence on nothing says what is missing.
export function ClaimSupports({ claim, cited, readOnly, onTakeAway, onLeave }: Props) {
  const { breakdown, readings } = useShown()
  const { values, cites, evidence } = claim
  const supports = useMemo(
    () => (breakdown ? supportsOf({ values, cites, evidence }, breakdown) : []),
    [breakdown, values, cites, evidence],
  )
  const stills = useMemo(
    () => [...new Map(supports.flatMap((support) => support.stills.map((still) => [still.name, still]))).values()],
    [supports],
  )
  const laid = useLaidStills(stills)
  if (!breakdown) return null
  const names = recordNames(breakdown, readings)
  if (supports.length === 0) return <NothingBehind claim={claim} />
  const onKeyDown = (event: KeyboardEvent<HTMLDivElement>): void => {
    if (!(event.target instanceof HTMLElement) || !event.target.matches('.support-still') || event.ctrlKey || event.metaKey || event.altKey)
      return
    const all = [...event.currentTarget.querySelectorAll<HTMLElement>('.support-still')]
    const by = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0
    if (by !== 0) all[all.indexOf(event.target) + by]?.focus()
    else if (event.key === 'ArrowLeft' || event.key === 'Escape') onLeave()
    else if (event.key.toLowerCase() === 'p') event.target.click()
    else return
    event.preventDefault()
    event.stopPropagation()
  }
  return (
    <div className="supports" role="group" aria-label="What stands behind it" onKeyDown={onKeyDown}>
      {supports.map((support) => (
        <SupportFacts
          key={`${support.of}/${support.id}/${JSON.stringify(support.evidence)}`}
          support={support}
          breakdown={breakdown}
          laid={laid}
          cited={cited}
        >
          {support.evidence !== null && (
            <button
              type="button"
              className="text"
              disabled={readOnly}
              aria-label={`take away: ${nameOf(support, names)}`}
              onClick={() => onTakeAway((before) => withoutSupport(before, support))}
            >
              take away
            </button>
          )}
        </SupportFacts>
      ))}
    </div>
  )
}

/// Said aloud only where it holds the film back.
function NothingBehind({ claim: { classes } }: { readonly claim: ClaimAnswer }) {
  const wanted = wantedBehind(classes)
  if (wanted.length === 0) return <p className="quiet">Nothing has to stand behind it.</p>
  if (!isStrong(classes)) return <p className="quiet">It rests on nothing yet, and may go out so. It could rest on {wanted.join('; ')}.</p>
  return (
    <p className="nothing-behind">
      <b>It rests on nothing.</b> Missing: {wanted.join('; ')}.
    </p>
  )
}

interface FactsProps {
  readonly support: Support
  readonly breakdown: Breakdown
  readonly laid: LaidStills | null
  readonly cited: ReadonlyMap<string, ReferenceAnswer>
  readonly children: ReactNode
}

function SupportFacts(props: FactsProps) {
  const { support, breakdown, laid, children } = props
  const { stills } = support
  const what = whatItIs(props)
  if (stills.length === 0)
    return (
      <div className="support support-bare">
        <dl className="support-facts">
          {what}
          <Fact name="">{children}</Fact>
        </dl>
      </div>
    )
  return stills.map((still, i) => (
    <div key={still.name} className={i === 0 ? 'support' : 'support support-on'}>
      <button
        type="button"
        className="support-still"
        title="To the Bench at this frame (Enter, P)"
        aria-label={`To the Bench: frame ${still.frame} of ${clipName(breakdown, still.clip)}`}
        onClick={() => goTo({ room: 'Bench', clip: still.clip, frame: still.frame })}
      >
        <EvidencePicture still={still} laid={laid} />
      </button>
      <dl className="support-facts">
        {i === 0 && what}
        <FrameFacts
          still={still}
          breakdown={breakdown}
          support={support}
          film={i === 0}
          end={stills.length < 2 ? null : i === 0 ? 'earliest' : 'latest'}
        />
        {i === 0 && <Fact name="">{children}</Fact>}
      </dl>
    </div>
  ))
}

/// One line; none where there is nothing to say.
function Fact({ name, open = false, children }: { readonly name: string; readonly open?: boolean; readonly children: ReactNode }) {
  return children === '' || children === null || children === false ? null : (
    <div>
      <dt className={open ? 'open-mark' : undefined}>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

const VERDICTS = { good: null, warned: 'with care', range: 'range only', refused: 'not measured' } as const

/// What it is and how well it is known.
function whatItIs({ support, breakdown, cited }: FactsProps): ReactNode {
  const { of, id, evidence, gone, beneath } = support
  if (of === 'view') return <Fact name="view">said as your view</Fact>
  if (of === 'film' && evidence !== null && evidence !== 'opinion' && 'film' in evidence)
    return (
      <Fact name="earlier film">
        <bdi>{evidence.film}</bdi> at {evidence.at}
        {evidence.says === undefined ? (
          ''
        ) : (
          <>
            : <bdi>{evidence.says}</bdi>
          </>
        )}
      </Fact>
    )
  if (gone)
    return (
      <Fact name={of} open>
        <span className="open-mark">{id} is not there any more: take it away, or put another in its place</span>
      </Fact>
    )
  if (of === 'reference')
    return (
      <ReferenceFacts
        record={breakdown.references?.find((each) => each.id === id)}
        printed={cited.get(id)}
        at={evidence !== null && evidence !== 'opinion' && 'reference' in evidence ? (evidence.at ?? '') : ''}
      />
    )
  if (of === 'event') {
    const event = breakdown.events?.find((each) => each.id === id)
    return (
      event && (
        <Fact name="event">
          <b>
            <bdi>{event.name}</bdi>
          </b>
          {event.earliest === event.latest ? '' : `, between frames ${event.earliest} and ${event.latest}`}
        </Fact>
      )
    )
  }
  return of === 'value' ? <ValueFacts measure={id} built={beneath !== null} breakdown={breakdown} /> : null
}

function ValueFacts({
  measure: id,
  built,
  breakdown,
}: {
  readonly measure: string
  readonly built: boolean
  readonly breakdown: Breakdown
}) {
  const { readings } = useShown()
  const reading = readings.get(id)
  const measure = breakdown.measures?.find((each) => each.id === id)
  if (!reading)
    return (
      <Fact name="value">
        <bdi>{recordNames(breakdown, readings).measure(id)}</bdi> is being measured
      </Fact>
    )
  const verdict = VERDICTS[reading.verdict]
  const why = reading.reasons.map((code) => reasons[code as ReasonCode]?.wording ?? code).join('; ')
  return (
    <>
      <Fact name={built ? 'built on' : 'value'}>
        <LiveValue reading={reading} measure={id} /> {reading.plate.what}
      </Fact>
      <Fact name="error">{reading.parts.length > 0 && `${errorParts(reading, 4)} (95 %)`}</Fact>
      <Fact name="verdict">{verdict === null && why === '' ? '' : [verdict ?? 'good', why].filter(Boolean).join(': ')}</Fact>
      {measure?.kind === 'count' && <CountFacts measure={measure} breakdown={breakdown} />}
    </>
  )
}

function CountFacts({
  measure,
  breakdown,
}: {
  readonly measure: Extract<NonNullable<Breakdown['measures']>[number], { kind: 'count' }>
  readonly breakdown: Breakdown
}) {
  const { k, n, unusable } = countCases(measure.cases, { clip: (id) => clipAt(breakdown, id) ?? null })
  return (
    <>
      <Fact name="counted">
        {k} of {n}
        {unusable > 0 ? `, ${unusable} not usable` : ''}:{' '}
        {measure.cases
          .map(({ clip, holds }) => `${clipName(breakdown, clip)} ${holds === null ? 'not usable' : holds ? 'seen' : 'not seen'}`)
          .join('; ')}
      </Fact>
      <Fact name="looked at">
        <bdi>{measure.set}</bdi>
      </Fact>
    </>
  )
}

function ReferenceFacts({
  record,
  printed,
  at,
}: {
  readonly record: Reference | undefined
  readonly printed: ReferenceAnswer | undefined
  readonly at: string
}) {
  if (!record) return null
  const { population = '', limits = '', setting = [] } = record
  const blank = [population === '' ? 'in whom' : '', limits === '' ? 'how far it holds' : ''].filter(Boolean)
  return (
    <>
      <Fact name="cited">
        <bdi>{printed ? <TextRuns runs={printed.runs} /> : shortName(record)}</bdi>
        {at === '' ? '' : `, ${at}`}
      </Fact>
      <Fact name="in whom">{population && <bdi>{population}</bdi>}</Fact>
      <Fact name="holds">{limits && <bdi>{limits}</bdi>}</Fact>
      <Fact name="setting">{settingWords(setting)}</Fact>
      <Fact name="missing" open>
        {blank.length > 0 && <span className="open-mark">{blank.join(' and ')} is not said</span>}
      </Fact>
    </>
  )
}

/// Which frame, when it stands in the file, and whose film that is. `end`: which end of a bracket it is.
function FrameFacts({
  still,
  support,
  breakdown,
  film: whole,
  end,
}: {
  readonly still: EvidenceStill
  readonly support: Support
  readonly breakdown: Breakdown
  readonly film: boolean
  readonly end: 'earliest' | 'latest' | null
}) {
  const { films, tables } = useShown()
  const clip = clipAt(breakdown, still.clip)
  const footage = breakdown.footage.find(({ id }) => id === clip?.footage)
  if (!clip || !footage) return null
  const table = tables.get(footage.id)
  const around =
    support.of === 'event'
      ? []
      : (breakdown.events ?? []).filter((event) => event.clip === clip.id && event.earliest <= still.frame && still.frame <= event.latest)
  const film = films.get(footage.id)
  const kept = isGone(film) ? keptStill(still, breakdown) : null
  return (
    <>
      <Fact name={end ?? 'frame'}>
        {end === null ? still.frame : `frame ${still.frame}`} of <bdi>{clipName(breakdown, clip.id)}</bdi>
        {timeWords(table, still.frame, support.of === 'event' && end === null) ||
          (kept?.at_s === undefined ? '' : `, ${kept.at_s.toFixed(4)} s`)}
        {around.map(({ id, name, earliest, latest }) => (
          <span key={id}>
            , in <bdi>{name}</bdi>
            {earliest === latest ? '' : ` (${earliest} to ${latest})`}
          </span>
        ))}
      </Fact>
      {whole && (
        <>
          <Fact name="film">
            <bdi>{[fileName(footage.file), shotWords(clip, film), clip.mirrored ? 'mirrored' : ''].filter(Boolean).join(' · ')}</bdi>
          </Fact>
          <SourceFact source={footage.source ?? {}} />
          <Fact name="still">
            {isGone(film) && (kept ? `as version ${kept.release.version} kept it; the film is not there` : 'none: the film is not there')}
          </Fact>
        </>
      )}
    </>
  )
}

function SourceFact({ source }: { readonly source: NonNullable<Breakdown['footage'][number]['source']> }) {
  const said = [source.credit ?? source.owner, source.where, source.when].filter(Boolean)
  const blank = [(source.credit ?? source.owner) ? '' : 'whose it is', source.where ? '' : 'where', source.when ? '' : 'when'].filter(
    Boolean,
  )
  return (
    <>
      <Fact name="source">{said.length > 0 && <bdi>{said.join(' · ')}</bdi>}</Fact>
      {said.length === 0 ? (
        <Fact name="source">
          <i>no source card is filled in</i>
        </Fact>
      ) : (
        blank.length > 0 && (
          <Fact name="">
            <i>not said: {blank.join(', ')}</i>
          </Fact>
        )
      )}
    </>
  )
}

/// ", 5.2000 s"; `instant`: an instant known to half a frame either way.
function timeWords(table: FrameTable | undefined, frame: number, instant: boolean): string {
  if (!table || frame >= table.pts.length) return ''
  const at = secondsAt(table, frame)
  return `, ${at.toFixed(4)} s${instant ? ` ± ${((secondsAt(table, frame + 1) - at) / 2).toFixed(4)} s` : ''}`
}

/// How fast it was really shot: "120 frames a second, played 4 times slower".
function shotWords({ capture }: Clip, film: FilmFacts | undefined): string {
  if (capture === 'unknown' || !film?.rate) return captureWords(capture)
  const rate = `${Number((toNumber(film.rate) * toNumber(exact(capture.factor))).toFixed(2))} frames a second`
  return capture.factor === '1' && capture.u === 0 ? rate : `${rate}, ${captureWords(capture)}`
}

const fileName = (file: string): string => file.slice(file.lastIndexOf('/') + 1)

/// What a support is called where it is spoken of.
export function nameOf({ of, id, evidence }: Support, names: RecordNames): string {
  if (of === 'view') return 'your view'
  if (of === 'film')
    return evidence !== null && evidence !== 'opinion' && 'film' in evidence ? `${evidence.film}, ${evidence.at}` : 'an earlier film'
  if (of === 'frame')
    return evidence !== null && evidence !== 'opinion' && 'frame' in evidence ? `frame ${evidence.frame} of ${names.clip(id)}` : id
  if (of === 'event') return names.event(id)
  return of === 'reference' ? names.reference(id) : names.measure(id)
}
