import type { ReferenceAnswer } from '../../app/contract/claim-calls'
import { countCases } from '../../app/measure/count'
import { reasons, type ReasonCode } from '../../app/measure/reason'
import type { Breakdown } from '../../app/project/breakdown'
import type { Evidence } from '../../app/project/claim'
import type { Event } from '../../app/project/film'
import { settingWords, type Reference } from '../../app/project/reference'
import type { Support } from '../../app/release/support'
import { recordNames } from '../../app/script/claims/record-names'
import { shortName } from '../../app/script/reference-name'
import { clipAt, clipName } from '../script/clip-name'
import { LiveValue } from '../script/live-value'
import { useShown } from '../state/use-project'
import { errorParts } from './error-parts'
import { Fact } from './fact'
import { TextRuns } from './text-runs'

const VERDICTS = { good: null, warned: 'with care', range: 'range only', refused: 'not measured' } as const

interface Props {
  readonly support: Support
  readonly breakdown: Breakdown
  /// References as they are printed, by id.
  readonly cited: ReadonlyMap<string, ReferenceAnswer>
}

/// What a support is and how well it is known; where and when its frames were filmed is said by `FrameFacts`.
export function SupportFacts({ support: { of, id, evidence, gone, beneath }, breakdown, cited }: Props) {
  const named = evidence === 'opinion' ? null : evidence
  if (of === 'view') return <Fact name="view">said as your view</Fact>
  if (of === 'film' && named && 'film' in named) return <FilmFacts earlier={named} />
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
        at={named && 'reference' in named ? (named.at ?? '') : ''}
      />
    )
  if (of === 'event') return <EventFacts event={breakdown.events?.find((each) => each.id === id)} />
  return of === 'value' ? <ValueFacts measure={id} built={beneath !== null} breakdown={breakdown} /> : null
}

function FilmFacts({ earlier: { film, at, says } }: { readonly earlier: Extract<Evidence, { film: string }> }) {
  return (
    <Fact name="earlier film">
      <bdi>{film}</bdi> at {at}
      {says !== undefined && (
        <>
          : <bdi>{says}</bdi>
        </>
      )}
    </Fact>
  )
}

function EventFacts({ event }: { readonly event: Event | undefined }) {
  if (!event) return null
  const { name, earliest, latest } = event
  return (
    <Fact name="event">
      <b>
        <bdi>{name}</bdi>
      </b>
      {earliest === latest ? '' : `, between frames ${earliest} and ${latest}`}
    </Fact>
  )
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
