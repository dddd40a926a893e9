import type { Breakdown } from '../project/breakdown'
import type { Clip } from '../project/film'
import type { Mark, Narration, Place, Shot } from '../project/picture'
import { headingPieces } from '../script/heading-text'
import {
  checkEvent,
  checkFile,
  checkFrame,
  checkOrder,
  checkSubject,
  findClip,
  notThere,
  type CheckingOptions,
  type Index,
} from './breakdown-checking'
import { quoted, type ProblemList } from './problem-list'

/// The script's part of `checkBreakdown`: paragraphs' ids, their values and cues, shots, marks,
/// takes, and the cue times that name them.
export function checkScript(b: Breakdown, index: Index, problems: ProblemList, options: CheckingOptions): void {
  const anchors = new Anchors(index, problems, options)
  const paragraphs = new Set<string>()
  b.script.forEach((row, i) => {
    const place = `script[${i}]`
    if ('chapter' in row)
      return headingPieces(row).forEach(
        (piece, j) => typeof piece !== 'string' && anchors.measure(piece.value, `${place}.chapter[${j}].value`),
      )
    if (paragraphs.has(row.id)) problems.add(`${place}.id`, `${quoted(row.id)} is taken by an earlier paragraph`)
    paragraphs.add(row.id)
    if (row.take !== undefined) checkFile(row.take, `${place}.take`, problems)
    if (row.narration) checkNarration(row.narration, `${place}.narration`, problems)
    row.text.forEach((inline, j) => {
      if (typeof inline === 'string') return
      if ('value' in inline) anchors.measure(inline.value, `${place}.text[${j}].value`)
      else if ('cue' in inline) anchors.event(inline.cue, `${place}.text[${j}].cue`)
    })
    row.shots?.forEach((shot, j) => checkShot(shot, `${place}.shots[${j}]`, index, anchors, problems))
  })
  const times = new Set<string>()
  b.cueTimes?.forEach((time, i) => {
    const place = `cueTimes[${i}]`
    if (!paragraphs.has(time.paragraph)) problems.add(`${place}.paragraph`, notThere('paragraph', time.paragraph))
    anchors.event(time.event, `${place}.event`)
    const key = `${time.paragraph}/${time.event}`
    if (times.has(key)) problems.add(place, `the time of ${time.event} in ${time.paragraph} is given by an earlier entry`)
    times.add(key)
  })
}

function checkNarration({ words, onsets, pauses, trim }: Narration, place: string, problems: ProblemList): void {
  if (onsets && onsets.length !== (words?.length ?? 0))
    problems.add(`${place}.onsets`, `has ${onsets.length} times for ${words?.length ?? 0} words`)
  if (onsets?.some((time, i) => i > 0 && time < (onsets[i - 1] ?? 0))) problems.add(`${place}.onsets`, 'times must not fall')
  if (trim && trim.to <= trim.from) problems.add(`${place}.trim`, 'ends before it begins')
  if (pauses?.some((pause, i) => i > 0 && pause.at <= (pauses[i - 1]?.at ?? 0))) problems.add(`${place}.pauses`, 'pauses must rise')
}

/// References that may dangle while a project is being edited.
class Anchors {
  constructor(
    private readonly index: Index,
    private readonly problems: ProblemList,
    private readonly options: CheckingOptions,
  ) {}

  measure(id: string, place: string): void {
    if (this.options.dangling === 'refuse' && !this.index.measures.has(id)) this.problems.add(place, notThere('measure', id))
  }

  event(id: string, place: string, clip: Clip | null = null): void {
    if (this.options.dangling === 'refuse' || this.index.events.has(id)) checkEvent(id, clip, place, this.index, this.problems)
  }
}

function checkShot(shot: Shot, place: string, index: Index, anchors: Anchors, problems: ProblemList): void {
  if ('card' in shot) {
    if (shot.card !== 'curve') return
    anchors.measure(shot.measure, `${place}.measure`)
    if (shot.beside !== undefined) anchors.measure(shot.beside, `${place}.beside`)
    return
  }
  let panels = 1
  if ('run' in shot) {
    const clip = findClip(shot.run, `${place}.run`, index, problems)
    checkFrame(shot.from, clip, `${place}.from`, problems)
    checkFrame(shot.to, clip, `${place}.to`, problems, 'end')
    checkOrder(shot, place, problems)
  } else if ('hold' in shot) {
    checkFrame(shot.at, findClip(shot.hold, `${place}.hold`, index, problems), `${place}.at`, problems)
  } else {
    panels = shot.pair.length
    shot.pair.forEach((member, i) => {
      const at = `${place}.pair[${i}]`
      anchors.event(member.event, `${at}.event`, findClip(member.clip, `${at}.clip`, index, problems))
    })
    if (shot.layout === 'over' && !shot.over)
      problems.add(`${place}.over`, 'is missing; layout "over" needs two landmarks to lie on each other')
    shot.over?.subjects.forEach((subject, i) => checkSubject(subject, `${place}.over.subjects[${i}]`, index, problems))
    if (shot.over && shot.over.subjects.length !== panels)
      problems.add(`${place}.over.subjects`, `names ${shot.over.subjects.length} subjects for ${panels} clips`)
  }
  shot.marks?.forEach((mark, i) => checkMark(mark, `${place}.marks[${i}]`, panels, index, anchors, problems))
}

function checkMark(mark: Mark, place: string, panels: number, index: Index, anchors: Anchors, problems: ProblemList): void {
  if (typeof mark === 'string') return anchors.measure(mark, place)
  if (mark.on !== undefined) anchors.event(mark.on, `${place}.on`)
  if (mark.panel !== undefined && mark.panel >= panels)
    problems.add(`${place}.panel`, `${mark.panel} is not one of the shot's ${panels} pictures (0 first)`)
  const checkPlace = (p: Place, at: string): void => {
    if ('subject' in p) checkSubject(p.subject, `${at}.subject`, index, problems)
  }
  if ('plate' in mark) anchors.measure(mark.plate, `${place}.plate`)
  else if ('arrow' in mark) mark.arrow.forEach((p, i) => checkPlace(p, `${place}.arrow[${i}]`))
  else if ('line' in mark) mark.line.forEach((p, i) => checkPlace(p, `${place}.line[${i}]`))
  else if ('ring' in mark) checkPlace(mark.ring, `${place}.ring`)
  else if ('word' in mark) checkPlace(mark.at, `${place}.at`)
  else if ('trail' in mark) checkSubject(mark.trail.subject, `${place}.trail.subject`, index, problems)
}
