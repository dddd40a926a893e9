import { exact, type Point } from '../project/fields'
import type { LaidShot } from '../programme/programme'
import type { Measure } from '../project/question'
import { toNumber } from '../time/rational'
import { drawBadges, type DrawnBlock } from './badges'
import { boxOf, inset, intersection, type Box, type Obstacle } from './box'
import type { DrawContext } from './draw-context'
import { drawnNames } from './measure-drawing'
import { letteringOf, smallerLettering, type Lettering } from './lettering'
import { choosePlace, placeAnyway, placesOf, type Area, type Ground, type Places } from './place-plate'
import { leastPlateWidth, plateContent, setPlate, type PlateContent, type SetPlate } from './plate'
import { appearsAt, clipOfMeasure, frameOfMeasure, freeLines, joints, measureLines, measureOf, panelOf, picturesOf } from './shot-scene'
import { drawCredit, drawTitle } from './titles'

/// What stands still through a shot: badges, names, credit, and each value's plate with its place, found once
/// against everything that will pass beneath it.
export interface ShotPlan {
  readonly lettering: Lettering
  readonly badges: DrawnBlock
  readonly credit: DrawnBlock
  readonly title: DrawnBlock & { readonly frames: number }
  readonly plates: readonly PlannedPlate[]
}

export interface PlannedPlate {
  readonly measure: string
  readonly panel: number
  /// Output frames of the shot on which it stands: from included, to excluded.
  readonly from: number
  readonly to: number
  readonly set: SetPlate
  readonly box: Box
  /// Whether it could be kept clear of everything.
  readonly clear: boolean
  /// Whether a hairline ties it to its joint.
  readonly tied: boolean
}

const NOTHING: DrawnBlock = { shapes: [], boxes: [] }
/// Pictures looked at to find what passes beneath a plate.
const LOOKS = 6
const plans = new WeakMap<DrawContext, WeakMap<LaidShot, ShotPlan>>()

/// The plan of a shot, made once for a context.
export function planShot(shot: LaidShot, context: DrawContext): ShotPlan {
  const known = plans.get(context) ?? new WeakMap<LaidShot, ShotPlan>()
  plans.set(context, known)
  const plan = known.get(shot) ?? makePlan(shot, context)
  known.set(shot, plan)
  return plan
}

function makePlan(shot: LaidShot, context: DrawContext): ShotPlan {
  const { typeface } = context
  const lettering = letteringOf(context.width, context.height)
  const badges = shot.badges.length > 0 ? drawBadges(shot.badges, typeface, lettering, context) : NOTHING
  const credit = shot.credit ? drawCredit(shot.credit, badges.boxes, typeface, lettering, context) : NOTHING
  const title = shot.title
    ? { ...drawTitle(shot.title, typeface, lettering, context), frames: shot.title.frames }
    : { ...NOTHING, frames: 0 }
  const fixed = [...badges.boxes, ...credit.boxes, ...title.boxes]
  return { lettering, badges, credit, title, plates: planPlates(shot, context, lettering, fixed) }
}

interface WantedPlate {
  readonly measure: string
  readonly panel: number
  readonly from: number
  readonly to: number
  readonly tied: boolean
  readonly content: PlateContent
  readonly anchor: Point | null
  readonly ground: Ground
}

/// Sizes of a plate's type, tried in turn where not every plate finds a clear place: as LOOK has it first. On an upright
/// canvas its share of the height is much in the width, and may come down to the same share of the width.
const shares = ({ width, height }: { width: number; height: number }): number[] => (height > width ? [1, 0.86, 0.72, width / height] : [1])

function planPlates(shot: LaidShot, context: DrawContext, lettering: Lettering, fixed: readonly Box[]): PlannedPlate[] {
  const wanted = wantedPlates(shot, context, lettering, fixed)
  if (wanted.length === 0) return []
  const bare = wanted.map((plate) => ({ ...plate, content: { ...plate.content, note: '' } }))
  for (const share of shares(context)) {
    const letters = smallerLettering(lettering, share)
    const clear = placeClear(wanted, letters, context) ?? (wanted.some((p) => p.content.note) ? placeClear(bare, letters, context) : null)
    if (clear) return clear
  }
  const smallest = smallerLettering(lettering, Math.min(...shares(context)))
  return (
    placeInOrder(
      bare.map((plate) => setWanted(plate, smallest, context)),
      true,
    ) ?? []
  )
}

interface SetWanted extends WantedPlate {
  readonly sets: readonly SetPlate[]
  readonly places: Places
}

/// Widths that a plate is tried in, as shares of the room, best first.
const WIDTHS = [0.42, 0.34, 0.52, 0.7, 1, 0.26]

function setWanted(plate: WantedPlate, lettering: Lettering, { typeface }: DrawContext): SetWanted {
  const room = Math.max(...plate.ground.areas.map((area) => area.width))
  const least = leastPlateWidth(plate.content, typeface, lettering)
  const sets = WIDTHS.map((share) => setPlate(plate.content, typeface, lettering, Math.min(room, Math.max(share * room, least))))
  return { ...plate, sets, places: placesOf(sets, plate.anchor, plate.ground) }
}

/// One plate may stand where the only room of another is: then they are placed in another order.
function placeClear(wanted: readonly WantedPlate[], lettering: Lettering, context: DrawContext): PlannedPlate[] | null {
  const set = wanted.map((plate) => setWanted(plate, lettering, context))
  if (set.some(({ places }) => choosePlace(places, []) === null)) return null
  let left = MOST_ORDERS
  for (const order of ordersOf([], set)) {
    if (left-- === 0) break
    const placed = placeInOrder(order, false)
    if (placed) return placed
  }
  return null
}

const MOST_ORDERS = 12

function* ordersOf(head: readonly SetWanted[], rest: readonly SetWanted[]): Generator<readonly SetWanted[]> {
  if (rest.length === 0) yield head
  for (const [i, next] of rest.entries()) yield* ordersOf([...head, next], [...rest.slice(0, i), ...rest.slice(i + 1)])
}

function placeInOrder(wanted: readonly SetWanted[], anyway: boolean): PlannedPlate[] | null {
  const plates: PlannedPlate[] = []
  for (const { sets, places, anchor, ground, measure, panel, from, to, tied } of wanted) {
    const boxes = plates.filter((p) => p.from < to && from < p.to).map((p) => p.box)
    const clear = choosePlace(places, boxes)
    if (!clear && !anyway) return null
    const placed =
      clear ??
      placeAnyway(sets, anchor, { ...ground, obstacles: [...boxes.map((box): Obstacle => ({ kind: 'box', box })), ...ground.obstacles] })
    plates.push({ measure, panel, from, to, tied, set: sets[placed.choice] as SetPlate, box: placed.box, clear: clear !== null })
  }
  return plates
}

function wantedPlates(shot: LaidShot, context: DrawContext, lettering: Lettering, fixed: readonly Box[]): WantedPlate[] {
  const plates: WantedPlate[] = []
  let explains = context.explainsErrorAt === shot.start
  for (const mark of shot.marks) {
    const measure = measureOf(mark, context)
    const reading = measure && context.readings.get(measure.id)
    const panel = panelOf(mark, shot, context)
    if (!measure || !reading || panel < 0) continue
    const named = typeof mark !== 'string'
    const own = frameOfMeasure(measure)
    const span = named ? { from: appearsAt(mark, shot), to: shot.frames } : standingOn(shot, panel, own, context)
    if (!span || span.from >= span.to) continue
    if (plates.some((p) => p.measure === measure.id && p.panel === panel && p.from < span.to && span.from < p.to)) continue
    const content = plateContent(reading, named ? instantOf(measure, mark.on, context) : '', explains && reading.plate.value.includes('±'))
    if (content.note) explains = false
    const tied = own !== null && standsThroughout(shot, panel, span, own)
    const ground = groundFor(shot, context, lettering, panel, span, fixed)
    const anchor = drawnNames(measure).length > 0 ? anchorOf(shot, context, lettering, panel, span, measure.id) : null
    plates.push({ measure: measure.id, panel, ...span, tied, content, anchor, ground })
  }
  return plates
}

/// "at contact" for a value of the frame of a named event, else "at frame 460"; nothing for a
/// value that is not of one frame.
function instantOf(measure: Measure, on: string | undefined, context: DrawContext): string {
  const frame = frameOfMeasure(measure)
  if (frame === null) return ''
  const events = (context.measures.breakdown.events ?? []).filter(
    (e) => e.clip === clipOfMeasure(measure) && e.earliest <= frame && frame <= e.latest,
  )
  const event = events.find((e) => e.id === on) ?? events.sort((a, b) => a.latest - a.earliest - (b.latest - b.earliest))[0]
  return event ? `at ${event.name}` : `at frame ${frame}`
}

/// The stretch of a shot on which a panel stands still long enough to carry a value: a hold, or a pair's still part.
/// `frame`: it must stand on this footage frame; null: on any. Null when there is none.
function standingOn(shot: LaidShot, panel: number, frame: number | null, context: DrawContext): { from: number; to: number } | null {
  const { frames } = shot.panels[panel] as LaidShot['panels'][number]
  if (shot.kind === 'run' || shot.kind === 'card') return null
  const rate = toNumber(exact(context.measures.breakdown.output.rate))
  const still =
    'pair' in shot.shot && shot.kind === 'pair' ? (shot.shot.still ? Math.floor(toNumber(exact(shot.shot.still)) * rate) : Infinity) : 1
  if (still < 1) return null
  let best: { from: number; to: number } | null = null
  for (let from = 0; from < frames.length;) {
    let to = from + 1
    while (to < frames.length && frames[to] === frames[from]) to++
    const fits = to - from >= still && (frame === null || frames[from] === frame)
    if (fits && (!best || to - from > best.to - best.from)) best = { from, to }
    from = to
  }
  return best
}

function standsThroughout(shot: LaidShot, panel: number, span: { from: number; to: number }, frame: number): boolean {
  const { frames } = shot.panels[panel] as LaidShot['panels'][number]
  for (let at = span.from; at < span.to; at++) if (frames[at] !== frame) return false
  return true
}

function anchorOf(
  shot: LaidShot,
  context: DrawContext,
  lettering: Lettering,
  panel: number,
  span: { from: number; to: number },
  id: string,
): Point | null {
  const measure = measureOf(id, context)
  if (!measure) return null
  const found = picturesOf(shot, span.from, span.to, LOOKS).flatMap((picture) => {
    const shown = picture.panels[panel]
    const lines = shown && measureLines(measure, shown, context, lettering)
    return lines ? [lines.anchor] : []
  })
  return found[found.length >> 1] ?? null
}

/// Everything that passes beneath a plate while it stands, and the part of the panel that it may stand in.
function groundFor(
  shot: LaidShot,
  context: DrawContext,
  lettering: Lettering,
  panel: number,
  span: { from: number; to: number },
  boxes: readonly Box[],
): Ground {
  const { unit } = lettering
  const obstacles: Obstacle[] = boxes.map((box) => ({ kind: 'box', box }))
  const bodies: Box[] = []
  for (const picture of picturesOf(shot, span.from, span.to, LOOKS)) {
    picture.panels.forEach((shown, i) => {
      const clip = shot.panels[i]?.clip
      if (clip === undefined) return
      for (const body of joints(clip, shown, context)) {
        const figure = figureBox(body)
        const hand = Math.max(16 * unit, 0.04 * Math.max(figure.width, figure.height))
        for (const at of body) obstacles.push({ kind: 'disc', at, radius: hand })
        bodies.push(figure)
      }
    })
    for (const mark of shot.marks) {
      const on = panelOf(mark, shot, context)
      const [shown, laid] = [picture.panels[on], shot.panels[on]]
      if (!shown || !laid || (typeof mark !== 'string' && 'plate' in mark)) continue
      const measure = measureOf(mark, context)
      const drawn = measure
        ? measureLines(measure, shown, context, lettering)
        : typeof mark === 'string'
          ? null
          : freeLines(mark, laid.clip, shown, context, lettering)
      obstacles.push(...(drawn?.clear ?? []))
    }
  }
  return { areas: areasFor(shot, panel, context, lettering), obstacles: distinct(obstacles), bodies, margin: 15 * unit }
}

/// Where a panel's plates may stand, best first: on the picture in the labels' band (15–75 % of the height), anywhere
/// on the picture, and on the canvas about it that no other panel is nearer to. Never in the captions' zone.
function areasFor(shot: LaidShot, panel: number, context: DrawContext, { margin, captionTop, labelTop, labelFoot }: Lettering): Area[] {
  const place = boxOf((shot.panels[panel] as LaidShot['panels'][number]).place)
  const canvas: Box = { x: margin, y: margin, width: context.width - 2 * margin, height: captionTop - 1.5 * margin }
  const own = shot.panels.reduce<Box>(
    (cell, other, i) => {
      if (i === panel) return cell
      const { x, y, width, height } = boxOf(other.place)
      const right = x >= place.x + place.width ? x : context.width
      const left = x + width <= place.x ? x + width : 0
      const foot = y >= place.y + place.height ? y : context.height
      const top = y + height <= place.y ? y + height : 0
      return intersection(cell, { x: left, y: top, width: right - left, height: foot - top }) ?? cell
    },
    { x: 0, y: 0, width: context.width, height: context.height },
  )
  const allowed = intersection(inset(own, 0.3 * margin), canvas) ?? canvas
  const picture = intersection(inset(place, 0.5 * margin), allowed) ?? allowed
  const band = intersection(picture, { x: 0, y: labelTop, width: context.width, height: labelFoot - labelTop })
  return [...(band ? [band] : []), picture, { ...allowed, avoid: picture }]
}

/// Obstacles a pixel or two apart are one.
function distinct(obstacles: readonly Obstacle[]): Obstacle[] {
  const known = new Map<string, Obstacle>()
  const near = ([x, y]: Point): string => `${Math.round(x / 4)},${Math.round(y / 4)}`
  for (const o of obstacles)
    known.set(
      o.kind === 'box'
        ? `b${o.box.x},${o.box.y},${o.box.width},${o.box.height}`
        : o.kind === 'disc'
          ? `d${near(o.at)},${o.radius}`
          : `s${near(o.from)},${near(o.to)}`,
      o,
    )
  return [...known.values()]
}

/// About where a body with these joints is: their bounds with room for hands and feet, and for a head above them.
function figureBox(points: readonly Point[]): Box {
  const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])]
  const [x, y] = [Math.min(...xs), Math.min(...ys)]
  const [width, height] = [Math.max(...xs) - x, Math.max(...ys) - y]
  const around = 0.06 * Math.max(width, height)
  const head = 0.18 * height
  return { x: x - around, y: y - around - head, width: width + 2 * around, height: height + 2 * around + head }
}
