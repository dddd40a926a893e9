import type { Caption } from '../programme/caption'
import type { LaidShot, Programme } from '../programme/programme'
import { pictureOfShot } from '../programme/picture-at'
import { multiply, round } from '../time/rational'
import { secondsOf, type Ticks } from '../time/ticks'
import type { DrawnBlock } from './badges'
import { clearance, type Box, type Obstacle } from './box'
import { drawCaption } from './caption-plate'
import { cardPageAt, pagesOf } from './cards'
import type { DrawContext } from './draw-context'
import { letteringOf } from './lettering'
import { textBounds } from './set-text'
import type { Shape } from './shape'
import { planShot } from './shot-plan'
import { appearsAt, freeLines, panelOf, pictureKey } from './shot-scene'

/// A caption that is part of the picture: output frames of the film (`to` excluded), and what is drawn.
export interface BurnedCaption {
  readonly from: number
  readonly to: number
  readonly block: DrawnBlock
  /// Whether it keeps clear of everything else that is written there.
  readonly clear: boolean
}

/// Steps in which another height is looked for, as shares of the canvas's height.
const STEP = 0.01

/// Puts captions on the picture, each standing at one height for as long as it stands: in the captions' zone at the
/// foot, or as near to it as it keeps clear of every value, word, name, credit, badge and card's text.
export function burnCaptions(captions: readonly Caption[], programme: Programme, context: DrawContext): BurnedCaption[] {
  const written = writtenIn(context)
  const frameOf = (t: Ticks): number => Math.min(round(multiply(secondsOf(t), programme.rate)), programme.frames)
  return captions.flatMap((caption): BurnedCaption[] => {
    const [from, to] = [frameOf(caption.from), frameOf(caption.to)]
    const usual = drawCaption(caption.lines, context.typeface, context)
    const box = usual.boxes[0]
    if (!box || to <= from) return []
    const others = programme.shots
      .filter((shot) => shot.start < to && shot.start + shot.frames > from)
      .flatMap((shot) => written(shot, Math.max(0, from - shot.start), Math.min(shot.frames, to - shot.start)))
    const top = clearTop(box, others, context)
    return [
      { from, to, block: top === box.y ? usual : drawCaption(caption.lines, context.typeface, context, top ?? box.y), clear: top !== null },
    ]
  })
}

/// The height nearest to the usual one at which a box keeps clear, the heights within the captions' zone first; null: none.
function clearTop(box: Box, others: readonly Box[], context: DrawContext): number | null {
  const { margin, unit, captionTop } = letteringOf(context.width, context.height)
  const step = STEP * context.height
  const below: number[] = []
  for (let top = box.y; top + box.height <= context.height - 0.5 * margin; top += step) below.push(top)
  const above: number[] = []
  for (let top = box.y - step; top >= margin; top -= step) above.push(top)
  const within = above.filter((top) => top >= captionTop)
  const obstacles = others.map((other): Obstacle => ({ kind: 'box', box: other }))
  const isClear = (top: number): boolean => obstacles.every((other) => clearance({ ...box, y: top }, other) >= 8 * unit)
  return [...below, ...within, ...above.slice(within.length)].find(isClear) ?? null
}

/// Where something is written on a shot's output frames [from, to), remembered picture by picture.
function writtenIn(context: DrawContext): (shot: LaidShot, from: number, to: number) => Box[] {
  const words = new Map<LaidShot, Map<string, Box[]>>()
  return (shot, from, to) => {
    const { card } = shot
    if (card) {
      const pages = pagesOf(card, context)
      const shown = new Set(Array.from({ length: to - from }, (_, i) => cardPageAt(pages, from + i, shot.frames)))
      return [...shown].flatMap((page) => textBoxes(pages[page]?.shapes ?? [], context))
    }
    const plan = planShot(shot, context)
    const boxes = [
      ...plan.badges.boxes,
      ...plan.credit.boxes,
      ...(from < plan.title.frames ? plan.title.boxes : []),
      ...plan.plates.filter((plate) => plate.from < to && from < plate.to).map(({ box }) => box),
    ]
    if (!shot.marks.some((mark) => typeof mark !== 'string' && 'word' in mark)) return boxes
    const known = words.get(shot) ?? new Map<string, Box[]>()
    words.set(shot, known)
    for (let at = from; at < to; at++) {
      const picture = pictureOfShot(shot, at)
      const key = `${pictureKey(picture)}|${shot.marks.map((mark) => (at >= appearsAt(mark, shot) ? 1 : 0)).join('')}`
      const found = known.get(key) ?? wordBoxes(shot, at, context)
      known.set(key, found)
      boxes.push(...found)
    }
    return [...new Set(boxes)]
  }
}

/// Where the words that somebody put on a picture lie on one output frame of the shot, their plates included.
function wordBoxes(shot: LaidShot, at: number, context: DrawContext): Box[] {
  const { lettering } = planShot(shot, context)
  const picture = pictureOfShot(shot, at)
  return shot.marks.flatMap((mark): Box[] => {
    if (typeof mark === 'string' || !('word' in mark) || at < appearsAt(mark, shot)) return []
    const index = panelOf(mark, shot, context)
    const [shown, laid] = [picture.panels[index], shot.panels[index]]
    return shown && laid ? extents(freeLines(mark, laid.clip, shown, context, lettering)?.shapes ?? [], context) : []
  })
}

const textBoxes = (shapes: readonly Shape[], context: DrawContext): Box[] =>
  shapes.flatMap((shape) => (shape.kind === 'text' && shape.text.trim() !== '' ? [textBounds(shape, context.typeface)] : []))

const extents = (shapes: readonly Shape[], context: DrawContext): Box[] => [
  ...textBoxes(shapes, context),
  ...shapes.flatMap((shape): Box[] => {
    if (shape.kind === 'text') return []
    const points = shape.rings.flat()
    const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)]
    const [x, y] = [Math.min(...xs), Math.min(...ys)]
    return points.length === 0 ? [] : [{ x, y, width: Math.max(...xs) - x, height: Math.max(...ys) - y }]
  }),
]
