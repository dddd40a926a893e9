import { CAUTION_SECONDS, cautionText } from '../script/caution-text'
import type { Programme } from '../programme/programme'
import type { Breakdown } from '../project/breakdown'
import type { Override } from '../project/claim'
import type { Card } from '../project/picture'
import { toNumber } from '../time/rational'
import { oneLine } from './plain-text'

/// The notices that go with a film of hard blows: on its start card, on its end card and in its description.
/// They are required. A card's own lines take their place on the card, which is a finding as well, for that takes words away that
/// may keep somebody from harm; leaving one out or wording it anew is a recorded override of the findings below.
export interface Notices {
  readonly start: string
  readonly end: readonly { readonly label: string; readonly text: string }[]
}

/// Codes of what a person may leave out on purpose.
export const NOTICE_CODES = ['start-card-missing', 'end-card-missing', 'health-note-missing'] as const
export type NoticeCode = (typeof NOTICE_CODES)[number]

/// Codes of the findings on notices, which an override lets stand.
export const NOTICE_FINDING_CODES = [...NOTICE_CODES, 'start-card-reworded', 'end-card-reworded', 'end-card-not-last'] as const
export type NoticeFindingCode = (typeof NOTICE_FINDING_CODES)[number]

export interface NoticeFinding {
  readonly code: NoticeFindingCode
  readonly problem: string
  readonly wayOut: string
}

/// What leaving a notice out says, word for word as an override quotes it.
export const NOTICE_PROBLEMS: Readonly<Record<NoticeCode | 'end-card-not-last', string>> = {
  'start-card-missing': 'the film does not begin with its caution card for four seconds or more',
  'end-card-missing': 'the film has no end card with the notices on health, practice and estimates',
  'health-note-missing': 'the description goes out without the notices on health, practice and estimates',
  'end-card-not-last': 'the end card does not stand at the end of the film for four seconds or more',
}

/// The override that lets this finding on a notice stand; undefined while it is open.
export const letStand = (
  breakdown: Pick<Breakdown, 'overrides'>,
  { code, problem }: Pick<NoticeFinding, 'code' | 'problem'>,
): Override | undefined => (breakdown.overrides ?? []).find((override) => override.finding === code && override.problem === problem)

/// Whether a notice was left out on purpose.
export const isLeftOut = (breakdown: Pick<Breakdown, 'overrides'>, code: NoticeCode): boolean =>
  letStand(breakdown, { code, problem: NOTICE_PROBLEMS[code] }) !== undefined

const END_NOTICES: Notices['end'] = [
  { label: 'Practice', text: cautionText.practice },
  { label: 'What the values are', text: cautionText.estimates },
  { label: 'Health', text: cautionText.health },
]

/// The notices as this film gives them. What its end card says in its own words stands before the notices and not in their
/// place: those leave the description only by an override of their own.
export function noticesOf(breakdown: Breakdown): Notices {
  const [start, end] = [ownLines(breakdown, 'caution'), ownLines(breakdown, 'end')]
  return {
    start: isLeftOut(breakdown, 'start-card-missing') ? '' : start.join('\n') || cautionText.start,
    end: isLeftOut(breakdown, 'health-note-missing')
      ? []
      : [...(end.length > 0 ? [{ label: '', text: end.join('\n') }] : []), ...END_NOTICES.filter(({ text }) => !says(end, text))],
  }
}

/// What the end card itself says: its own lines, else the notices.
export function endCardWords(breakdown: Breakdown): Notices['end'] {
  const own = ownLines(breakdown, 'end')
  return own.length > 0 ? [{ label: '', text: own.join('\n') }] : END_NOTICES
}

const cardsOf = (breakdown: Breakdown, kind: Card['card']): Card[] =>
  breakdown.script.flatMap((row) =>
    'text' in row ? (row.shots ?? []).filter((shot): shot is Card => 'card' in shot && shot.card === kind) : [],
  )
const ownLines = (breakdown: Breakdown, kind: Card['card']): string[] => cardsOf(breakdown, kind).flatMap(linesOf)
const linesOf = (card: Card): string[] => (card.lines ?? []).map(oneLine).filter(Boolean)
const says = (lines: readonly string[], notice: string): boolean => lines.join(' ').includes(notice)

/// Notices that a card's own lines took the place of, whether that is let stand or not; a card that says a notice whole,
/// with more beside it, lacks nothing.
export function rewordedNotices(breakdown: Breakdown): NoticeFinding[] {
  const reworded = (
    kind: 'caution' | 'end',
    code: 'start-card-reworded' | 'end-card-reworded',
    notices: readonly string[],
    which: string,
  ): NoticeFinding[] =>
    cardsOf(breakdown, kind).flatMap((card): NoticeFinding[] => {
      const lines = linesOf(card)
      if (lines.length === 0 || notices.every((notice) => says(lines, notice))) return []
      return [
        {
          code,
          problem: `the ${kind === 'caution' ? 'start' : 'end'} card says “${lines.join(' ')}” in place of ${which}`,
          wayOut: 'Take the card’s own lines away, so that it says the notice, or let them stand with a reason.',
        },
      ]
    })
  return [
    ...reworded('caution', 'start-card-reworded', [cautionText.start], 'the notice on hard blows and estimates'),
    ...reworded(
      'end',
      'end-card-reworded',
      END_NOTICES.map(({ text }) => text),
      'the notices on health, practice and estimates',
    ),
  ]
}

/// What is wrong with the film's notices, that nobody let stand on purpose. Each holds a final film back.
export const noticeFindings = (programme: Programme, breakdown: Breakdown): NoticeFinding[] =>
  noticeProblems(programme, breakdown).filter((each) => letStand(breakdown, each) === undefined)

/// Overrides that let something stand on the notices as they are; one that names what is not so any more is none.
export function noticeOverrides(programme: Programme, breakdown: Breakdown): Override[] {
  const missing: Pick<NoticeFinding, 'code' | 'problem'> = { code: 'health-note-missing', problem: NOTICE_PROBLEMS['health-note-missing'] }
  return [...noticeProblems(programme, breakdown), missing].flatMap((each) => letStand(breakdown, each) ?? [])
}

function noticeProblems(programme: Programme, breakdown: Breakdown): NoticeFinding[] {
  const stands = (shot: Programme['shots'][number] | undefined, kind: Card['card']): boolean =>
    shot?.card?.card === kind && shot.frames / toNumber(programme.rate) >= CAUTION_SECONDS - 1e-9
  const finding = (code: keyof typeof NOTICE_PROBLEMS, wayOut: string): NoticeFinding => ({ code, problem: NOTICE_PROBLEMS[code], wayOut })
  const hasEnd = programme.shots.some((shot) => shot.card?.card === 'end')
  return [
    ...(stands(programme.shots[0], 'caution')
      ? []
      : [
          finding(
            'start-card-missing',
            'Let the caution card come first and stand for four seconds or more, or leave it out with a reason.',
          ),
        ]),
    ...(hasEnd ? [] : [finding('end-card-missing', 'Put an end card behind the last paragraph, or leave it out with a reason.')]),
    ...(!hasEnd || stands(programme.shots.at(-1), 'end')
      ? []
      : [
          finding(
            'end-card-not-last',
            'Put it behind the last picture and let it stand for four seconds or more, or let it be with a reason.',
          ),
        ]),
    ...rewordedNotices(breakdown),
  ]
}
