import { distanceToBox, intersection, type Box } from '../marks/box'
import { cardPageAt, pagesOf } from '../marks/cards'
import { readingSeconds } from '../script/caution-text'
import type { DrawContext } from '../marks/draw-context'
import { textBounds } from '../marks/set-text'
import type { Shape } from '../marks/shape'
import { planShot } from '../marks/shot-plan'
import { appearsAt, freeLines, joints, measureOf, panelOf, picturesOf } from '../marks/shot-scene'
import type { LaidShot, Programme } from '../programme/programme'
import { pictureOfShot } from '../programme/picture-at'
import { toNumber } from '../time/rational'
import type { FilmRemark } from './film-remark'

export type TextShape = Extract<Shape, { kind: 'text' }>

/// Something written on the film, as it was planned: what, where, and on which of the film's frames.
export interface FilmLabel {
  readonly kind: 'value' | 'word' | 'name' | 'credit' | 'badge' | 'card' | 'caption'
  readonly from: number
  readonly to: number
  readonly texts: readonly TextShape[]
  /// Frames on which its ground is looked at, with its words where they stand then: the first, the middle and the last one
  /// over a picture, for it moves beneath them; one where they bring their ground with them.
  readonly looks: readonly LabelLook[]
  readonly box: Box
  /// Whose value it shows; null where it shows none.
  readonly measure: string | null
  /// What lies beneath it that it should not cover, in words; null: nothing.
  readonly covers: 'joint' | 'caption' | 'label' | null
}

export interface LabelLook {
  /// Output frame of the film.
  readonly frame: number
  readonly texts: readonly TextShape[]
}

const middles = (from: number, to: number): number[] => [...new Set([from, from + ((to - from) >> 1), to - 1])]
const looksAt = (from: number, to: number, texts: readonly TextShape[]): LabelLook[] => middles(from, to).map((frame) => ({ frame, texts }))

/// Everything that is written on a film, in its order.
export function filmLabels(programme: Programme, context: DrawContext): FilmLabel[] {
  return [
    ...programme.shots.flatMap((shot) => (shot.card ? cardLabels(shot, context) : pictureLabels(shot, context))),
    ...captionLabels(context),
  ]
}

const captionLabels = ({ captions = [] }: DrawContext): FilmLabel[] =>
  captions.flatMap(({ from, to, block, clear }) =>
    block.boxes.map((box) => ({
      kind: 'caption' as const,
      from,
      to,
      texts: textsOf(block.shapes),
      looks: [{ frame: to - 1, texts: textsOf(block.shapes) }],
      box,
      measure: null,
      covers: clear ? null : ('label' as const),
    })),
  )

const textsOf = (shapes: readonly Shape[]): TextShape[] =>
  shapes.filter((shape): shape is TextShape => shape.kind === 'text' && shape.text.trim() !== '')

function cardLabels(shot: LaidShot, context: DrawContext): FilmLabel[] {
  if (!shot.card) return []
  const pages = pagesOf(shot.card, context)
  const labels: FilmLabel[] = []
  for (let at = 0, from = 0; at < shot.frames; at++) {
    const page = cardPageAt(pages, at, shot.frames)
    if (at + 1 < shot.frames && cardPageAt(pages, at + 1, shot.frames) === page) continue
    const texts = textsOf(pages[page]?.shapes ?? [])
    if (texts.length > 0)
      labels.push({
        kind: 'card',
        from: shot.start + from,
        to: shot.start + at + 1,
        texts,
        looks: [{ frame: shot.start + at, texts }],
        box: boundsOf(texts, context),
        measure: shot.card.card === 'curve' ? shot.card.measure : null,
        covers: null,
      })
    from = at + 1
  }
  return labels
}

function pictureLabels(shot: LaidShot, context: DrawContext): FilmLabel[] {
  const plan = planShot(shot, context)
  const whole = { from: shot.start, to: shot.start + shot.frames }
  const zone: Box = { x: 0, y: plan.lettering.captionTop, width: context.width, height: context.height - plan.lettering.captionTop }
  const labels: FilmLabel[] = []
  const block = (kind: FilmLabel['kind'], shapes: readonly Shape[], span: { from: number; to: number }): void => {
    const texts = textsOf(shapes)
    if (texts.length === 0) return
    const box = boundsOf(texts, context)
    labels.push({
      kind,
      ...span,
      texts,
      looks: looksAt(span.from, span.to, texts),
      box,
      measure: null,
      covers: intersection(box, zone)
        ? 'caption'
        : overJoint(box, shot, [span.from - shot.start, span.to - shot.start], context)
          ? 'joint'
          : null,
    })
  }
  for (const plate of plan.plates) {
    const texts = textsOf(plate.set.draw([plate.box.x, plate.box.y]))
    labels.push({
      kind: 'value',
      from: shot.start + plate.from,
      to: shot.start + plate.to,
      texts,
      looks: looksAt(shot.start + plate.from, shot.start + plate.to, texts),
      box: plate.box,
      measure: plate.measure,
      covers: intersection(plate.box, zone) ? 'caption' : plate.clear ? null : 'joint',
    })
  }
  for (const mark of shot.marks) {
    if (typeof mark === 'string' || !('word' in mark) || measureOf(mark, context)) continue
    const at = appearsAt(mark, shot)
    if (at >= shot.frames) continue
    const index = panelOf(mark, shot, context)
    // A word may go with what it is fixed to.
    const textsOn = (frame: number): TextShape[] => {
      const [shown, laid] = [pictureOfShot(shot, frame).panels[index], shot.panels[index]]
      return textsOf((shown && laid ? freeLines(mark, laid.clip, shown, context, plan.lettering) : null)?.shapes ?? [])
    }
    const texts = textsOn(shot.frames - 1)
    if (texts.length === 0) continue
    const box = boundsOf(texts, context)
    const under = intersection(box, zone) ? 'caption' : overJoint(box, shot, [at, shot.frames], context) ? 'joint' : null
    const looks = middles(at, shot.frames).map((frame): LabelLook => ({ frame: shot.start + frame, texts: textsOn(frame) }))
    labels.push({ kind: 'word', from: shot.start + at, to: shot.start + shot.frames, texts, looks, box, measure: null, covers: under })
  }
  block('name', plan.title.shapes, { from: whole.from, to: Math.min(whole.to, shot.start + plan.title.frames) })
  block('credit', plan.credit.shapes, whole)
  block('badge', plan.badges.shapes, whole)
  return labels
}

function overJoint(box: Box, shot: LaidShot, [from, to]: readonly [number, number], context: DrawContext): boolean {
  return picturesOf(shot, from, to, 4).some((picture) =>
    picture.panels.some((shown, i) =>
      joints(shot.panels[i]?.clip ?? '', shown, context)
        .flat()
        .some((at) => distanceToBox(box, at) <= 0),
    ),
  )
}

/// Where the lines of a text lie, capitals and descenders included.
function boundsOf(texts: readonly TextShape[], { typeface }: Pick<DrawContext, 'typeface'>): Box {
  const boxes = texts.map((text) => textBounds(text, typeface))
  const [x, y] = [Math.min(...boxes.map((b) => b.x)), Math.min(...boxes.map((b) => b.y))]
  return { x, y, width: Math.max(...boxes.map((b) => b.x + b.width)) - x, height: Math.max(...boxes.map((b) => b.y + b.height)) - y }
}

/// The least size of what is written, as a share of the picture's height; of its width where it stands upright.
const LEAST_TEXT = 0.04

/// Labels that are too small, too short or lie over a joint or the captions' zone.
export function labelRemarks(labels: readonly FilmLabel[], programme: Programme): FilmRemark[] {
  const rate = toNumber(programme.rate)
  const least = LEAST_TEXT * Math.min(programme.height, programme.width)
  // A plate repeated over neighbouring shots stands for all of them.
  const standsFor = (label: FilmLabel): number => {
    const same = labels.filter(
      (other) => other.kind === label.kind && wordsOf(other) === wordsOf(label) && other.from <= label.to + 1 && label.from <= other.to + 1,
    )
    return Math.max(...same.map((l) => l.to)) - Math.min(...same.map((l) => l.from))
  }
  return labels.flatMap((label) => {
    const remarks: FilmRemark[] = []
    const say = (code: FilmRemark['code'], problem: string, wayOut: string): void =>
      void remarks.push({ code, weight: 'look', frame: label.from, problem, wayOut })
    const words = wordsOf(label)
    const smallest = Math.min(...label.texts.map((text) => text.size))
    if (smallest < least - 0.01)
      say(
        'label-small',
        `“${words}” is ${Math.round(smallest)} pixels high where ${Math.ceil(least)} are needed to read it`,
        'Fewer words on one picture leave them their size.',
      )
    if (label.covers === 'label')
      say(
        'caption-over-label',
        `the caption “${words}” found no place clear of what else is written there`,
        'Write less on that picture, or let the captions go beside the film.',
      )
    // How long captions stand is held by their own limits, and told with them.
    if (label.kind === 'caption') return remarks
    const [stands, needs] = [standsFor(label) / rate, label.kind === 'badge' || label.kind === 'credit' ? 0.5 : readingSeconds(words)]
    if (stands + 1 / rate < Math.min(needs, 12))
      say(
        'label-short',
        `“${words}” stands for ${stands.toFixed(1)} s and takes ${needs.toFixed(1)} s to read`,
        'Hold the picture longer, or take words off it.',
      )
    if (label.covers === 'joint')
      say(
        'label-over-joint',
        `“${words}” could not be kept clear of a joint or a line`,
        'Show a smaller part of the picture, or fewer values on it.',
      )
    if (label.covers === 'caption') say('label-over-caption', `“${words}” reaches into the captions' zone`, 'Move it up.')
    return remarks
  })
}

/// A label's words, shortened for people.
export function wordsOf(label: FilmLabel): string {
  const words = label.texts.map((text) => text.text).join(' ')
  return words.length > 90 ? `${words.slice(0, 89).trimEnd()}…` : words
}
