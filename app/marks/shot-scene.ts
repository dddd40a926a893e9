import { isOfHall, sideWord } from '../body/landmark-name'
import { locate } from '../measure/located'
import { applyAffine } from '../programme/affine'
import { pictureOfShot } from '../programme/picture-at'
import type { LaidShot, Picture } from '../programme/programme'
import type { Point } from '../project/fields'
import type { FreeMark, Mark } from '../project/picture'
import type { Measure } from '../project/question'
import { boxOf } from './box'
import type { DrawContext } from './draw-context'
import { followedPoint, followedWay } from './followed-point'
import { drawFree, type DrawnFree } from './free-drawing'
import type { Lettering } from './lettering'
import { clipShapes } from './clip-shape'
import { backgroundOf, steadyAt } from './hall-frame'
import { drawMeasure, drawnNames, type DrawnMeasure } from './measure-drawing'

/// Marks on one picture of a shot: where each belongs, whether it has appeared, and its lines.

type ShownPanel = Picture['panels'][number]

export const measureOf = (mark: Mark, context: DrawContext): Measure | null => {
  const id = typeof mark === 'string' ? mark : 'plate' in mark ? mark.plate : null
  return id === null ? null : (context.measures.breakdown.measures?.find((m) => m.id === id) ?? null)
}

/// The clip that a measure is about; null for one across clips.
export const clipOfMeasure = (measure: Measure): string | null => ('clip' in measure ? (measure.clip ?? null) : null)

/// The one footage frame that a measure is about; null where there is none.
export const frameOfMeasure = (measure: Measure): number | null => ('frame' in measure ? measure.frame : null)

/// Index of the panel that a mark is drawn on; −1 when the shot does not show its clip. A measure across clips is
/// drawn on the first.
export function panelOf(mark: Mark, shot: LaidShot, context: DrawContext): number {
  const stated = typeof mark === 'string' ? undefined : mark.panel
  const measure = measureOf(mark, context)
  const wanted = shot.panels[stated ?? 0] ? (stated ?? 0) : -1
  if (!measure) return typeof mark === 'string' || 'plate' in mark ? -1 : wanted
  const clip = clipOfMeasure(measure)
  if (clip === null || (stated !== undefined && shot.panels[stated]?.clip === clip)) return wanted
  return shot.panels.findIndex((panel) => panel.clip === clip)
}

/// Output frame of the shot at which a mark appears; Infinity when its event is not reached.
export function appearsAt(mark: Mark, shot: LaidShot): number {
  const on = typeof mark === 'string' ? undefined : mark.on
  return on === undefined ? 0 : (shot.eventAt.get(on) ?? Infinity)
}

/// A measure's lines on a picture, cut at the panel's edge; null where one of its points has no sample on
/// exactly the footage frame shown.
export function measureLines(measure: Measure, panel: ShownPanel, context: DrawContext, lettering: Lettering): DrawnMeasure | null {
  const { measures } = context
  const clip = measures.clip(clipOfMeasure(measure) ?? '')
  const subject = 'subject' in measure ? measure.subject : undefined
  if (!clip || subject === undefined || drawnNames(measure).length === 0) return null
  const placed = (point: string, frame: number): Point | null => {
    const found = locate(measures, clip, subject, point, frame)
    return found.ok ? applyAffine(panel.toCanvas, found.value.at) : null
  }
  const steady = steadyAt(measures, clip.id, subject, 'camera' in measure ? measure.camera : undefined, panel.frame)
  const start = 'fromFrame' in measure ? measure.fromFrame : null
  const end = 'toFrame' in measure ? measure.toFrame : panel.frame
  const roll = ((clip.roll?.deg ?? 0) * Math.PI) / 180
  const { a, b, c, d } = panel.toCanvas
  const [ux, uy] = [-Math.sin(roll), -Math.cos(roll)]
  const drawn = drawMeasure(measure, {
    at: (point) => placed(point, panel.frame),
    before: (point) => {
      const found = start === null || start > panel.frame ? null : locate(measures, clip, subject, point, start)
      const at = found?.ok ? steady(start ?? panel.frame, found.value.at) : null
      return at && applyAffine(panel.toCanvas, at)
    },
    way: (point) =>
      followedWay(measures, clip.id, subject, point, Math.min(panel.frame, end), start ?? clip.from, steady).map((piece) =>
        piece.map((p) => applyAffine(panel.toCanvas, p)),
      ),
    up: [a * ux + c * uy, b * ux + d * uy],
    unit: lettering.unit,
  })
  return drawn && { ...drawn, shapes: clipShapes(drawn.shapes, boxOf(panel.place)) }
}

/// A free mark on a picture; null where the landmark that it follows is not known.
export function freeLines(mark: FreeMark, clip: string, panel: ShownPanel, context: DrawContext, lettering: Lettering): DrawnFree | null {
  const { toCanvas } = panel
  return drawFree(mark, {
    place: (place) => {
      if (!('subject' in place)) return applyAffine(toCanvas, place)
      const at = followedPoint(context.measures, clip, place.subject, place.point, panel.frame)
      return at && applyAffine(toCanvas, [at[0] + (place.offset?.[0] ?? 0), at[1] + (place.offset?.[1] ?? 0)])
    },
    point: (source) => applyAffine(toCanvas, source),
    side: (subject, point) => {
      const word = sideWord(point, context.measures.lead(clip, subject, panel.frame))
      return word === 'lead' || word === 'rear' ? word : null
    },
    trail: (subject, point) =>
      followedWay(context.measures, clip, subject, point, panel.frame, undefined, hallOf(context.measures, clip, subject, panel.frame)).map(
        (piece) => piece.map((p) => applyAffine(toCanvas, p)),
      ),
    scale: Math.sqrt(Math.abs(toCanvas.a * toCanvas.d - toCanvas.b * toCanvas.c)),
    panel: boxOf(panel.place),
    typeface: context.typeface,
    lettering,
  })
}

/// A trail carries no measure: where the background was followed by itself, it is drawn in the hall's frame.
function hallOf(measures: DrawContext['measures'], clip: string, subject: string, frame: number) {
  const background = backgroundOf(measures, clip, subject)
  return steadyAt(measures, clip, subject, background.length > 0 ? { background } : undefined, frame)
}

/// Every landmark of a body in a clip on a frame, on the canvas, by subject.
export function joints(clip: string, panel: ShownPanel, context: DrawContext): Point[][] {
  const bySubject = new Map<string, Point[]>()
  for (const landmark of context.measures.breakdown.landmarks ?? []) {
    if (landmark.clip !== clip || isOfHall(landmark.point)) continue
    const sample = context.measures.samples(clip, landmark.subject, landmark.point, panel.frame)[0]
    if (!sample) continue
    const points = bySubject.get(landmark.subject) ?? []
    points.push(applyAffine(panel.toCanvas, sample.at))
    bySubject.set(landmark.subject, points)
  }
  return [...bySubject.values()]
}

/// Up to `most` pictures of a stretch of the shot, evenly spread, the first and the last among them; one for
/// each different picture at most.
export function picturesOf(shot: LaidShot, from: number, to: number, most: number): Picture[] {
  const pictures: Picture[] = []
  let known = ''
  const count = Math.min(most, to - from)
  for (let i = 0; i < count; i++) {
    const picture = pictureOfShot(shot, count === 1 ? from : Math.round(from + ((to - 1 - from) * i) / (count - 1)))
    const key = pictureKey(picture)
    if (key !== known) pictures.push(picture)
    known = key
  }
  return pictures
}

/// Tells pictures apart that show different frames or show them elsewhere.
export const pictureKey = (picture: Picture): string =>
  picture.panels.map(({ frame, toCanvas: m }) => `${frame}:${m.a},${m.b},${m.c},${m.d},${m.e},${m.f}`).join(';')
