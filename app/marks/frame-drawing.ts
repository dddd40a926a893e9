import { pictureOfShot } from '../programme/picture-at'
import type { LaidShot, Picture } from '../programme/programme'
import type { Point } from '../project/fields'
import { nearestIn } from './box'
import type { BurnedCaption } from './burned-caption'
import { cardPageAt, pagesOf } from './cards'
import type { DrawContext } from './draw-context'
import { ink } from './ink'
import { palette } from './palette'
import { sameShapes, type Shape } from './shape'
import { planShot, type PlannedPlate, type ShotPlan } from './shot-plan'
import { appearsAt, freeLines, measureLines, measureOf, panelOf, pictureKey } from './shot-scene'
import type { Span } from './span'

/// What is drawn on the output frame `picture.at` of its shot, bottom first, in canvas pixels: what is dimmed, lines and
/// free marks, plates with their hairlines, names, credit and badges, the caption where captions are burned in. Marks sit on the samples of exactly the footage
/// frame shown; nothing fades or blinks.
export function drawFrame(picture: Picture, context: DrawContext): Shape[] {
  return drawLayers(picture, context, planShot(picture.shot, context), context.captions ?? []).flat()
}

/// What is drawn on a whole shot, as spans of output frames counted from the shot's first. What stands still over
/// neighbouring frames is one span; later spans lie over earlier ones.
export function drawShot(shot: LaidShot, context: DrawContext): Span[] {
  const plan = planShot(shot, context)
  const captions = (context.captions ?? []).filter((caption) => caption.from < shot.start + shot.frames && caption.to > shot.start)
  const spans: { from: number; to: number; shapes: readonly Shape[] }[][] = LAYERS.map(() => [])
  let known = ''
  for (let at = 0; at < shot.frames; at++) {
    const picture = pictureOfShot(shot, at)
    const key = frameKey(picture, plan, context, captions)
    if (key === known) {
      for (const layer of spans) extend(layer, at)
      continue
    }
    known = key
    drawLayers(picture, context, plan, captions).forEach((shapes, i) => {
      const layer = spans[i] as (typeof spans)[number]
      const last = layer.at(-1)
      if (last && last.to === at && sameShapes(last.shapes, shapes)) last.to = at + 1
      else layer.push({ from: at, to: at + 1, shapes })
    })
  }
  return spans.flat().flatMap(({ from, to, shapes }) => (shapes.length > 0 ? [{ from, to, shapes }] : []))
}

function extend(layer: { to: number }[], at: number): void {
  const last = layer.at(-1)
  if (last && last.to === at) last.to = at + 1
}

const LAYERS = ['dimmed', 'lines', 'hairlines', 'plates', 'names', 'captions'] as const

/// Tells frames apart on which different things are drawn.
function frameKey(picture: Picture, plan: ShotPlan, context: DrawContext, captions: readonly BurnedCaption[]): string {
  const { shot, at } = picture
  const said = captions.findIndex((caption) => standsAt(caption, picture))
  if (shot.card) return `page ${cardPageAt(pagesOf(shot.card, context), at, shot.frames)}|${said}`
  const shown = shot.marks.map((mark) => (at >= appearsAt(mark, shot) ? 1 : 0)).join('')
  const standing = plan.plates.map((p) => (at >= p.from && at < p.to ? 1 : 0)).join('')
  return [pictureKey(picture), shown, standing, at < plan.title.frames ? 1 : 0, said].join('|')
}

const standsAt = (caption: BurnedCaption, { shot, at }: Picture): boolean => shot.start + at >= caption.from && shot.start + at < caption.to

function drawLayers(picture: Picture, context: DrawContext, plan: ShotPlan, captions: readonly BurnedCaption[]): Shape[][] {
  const { shot, at } = picture
  const said = captions.filter((caption) => standsAt(caption, picture)).flatMap(({ block }) => block.shapes)
  if (shot.card) {
    const pages = pagesOf(shot.card, context)
    return [[...(pages[cardPageAt(pages, at, shot.frames)]?.shapes ?? [])], [], [], [], [], said]
  }
  const dimmed: Shape[] = []
  const lines: Shape[] = []
  const hairlines: Shape[] = []
  const plates: Shape[] = []
  for (const mark of shot.marks) {
    const index = panelOf(mark, shot, context)
    const [shown, laid] = [picture.panels[index], shot.panels[index]]
    if (!shown || !laid || at < appearsAt(mark, shot)) continue
    const measure = measureOf(mark, context)
    if (measure) {
      if (typeof mark === 'string') lines.push(...(measureLines(measure, shown, context, plan.lettering)?.shapes ?? []))
    } else if (typeof mark !== 'string' && !('plate' in mark)) {
      const drawn = freeLines(mark, laid.clip, shown, context, plan.lettering)
      ;('dim' in mark ? dimmed : lines).push(...(drawn?.shapes ?? []))
    }
  }
  for (const plate of plan.plates) {
    if (at < plate.from || at >= plate.to) continue
    hairlines.push(...drawHairline(plate, picture, context, plan))
    plates.push(...plate.set.draw([plate.box.x, plate.box.y]))
  }
  const names = [...plan.credit.shapes, ...(at < plan.title.frames ? plan.title.shapes : []), ...plan.badges.shapes]
  return [dimmed, lines, hairlines, plates, names, said]
}

/// The thin line from a plate to its joint, ending just short of the joint's dot.
function drawHairline(plate: PlannedPlate, picture: Picture, context: DrawContext, plan: ShotPlan): Shape[] {
  const shown = picture.panels[plate.panel]
  const measure = measureOf(plate.measure, context)
  if (!plate.tied || !shown || !measure) return []
  const anchor = measureLines(measure, shown, context, plan.lettering)?.anchor
  if (!anchor) return []
  const { unit } = plan.lettering
  const from = nearestIn(plate.box, anchor)
  const length = Math.hypot(anchor[0] - from[0], anchor[1] - from[1])
  const short = 24 * unit
  if (length < 2 * short) return []
  const to: Point = [anchor[0] - ((anchor[0] - from[0]) * short) / length, anchor[1] - ((anchor[1] - from[1]) * short) / length]
  const pen = ink(unit * 0.6)
  pen.line([from, to], { colour: palette.hairline, width: 2 * unit, cap: 'butt' })
  pen.dot(to, 4 * unit, palette.hairline)
  return pen.shapes()
}
