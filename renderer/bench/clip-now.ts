import { placeOf, sideOf, storedName, withSide, type Side } from '../../app/body/landmark-name'
import type { FilmFacts, FilmTable } from '../../app/contract/footage-calls'
import type { MeasureContext } from '../../app/measure/context'
import { placingSigma } from '../../app/measure/located'
import type { Reading } from '../../app/measure/reading'
import type { Breakdown } from '../../app/project/breakdown'
import type { Event, Footage, Sample } from '../../app/project/film'
import { samplesOn } from '../../app/project/samples-on'
import { secondsAt } from '../../app/time/frame-table'
import type { ShownPoint } from './skeleton'
import { fieldWords, isInterlaced } from '../footage/film-words'
import { turnOf, type Guide } from './guide'

/// What stands on the stage at one frame of a clip.

/// Half width of 95 % of a circle of two equal normal errors, in σ.
const CIRCLE_95 = 2.45

/// Where one placing of a point lies with 95 %, picture pixels about it, as it is seen.
export const aimRadius = (context: MeasureContext, clip: string, subject: string, placing: Pick<Sample, 'seen' | 'blur'>): number =>
  CIRCLE_95 * placingSigma(placing, context.figureHeight(clip, subject))

/// Readings that speak of the frame: measured on it, or of events around it.
export function readingsHere(breakdown: Breakdown, readings: ReadonlyMap<string, Reading>, clip: string, frame: number): Reading[] {
  const events = new Map((breakdown.events ?? []).map((event) => [event.id, event]))
  return (breakdown.measures ?? []).flatMap((measure) => {
    const reading = measure.clip === clip ? readings.get(measure.id) : undefined
    if (!reading) return []
    if (reading.frame !== null) return reading.frame === frame ? [reading] : []
    if (measure.kind !== 'time-between' && measure.kind !== 'frame-count' && measure.kind !== 'order') return []
    const ends = [events.get(measure.from), events.get(measure.to)].flatMap((event) => (event ? [event.earliest, event.latest] : []))
    return frame >= Math.min(...ends) && frame <= Math.max(...ends) ? [reading] : []
  })
}

/// The points of a frame, each at the mean of its placings. While points are being placed only those of this round, so that
/// earlier rounds stay hidden.
export function shownPoints(breakdown: Breakdown, clip: string, subject: string, frame: number, guide: Guide | null): ShownPoint[] {
  if (guide) {
    const { point } = turnOf(guide)
    return [...guide.round].map(([name, { at, seen }]) => ({ name, at, seen, origin: 'placed', inHand: name === point }))
  }
  return (breakdown.landmarks ?? []).flatMap((landmark) => {
    if (landmark.clip !== clip || landmark.subject !== subject) return []
    const here = samplesOn(landmark.samples, frame)
    if (here.length === 0) return []
    const mean = (axis: 0 | 1): number => here.reduce((sum, s) => sum + s.at[axis], 0) / here.length
    return [{ name: landmark.point, at: [mean(0), mean(1)] as const, seen: here.at(-1)?.seen, origin: here.at(-1)?.origin, inHand: false }]
  })
}

/// The points that names stand for: lead and rear by the lead side, a middle by both sides.
export const storedPoints = (names: readonly string[], lead: Side | null): string[] => [
  ...new Set(
    names.flatMap((name) =>
      sideOf(name) === 'mid' ? (['left', 'right'] as const).map((side) => withSide(placeOf(name), side)) : [storedName(name, lead) ?? name],
    ),
  ),
]

/// Which field of a stored frame the picture is, where the film is of fields; that it holds two instants, where it was not
/// split; null for a film without fields.
export function fieldOf(footage: Footage | undefined, film: FilmFacts | undefined, frame: number): string | null {
  if (footage?.fields) return fieldWords(footage.fields, frame)
  return film && isInterlaced(film) ? 'two fields in one: split it in Footage' : null
}

/// "1.3000 s", by the film's own times.
export const timeWords = (table: FilmTable, frame: number): string => `${secondsAt(table, frame).toFixed(4)} s`

/// What a frame is to the clip's events: within a bracket its name and its frames, "contact: frames 156–157"; elsewhere the nearest
/// and how far it is, "hip turn, 4 frames on"; empty where none is marked. An event ahead goes before one as far behind.
export function eventWords(events: readonly Pick<Event, 'name' | 'earliest' | 'latest'>[], frame: number): string {
  const far = ({ earliest, latest }: Pick<Event, 'earliest' | 'latest'>): number =>
    frame < earliest ? earliest - frame : frame > latest ? frame - latest : 0
  const inside = events.filter((event) => far(event) === 0)
  if (inside.length > 0)
    return inside
      .map(({ name, earliest, latest }) => `${name}: ${earliest === latest ? `frame ${earliest}` : `frames ${earliest}–${latest}`}`)
      .join(', ')
  const [nearest] = [...events].sort((a, b) => far(a) - far(b) || b.earliest - a.earliest)
  if (!nearest) return ''
  return `${nearest.name}, ${far(nearest)} ${far(nearest) === 1 ? 'frame' : 'frames'} ${frame < nearest.earliest ? 'on' : 'back'}`
}
