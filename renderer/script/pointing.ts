import simplify from 'simplify-js'
import { applyAffine, invert } from '../../app/programme/affine'
import type { Picture } from '../../app/programme/programme'
import type { Breakdown } from '../../app/project/breakdown'
import type { Point, Rectangle } from '../../app/project/fields'
import { isOfHall } from '../../app/body/landmark-name'
import type { Mark, Place, Shot } from '../../app/project/picture'
import { samplesOn } from '../../app/project/samples-on'
import { withMarks } from './shot-changes'

/// Marks drawn on the picture by hand: canvas pixels in, a shot with one more mark (or another frame) out.

export const tools = ['arrow', 'ring', 'line', 'path', 'trail', 'word', 'dim', 'frame', 'frameTo'] as const
export type Tool = (typeof tools)[number]

export const toolWords: Readonly<Record<Tool, { readonly name: string; readonly how: string; readonly label: string }>> = {
  arrow: { name: 'Arrow', how: 'Drag from its tail to what it points at.', label: 'Draw an arrow' },
  ring: { name: 'Ring', how: 'Drag from its middle outwards.', label: 'Draw a ring' },
  line: { name: 'Line', how: 'Drag from one end to the other.', label: 'Draw a line' },
  path: { name: 'Path', how: 'Drag along the way it goes.', label: 'Draw a path' },
  trail: { name: 'Way', how: 'Click a landmark; its way up to the frame shown is drawn.', label: 'Draw the way of a landmark' },
  word: { name: 'Word', how: 'Click where it stands.', label: 'Put a word on the picture' },
  dim: { name: 'Dim the rest', how: 'Drag over the part that stays bright.', label: 'Dim the rest' },
  frame: { name: 'Zoom', how: 'Drag over the part to show.', label: 'Zoom' },
  frameTo: { name: 'Move to', how: 'Drag over the part to end on.', label: 'Move the picture' },
}

/// Footage pixels within which a mark takes hold of a landmark and follows it.
const HOLD = 14

/// Points that a path keeps at most, and how far it may leave the way that was drawn while it has no more, footage pixels.
const PATH_POINTS = 60
const PATH_NEAR = 0.7

/// What a way across the canvas (canvas pixels; its ends count, for a path all of it) makes of a shot; null where it says
/// nothing. `word`: what a word mark says.
export function pointed(tool: Tool, way: readonly Point[], picture: Picture, shot: Shot, breakdown: Breakdown, word: string): Shot | null {
  const [start, end] = [way[0], way.at(-1)]
  if (!start || !end) return null
  const panel = panelAt(picture, start)
  if (panel === null || 'card' in shot) return null
  const shown = picture.panels[panel]
  if (!shown) return null
  const toSource = invert(shown.toCanvas)
  const [from, to] = [applyAffine(toSource, start), applyAffine(toSource, end)]
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  const clip = picture.shot.panels[panel]?.clip ?? ''
  const place = (at: Point): Place => followed(breakdown, clip, shown.frame, at) ?? rounded(at)
  const on = panel > 0 ? { panel } : {}
  const mark = (made: Mark): Shot => ({ ...shot, marks: [...(shot.marks ?? []), made] })
  if (tool === 'word') return word.trim() === '' ? null : mark({ ...on, word: word.trim(), at: place(from) })
  if (tool === 'trail') {
    const of = followed(breakdown, clip, shown.frame, from, hasWay)
    return of && mark({ ...on, trail: { subject: of.subject, point: of.point } })
  }
  if (tool === 'path') {
    const path = simplified(way.map((each) => applyAffine(toSource, each)))
    return path === null ? null : mark({ ...on, path })
  }
  if (length < 4) return null
  if (tool === 'arrow') return mark({ ...on, arrow: [rounded(from), place(to)] })
  if (tool === 'line') return mark({ ...on, line: [place(from), place(to)] })
  if (tool === 'ring') return mark({ ...on, ring: place(from), radius: Math.round(length * 10) / 10 })
  const source = picture.shot.panels[panel]?.source
  const box = source && boxOf(from, to, source)
  if (!box) return null
  if (tool === 'dim') return mark({ ...on, dim: box })
  if ('pair' in shot) return { ...shot, pair: shot.pair.map((member, i) => (i === panel ? { ...member, [tool]: box } : member)) }
  return { ...shot, [tool]: box }
}

/// Tools that need one place only: a click, or Enter once.
export const takesOnePlace = (tool: Tool): boolean => tool === 'word' || tool === 'trail'

/// The tool that draws a mark of this kind; null where it is put there by a measure's name.
export function toolOf(mark: Mark | undefined): Tool | null {
  if (mark === undefined || typeof mark === 'string') return null
  return tools.find((tool) => tool in mark) ?? null
}

/// The shot with its mark `index` drawn anew where it stands in the list: a word keeps its words, and every mark the event
/// that it appears on and the part that it shows. Null where the new way says nothing.
export function drawnAgain(index: number, way: readonly Point[], picture: Picture, shot: Shot, breakdown: Breakdown): Shot | null {
  const old = 'card' in shot ? undefined : shot.marks?.[index]
  const tool = toolOf(old)
  if (tool === null || old === undefined || typeof old === 'string') return null
  const next = pointed(tool, way, picture, shot, breakdown, 'word' in old ? old.word : '')
  const made = next && !('card' in next) ? next.marks?.at(-1) : undefined
  if (made === undefined || typeof made === 'string') return null
  const kept = { ...(old.on === undefined ? {} : { on: old.on }), ...('part' in old && old.part !== undefined ? { part: old.part } : {}) }
  return withMarks(shot, (all) => all.with(index, { ...made, ...kept } as Mark))
}

/// Where the landmarks stand whose way can be drawn, canvas pixels.
export function waysOn(picture: Picture, breakdown: Breakdown): Point[] {
  return picture.panels.flatMap(({ frame, toCanvas }, panel) =>
    placedOn(breakdown, picture.shot.panels[panel]?.clip ?? '', frame, hasWay).map(({ at }) => applyAffine(toCanvas, at)),
  )
}

const hasWay = (point: string): boolean => !isOfHall(point)

/// A way with no more points than a path keeps, as near to it as that allows (Ramer, Douglas and Peucker's way of
/// leaving points out, by a library); its ends stay. Null where it goes nowhere.
export function simplified(way: readonly Point[]): [number, number][] | null {
  const points = way.map(([x, y]) => ({ x, y }))
  let near = PATH_NEAR
  let kept = simplify(points, near, true)
  while (kept.length > PATH_POINTS) kept = simplify(points, (near *= 1.25), true)
  const path = kept.map(({ x, y }) => rounded([x, y]))
  const [x, y] = path[0] ?? [0, 0]
  return path.some((each) => Math.hypot(each[0] - x, each[1] - y) >= 4) ? path : null
}

/// Whether a shot shows a part of its picture only.
export const isFramed = (shot: Shot): boolean =>
  'pair' in shot
    ? shot.pair.some((member) => member.frame ?? member.frameTo)
    : !('card' in shot) && (shot.frame ?? shot.frameTo) !== undefined

/// The shot with its whole picture shown again.
export function unframed(shot: Shot): Shot {
  if ('card' in shot) return shot
  if ('pair' in shot) return { ...shot, pair: shot.pair.map(({ frame: _frame, frameTo: _frameTo, ...member }) => member) }
  const { frame: _frame, frameTo: _frameTo, ...rest } = shot
  return rest
}

/// The uppermost picture that a canvas point lies on.
function panelAt(picture: Picture, [x, y]: Point): number | null {
  const at = picture.panels.findIndex(({ place }) => x >= place[0] && y >= place[1] && x <= place[0] + place[2] && y <= place[1] + place[3])
  return at < 0 ? null : at
}

/// The landmark that stands at a point on this frame, if one does.
function followed(
  breakdown: Breakdown,
  clip: string,
  frame: number,
  [x, y]: Point,
  wanted: (point: string) => boolean = () => true,
): { subject: string; point: string } | null {
  let best: { place: { subject: string; point: string }; distance: number } | null = null
  for (const { subject, point, at } of placedOn(breakdown, clip, frame, wanted)) {
    const distance = Math.hypot(at[0] - x, at[1] - y)
    if (distance <= HOLD && distance < (best?.distance ?? Infinity)) best = { place: { subject, point }, distance }
  }
  return best?.place ?? null
}

/// The landmarks that are placed on a frame of a clip, footage pixels.
function placedOn(
  breakdown: Breakdown,
  clip: string,
  frame: number,
  wanted: (point: string) => boolean,
): { subject: string; point: string; at: Point }[] {
  return (breakdown.landmarks ?? []).flatMap(({ clip: of, subject, point, samples }) => {
    const [sample] = of === clip && wanted(point) ? samplesOn(samples, frame) : []
    return sample ? [{ subject, point, at: sample.at }] : []
  })
}

const rounded = ([x, y]: Point): [number, number] => [Math.round(x * 10) / 10, Math.round(y * 10) / 10]

function boxOf(a: Point, b: Point, source: { readonly width: number; readonly height: number }): [number, number, number, number] | null {
  const clamp = (at: number, whole: number): number => Math.max(0, Math.min(whole, at))
  const [left, right] = [clamp(Math.min(a[0], b[0]), source.width), clamp(Math.max(a[0], b[0]), source.width)]
  const [top, bottom] = [clamp(Math.min(a[1], b[1]), source.height), clamp(Math.max(a[1], b[1]), source.height)]
  const box: Rectangle = [left, top, right - left, bottom - top]
  return box[2] < 16 || box[3] < 16 ? null : (box.map((part) => Math.round(part * 10) / 10) as [number, number, number, number])
}
