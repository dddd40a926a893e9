import { CAUTION_SECONDS, cautionText } from '../marks/caution-text'
import type { Programme } from '../programme/programme'
import type { Breakdown } from '../project/breakdown'
import type { Card } from '../project/picture'
import { toNumber } from '../time/rational'
import { oneLine } from './plain-text'

/// The notices that go with a film of hard blows: on its start card, on its end card and in its description.
/// They are required. A card's own lines take their place; leaving one out is a recorded override of the finding below.
export interface Notices {
  readonly start: string
  readonly end: readonly { readonly label: string; readonly text: string }[]
}

/// Codes of the findings that a missing notice makes, which an override lets stand.
export const NOTICE_CODES = ['start-card-missing', 'end-card-missing', 'health-note-missing'] as const
export type NoticeCode = (typeof NOTICE_CODES)[number]

export interface NoticeFinding {
  readonly code: NoticeCode
  readonly problem: string
  readonly wayOut: string
}

/// What leaving a notice out says, word for word as an override quotes it.
export const NOTICE_PROBLEMS: Readonly<Record<NoticeCode, string>> = {
  'start-card-missing': 'the film does not begin with its caution card for four seconds or more',
  'end-card-missing': 'the film has no end card with the notices on health, practice and estimates',
  'health-note-missing': 'the description goes out without the notices on health, practice and estimates',
}

/// Whether a notice was left out on purpose.
export const isLeftOut = (breakdown: Pick<Breakdown, 'overrides'>, code: NoticeCode): boolean => (breakdown.overrides ?? []).some((override) => override.finding === code && override.problem === NOTICE_PROBLEMS[code])

/// The notices as this film gives them.
export function noticesOf(breakdown: Breakdown): Notices {
  const own = (kind: Card['card']): string[] => cardsOf(breakdown, kind).flatMap((card) => card.lines ?? []).map(oneLine).filter(Boolean)
  const [start, end] = [own('caution'), own('end')]
  return {
    start: isLeftOut(breakdown, 'start-card-missing') ? '' : start.join('\n') || cautionText.start,
    end: isLeftOut(breakdown, 'health-note-missing')
      ? []
      : end.length > 0
        ? [{ label: '', text: end.join('\n') }]
        : [{ label: 'Practice', text: cautionText.practice }, { label: 'What the values are', text: cautionText.estimates }, { label: 'Health', text: cautionText.health }],
  }
}

const cardsOf = (breakdown: Breakdown, kind: Card['card']): Card[] => breakdown.script.flatMap((row) => ('text' in row ? (row.shots ?? []).filter((shot): shot is Card => 'card' in shot && shot.card === kind) : []))

/// Notices that the film lacks and nobody left out on purpose.
export function noticeFindings(programme: Programme, breakdown: Breakdown): NoticeFinding[] {
  const rate = toNumber(programme.rate)
  const [first] = programme.shots
  const starts = first?.card?.card === 'caution' && first.frames / rate >= CAUTION_SECONDS - 1e-9
  const ends = programme.shots.some((shot) => shot.card?.card === 'end')
  const missing: NoticeCode[] = [...(starts ? [] : ['start-card-missing' as const]), ...(ends ? [] : ['end-card-missing' as const])]
  return missing
    .filter((code) => !isLeftOut(breakdown, code))
    .map((code) => ({ code, problem: NOTICE_PROBLEMS[code], wayOut: code === 'start-card-missing' ? 'Let the caution card come first and stand for four seconds, or leave it out with a reason.' : 'Put an end card behind the last paragraph, or leave it out with a reason.' }))
}
