import type { Breakdown } from '../../app/project/breakdown'
import { exact } from '../../app/project/fields'
import type { CueTime, Paragraph, Shot } from '../../app/project/picture'
import { toNumber } from '../../app/time/rational'
import type { TakeFacts } from '../narration/make-takes'
import { claims, overrides } from './claims'
import { evidenceOf, momentsOf, truthOf, type ClipId, type Truths } from './evidence'
import { scriptOf, type DraftParagraph } from './script'
import { fitted } from './timing'

/// Seconds that a card stands when the breakdown does not say.
const CARD_S = 3
/// Onsets come from the synthesiser's own sounds; u is half of a short sound.
const CUE_U_S = 0.02

/// The demo's words without pictures: what is read aloud.
export function spokenParagraphs(truths: Truths): Paragraph[] {
  return drafts(truths).map(({ id, text }) => ({ id, text: [...text] }))
}

const drafts = (truths: Truths): DraftParagraph[] => scriptOf(momentsOf(truths), truths)

/// The whole breakdown. Without takes (before they are recorded) cues are taken at 3 s.
export function twoRightHands(truths: Truths, takes: ReadonlyMap<string, TakeFacts>): Breakdown {
  const cueTimes: CueTime[] = []
  const script: Breakdown['script'] = []
  for (const draft of drafts(truths)) {
    if (draft.chapter) script.push({ chapter: draft.chapter })
    const take = takes.get(draft.id)
    const cue = (event: string): number => take?.cues.find((c) => c.event === event)?.seconds ?? 3
    for (const { event, seconds } of take?.cues ?? []) cueTimes.push({ paragraph: draft.id, event, seconds, u: CUE_U_S })
    script.push({
      id: draft.id,
      text: [...draft.text],
      shots: fitted(draft.shots(cue), take?.seconds ?? 0, (shot) => secondsOf(shot, truths)),
      ...(take ? { take: take.file, narration: { words: [...take.words] } } : {}),
      ...(draft.title ? { title: draft.title } : {}),
    })
  }
  return {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'Two right hands',
    question: 'What do two right hands on the bag show, and what do they not?',
    output: { width: 1920, height: 1080, rate: '30/1' },
    sound: { loudness: '-14', hall: 'under', roomTone: 'takes/room-tone.wav' },
    ...evidenceOf(truths),
    cueTimes,
    script,
    claims: [...claims],
    overrides: [...overrides],
  }
}

function secondsOf(shot: Shot, truths: Truths): number {
  const number = (fraction: string): number => toNumber(exact(fraction))
  if ('card' in shot) return shot.seconds ? number(shot.seconds) : CARD_S
  if ('hold' in shot) return number(shot.seconds)
  if ('pair' in shot) return (number(shot.before) + number(shot.after)) / number(shot.speed) + (shot.still ? number(shot.still) : 0)
  const truth = truthOf(truths, shot.run as ClipId)
  /// A clip of unknown capture runs by its file's own clock.
  const rate = number(shot.run === 'c5' ? truth.fileRate : truth.captureRate)
  return (shot.to - shot.from) / rate / number(shot.speed)
}
