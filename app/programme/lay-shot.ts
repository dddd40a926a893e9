import type { Breakdown, Output } from '../project/breakdown'
import { exact, type Point, type Rectangle } from '../project/fields'
import type { Clip } from '../project/film'
import type { Card, Hold, Pair, Run, Shot } from '../project/picture'
import type { FrameTable } from '../time/frame-table'
import { divide, multiply, rational, type Rational } from '../time/rational'
import { mirrorOf, similarityOnto, applyAffine, type Affine } from './affine'
import { framesOfSeconds, outputFramesOf, walkFrames } from './cadence'
import { eventFrame } from './event-frame'
import { cellsOf, fittedInto, reshaped, shownRectangle, type Size } from './framing'
import type { Panel } from './programme'
import { speedBadge } from './speed-badge'

/// One shot laid out by itself: its panels frame by frame, its length, its badges.

/// What is known of a film file: its frames and the size of its upright, square-pixel picture.
export interface FilmFacts extends Size {
  readonly table: FrameTable
}

export interface ShotLayout {
  readonly kind: 'run' | 'hold' | 'pair' | 'card'
  readonly frames: number
  readonly panels: readonly Panel[]
  readonly badges: readonly string[]
  readonly card: Card | null
  /// Output frame within the shot at which a pair's shared event appears.
  readonly sharedEvent: number | null
}

export interface ShotContext {
  readonly breakdown: Breakdown
  readonly output: Output
  /// Throws CodedError when the footage is not there.
  film(footage: string): FilmFacts
  cardSeconds(card: Card): Rational
}

const ONE = rational(1)

/// Capture factor of a clip: file seconds for one real second; null when unknown.
export const captureFactor = (clip: Clip): Rational | null => (clip.capture === 'unknown' ? null : exact(clip.capture.factor))

/// Lays one shot. The document has been checked: its clips and events exist.
export function layShot(shot: Shot, context: ShotContext): ShotLayout {
  if ('run' in shot) return layRun(shot, context)
  if ('hold' in shot) return layHold(shot, context)
  if ('pair' in shot) return layPair(shot, context)
  const frames = framesOfSeconds(shot.seconds ? exact(shot.seconds) : context.cardSeconds(shot), exact(context.output.rate))
  return { kind: 'card', frames, panels: [], badges: [], card: shot, sharedEvent: null }
}

function layRun(run: Run, context: ShotContext): ShotLayout {
  const clip = clipOf(context.breakdown, run.run)
  const film = context.film(clip.footage)
  const outputRate = exact(context.output.rate)
  const factor = captureFactor(clip)
  const pace = multiply(exact(run.speed), factor ?? ONE)
  const frames = outputFramesOf(film.table, run.from, run.to, pace, outputRate)
  const shown = walkFrames({ table: film.table, at: run.from, anchor: 0, pace, outputRate, from: run.from, to: run.to }, frames)
  return {
    kind: 'run',
    frames,
    panels: [panelOf(clip, film, run, cellsOf(1, 'beside', context.output)[0]!, shown)],
    badges: present([speedBadge(exact(run.speed), factor !== null), clip.mirrored ? 'mirrored' : null]),
    card: null,
    sharedEvent: null,
  }
}

function layHold(hold: Hold, context: ShotContext): ShotLayout {
  const clip = clipOf(context.breakdown, hold.hold)
  const film = context.film(clip.footage)
  const frames = framesOfSeconds(exact(hold.seconds), exact(context.output.rate))
  return {
    kind: 'hold',
    frames,
    panels: [panelOf(clip, film, hold, cellsOf(1, 'beside', context.output)[0]!, new Int32Array(frames).fill(hold.at))],
    badges: present(['frozen', clip.mirrored ? 'mirrored' : null]),
    card: null,
    sharedEvent: null,
  }
}

function layPair(pair: Pair, context: ShotContext): ShotLayout {
  const { breakdown, output } = context
  const outputRate = exact(output.rate)
  const speed = exact(pair.speed)
  const lengthOf = (seconds: Rational): number => (seconds.n === 0 ? 0 : framesOfSeconds(divide(seconds, speed), outputRate))
  const before = lengthOf(exact(pair.before))
  const held = pair.still && exact(pair.still).n > 0 ? framesOfSeconds(exact(pair.still), outputRate) : 0
  const after = Math.max(1, lengthOf(exact(pair.after)))
  const frames = before + held + after
  const cells = cellsOf(pair.pair.length, pair.layout, output)

  const members = pair.pair.map((member) => {
    const clip = clipOf(breakdown, member.clip)
    const event = breakdown.events?.find((e) => e.id === member.event)
    if (!event) throw new RangeError(`no event ${member.event}`)
    return { member, clip, film: context.film(clip.footage), at: eventFrame(event) }
  })
  const panels = members.map(({ member, clip, film, at }, i): Panel => {
    const pace = multiply(speed, captureFactor(clip) ?? ONE)
    const walk = { table: film.table, at, anchor: 0, pace, outputRate, from: clip.from, to: clip.to }
    const shown = new Int32Array(frames).fill(at)
    shown.set(walkFrames({ ...walk, anchor: before }, before), 0)
    shown.set(walkFrames(walk, after), before + held)
    const panel = panelOf(clip, film, member, cells[i]!, shown)
    // Each over those beneath it: all count alike.
    return pair.layout === 'over' && i > 0 ? { ...panel, opacity: 1 / (i + 1) } : panel
  })
  const known = members.every((m) => captureFactor(m.clip) !== null)
  return {
    kind: 'pair',
    frames,
    panels: pair.layout === 'over' ? laidOver(pair, panels, members, breakdown) : panels,
    badges: present([
      known ? sharedSpeed(speed, members.length) : 'speed not matched',
      members.some((m) => m.clip.mirrored)
        ? members.every((m) => m.clip.mirrored)
          ? 'mirrored'
          : mirroredSide(
              members.map((m) => m.clip.mirrored === true),
              pair.layout,
            )
        : null,
    ]),
    card: null,
    sharedEvent: before,
  }
}

const sharedSpeed = (speed: Rational, count: number): string | null => {
  const badge = speedBadge(speed, true)
  return badge ? `${badge}, ${count === 2 ? 'both' : 'all'}` : null
}

function mirroredSide(flags: readonly boolean[], layout: Pair['layout']): string {
  const count = flags.filter((flag) => flag).length
  if (flags.length !== 2 || layout === 'over') return count === 1 ? 'one mirrored' : `${count} of ${flags.length} mirrored`
  if (layout === 'beside') return flags[0] ? 'left one mirrored' : 'right one mirrored'
  return flags[0] ? 'upper one mirrored' : 'lower one mirrored'
}

function panelOf(
  clip: Clip,
  film: FilmFacts,
  framing: { frame?: Rectangle | undefined; frameTo?: Rectangle | undefined },
  cell: Rectangle,
  frames: Int32Array,
): Panel {
  const picture: Size = { width: film.width, height: film.height }
  const first = shownRectangle(framing.frame, picture)
  const place = fittedInto(first, cell)
  const last = framing.frameTo ? reshaped(framing.frameTo, { width: first[2], height: first[3] }, picture) : first
  return {
    clip: clip.id,
    footage: clip.footage,
    mirrored: clip.mirrored === true,
    place,
    shown: [first, last],
    source: picture,
    over: null,
    opacity: 1,
    frames,
  }
}

/// Lays every further panel on the first so that two landmarks of each fall on one another at the
/// shared event. A panel without both landmarks there lies on the first edge to edge.
function laidOver(pair: Pair, panels: readonly Panel[], members: readonly { clip: Clip; at: number }[], breakdown: Breakdown): Panel[] {
  const anchors = panels.map((panel, i) => {
    const subject = pair.over?.subjects[i]
    const points = pair.over?.points.map((name) => landmarkAt(breakdown, members[i]!.clip.id, subject, name, members[i]!.at))
    if (!points || !points[0] || !points[1]) return null
    const flip: Affine | null = panel.mirrored ? mirrorOf(panel.source.width) : null
    return points.map((p) => (flip ? applyAffine(flip, p!) : p!)) as [Point, Point]
  })
  const base = anchors[0]
  return panels.map((panel, i) => {
    if (i === 0) return panel
    const own = anchors[i]
    const onto = own && base ? similarityOnto(own[0], own[1], base[0], base[1]) : null
    const wholeOnWhole: Affine = {
      a: panels[0]!.source.width / panel.source.width,
      b: 0,
      c: 0,
      d: panels[0]!.source.height / panel.source.height,
      e: 0,
      f: 0,
    }
    return { ...panel, place: panels[0]!.place, shown: panels[0]!.shown, over: onto ?? wholeOnWhole }
  })
}

function landmarkAt(breakdown: Breakdown, clip: string, subject: string | undefined, point: string, frame: number): Point | null {
  const samples = breakdown.landmarks
    ?.find((l) => l.clip === clip && l.subject === subject && l.point === point)
    ?.samples.filter((s) => s.frame === frame)
  if (!samples?.length) return null
  const mean = (axis: 0 | 1): number => samples.reduce((sum, s) => sum + s.at[axis], 0) / samples.length
  return [mean(0), mean(1)]
}

export function clipOf(breakdown: Breakdown, id: string): Clip {
  const clip = breakdown.clips.find((c) => c.id === id)
  if (!clip) throw new RangeError(`no clip ${id}`)
  return clip
}

const present = (badges: readonly (string | null)[]): string[] => badges.filter((b): b is string => b !== null)
