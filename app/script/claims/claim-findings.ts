import type { Breakdown } from '../../project/breakdown'
import { measuresIn, type ClaimClass } from '../../project/claim'
import type { Measure, MeasureKind } from '../../project/question'
import type { Reading } from '../../measure/reading'
import type { Readings } from '../spoken-form'
import type { FindingCode, FindingDraft } from './finding'
import { eventsStated } from './left-open'
import { referencesOf } from './reference-findings'
import type { StatedClaim } from './stated-claim'
import { spoken, type AddFinding } from './strength-findings'
import { CAREFUL, wordIn } from './word-lists'

const ORDER_KINDS: ReadonlySet<MeasureKind> = new Set<MeasureKind>(['order', 'peak-order', 'time-between', 'frame-count', 'peak-time'])

/// What a sentence of each class lacks, by its evidence: live values in it, readings, events, counts and
/// references stated for it. `slow`: the pictures beside it run slower than they were shot, or at a
/// speed that is not known.
export function claimFindings(claim: StatedClaim, breakdown: Breakdown, readings: Readings, slow: boolean): FindingDraft[] {
  const { saying } = claim
  const found: FindingDraft[] = []
  const add = (code: FindingCode, problem: string, wayOut: string): void =>
    void found.push({ code, place: saying.place, paragraph: saying.paragraph, sentence: saying.shown, problem, wayOut, on: saying.on })
  const measures = new Map((breakdown.measures ?? []).map((measure) => [measure.id, measure]))
  const used = [...saying.values, ...claim.evidence.flatMap(measuresIn)].flatMap(
    (id): { measure: Measure; reading: Reading | undefined }[] => {
      const measure = measures.get(id)
      return measure ? [{ measure, reading: readings.get(id) }] : []
    },
  )
  const has = (letter: ClaimClass): boolean => claim.classes.includes(letter)
  const because = (letter: ClaimClass): string => spoken(claim, letter)
  // What was stated of other words clears only what was stated of them, and is nobody's view of these.
  const stated = new Set(claim.records.flatMap(({ classes }) => classes))
  const references = new Set((breakdown.references ?? []).map(({ id }) => id))
  const referenced = claim.evidence.some((each) => each !== 'opinion' && 'reference' in each && references.has(each.reference))
  const cited = (letter: ClaimClass): boolean =>
    saying.cites.some((id) => references.has(id)) || (referenced && (!claim.carried || stated.has(letter)))
  const viewed = claim.evidence.includes('opinion') || has('H')
  const opinion = claim.carried ? claim.because.has('H') : viewed
  const asView = viewed && !opinion ? 'confirm it again as your view: its words have changed' : 'mark it as your view'
  const eventIds = claim.evidence.flatMap((each) => (each !== 'opinion' && 'events' in each ? each.events : []))

  if (has('B') && used.length === 0)
    add(
      'not-measured',
      `${because('B')} gives a measure, and no reading stands behind it`,
      'Measure it and put the live value in, add a reading, or say what is seen without a measure.',
    )
  if (has('C') && !used.some(({ measure }) => ORDER_KINDS.has(measure.kind))) {
    const events = eventIds.map((id) => breakdown.events?.find((event) => event.id === id))
    if (events.length < 2)
      add(
        'order-open',
        `${because('C')} puts things in time, and no two events stand behind it`,
        'Mark both events and add them, put a live value in, or say it without an order.',
      )
    else if (
      !apart(events.filter((event) => event !== undefined)) &&
      eventsStated(
        claim,
        events.flatMap((event) => event?.name ?? []),
      ) !== null
    )
      add(
        'order-open',
        `${because('C')} puts events in order whose brackets overlap`,
        'Narrow the brackets, or say that the order cannot be told.',
      )
  }
  if (has('D') && !used.some(({ measure }) => measure.kind === 'count'))
    add(
      'count-missing',
      `${because('D')} speaks of more than one case, and nothing was counted`,
      'Count the cases of a stated set and add the count, or say “here”.',
    )
  if (has('E')) comparisonFindings(claim, used, add, because('E'))
  if (has('F') && !cited('F') && referencesOf(claim).every((id) => references.has(id)))
    add(
      'reference-missing',
      `${because('F')} states what is known of bodies, and no reference is cited`,
      'Add a reference with its population and limits, or leave it out.',
    )
  if (has('G') && !opinion && !(cited('G') && wordIn(saying.bare, CAREFUL)))
    add(
      'cause-open',
      cited('G') ? `${because('G')} states a cause as fact` : `${because('G')} states a cause`,
      `${cited('G') ? 'Say “consistent with” or “is thought to”' : 'Add a reference and say “consistent with”'}, or ${asView}.`,
    )
  if (has('I') && slow && saying.on.part === 'sentence')
    add(
      'intent-in-slow-motion',
      `${because('I')} speaks of a mind beside slow pictures, where intent is seen too readily`,
      'Say what is done, or say it beside full speed as your view.',
    )
  else if (has('I') && !opinion) add('intent', `${because('I')} speaks of what somebody wants or knows`, `Say what is done, or ${asView}.`)
  if (has('J') && !cited('J'))
    add('medical', `${because('J')} states something medical`, 'Describe what is seen, or cite a public medical statement.')
  if (has('K') && !claim.evidence.some((each) => each !== 'opinion' && 'film' in each))
    add(
      'film-missing',
      `${because('K')} speaks of an earlier film, and none is named`,
      'Name the film and the time in it that is meant, or say it here.',
    )
  return found
}

function comparisonFindings(
  { evidence }: StatedClaim,
  used: readonly { measure: Measure; reading: Reading | undefined }[],
  add: AddFinding,
  words: string,
): void {
  const compared = used.filter(({ measure }) => measure.kind === 'comparison')
  for (const { reading } of compared) {
    if (reading?.reasons.includes('views-differ'))
      add(
        'views-differ',
        'the two were seen from directions too far apart for their angles to be compared',
        'Compare clips from like views, or compare posture in words.',
      )
  }
  const pairs = evidence.filter((each) => each !== 'opinion' && 'readings' in each)
  if (compared.length === 0 && pairs.length === 0)
    add(
      'comparison-missing',
      `${words} compares, and no comparison stands behind it`,
      'Compare two readings and add the comparison, or say it of one case alone.',
    )
  else if (compared.length === 0)
    add(
      'comparison-missing',
      `${words} compares two readings whose difference was not judged`,
      'Make a comparison of the two: it says whether they differ beyond their error.',
    )
}

/// Whether events of one clip follow each other without their brackets touching.
function apart(events: readonly { readonly clip: string; readonly earliest: number; readonly latest: number }[]): boolean {
  const sorted = [...events].sort((a, b) => a.earliest - b.earliest)
  return (
    sorted.length > 1 &&
    sorted.every((event, i) => i === 0 || (event.clip === sorted[i - 1]?.clip && event.earliest > (sorted[i - 1]?.latest ?? 0)))
  )
}
