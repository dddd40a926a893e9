import { useCallback, useEffect, useMemo, useRef, useState } from 'react'
import { isOfHall } from '../../app/body/landmark-name'
import type { FilmTable } from '../../app/contract/footage-calls'
import type { DrawContext } from '../../app/marks/draw-context'
import { measureContext } from '../../app/measure/context'
import type { Point } from '../../app/project/fields'
import type { Clip } from '../../app/project/film'
import type { FilmFrames } from '../player/film-frames'
import { useFilmTypeface } from '../player/film-typeface'
import { framesOf } from '../player/films'
import { goTo } from '../state/place'
import { useProject, useShown } from '../state/use-project'
import type { SheetName } from './bench-keys'
import type { BlurHand } from './blur-field'
import { readingsHere, shownPoints } from './clip-now'
import { isCorrected, samplesOf } from './placing'
import { movePoint } from './point-edits'
import type { ShownPoint } from './skeleton'
import { pictureRoom, viewAffine } from './stage-view'
import { useBeside } from './use-beside'
import { useFollowing } from './use-following'
import { useGuide } from './use-guide'
import { useLittleRoom } from './use-little-room'
import { useLoop } from './use-loop'
import { usePointInHand } from './use-point-in-hand'
import { useRun } from './use-run'
import { useSmear } from './use-smear'
import { useStage } from './use-stage'
import { useSubject } from './use-subject'
import { useSuggesting } from './use-suggesting'

/// A clip on the Bench, with what its film can show, and the frame that is looked at.
export interface OpenedClip {
  readonly clip: Clip
  readonly film: FilmFrames
  readonly table: FilmTable
  readonly frame: number
}

/// The Bench at this moment, for what paints it, for its keys and for its presses.
export type BenchNow = ReturnType<typeof useOpenClip>

/// The nearest frame of a clip.
export const within = (clip: Clip, frame: number): number => Math.max(clip.from, Math.min(clip.to - 1, frame))

/// What is open, what is in hand, and what a person has chosen to see of it. All that changes the project goes through the one gate,
/// one gesture one edit.
export function useOpenClip({ clip, film, table, frame }: OpenedClip) {
  const project = useProject()
  const { breakdown, films, tables, readings, readOnly } = useShown()
  const typeface = useFilmTypeface()
  const measures = useMemo(
    () => (breakdown ? measureContext(breakdown, (footage) => tables.get(footage) ?? null) : null),
    [breakdown, tables],
  )
  const [sheet, setSheet] = useState<SheetName | null>(null)
  const [marking, setMarking] = useState<string | null>(null)
  // An event that is marked again blind: whatever would tell where it was marked is out of sight.
  const blind = sheet === 'Events' ? marking : null
  const beside = useBeside(clip, frame, blind === null ? measures : null)
  const { lock, there, none: noneBeside } = beside
  const little = useLittleRoom()
  const { ref, stage, view, setView } = useStage(film, (whole) =>
    pictureRoom(whole, { beside: lock !== null, sheet: sheet !== null && !little }),
  )
  const canvas = useRef<HTMLCanvasElement>(null)
  const blurField = useRef<BlurHand>(null)
  const [detail, setDetail] = useState<'missing' | 'small' | 'full'>('missing')
  const [picked, choose] = useState<string | null>(null)
  const [said, say] = useState('')
  const [speed, setSpeed] = useState(0)
  const loop = useLoop()
  /// Whose curve is to lie over the chosen one's, and on which event.
  const [over, setOver] = useState<{ readonly beside: string; readonly on: string }>({ beside: '', on: '' })
  const [light, setLight] = useState({ brightness: 1, contrast: 1 })
  const smear = useSmear()
  const suggesting = useSuggesting(film, say)
  const { subject, choose: setSubject } = useSubject(breakdown, clip.id, frame)
  /// Whose points may be changed; null: nobody's.
  const placesFor = readOnly ? null : subject
  const mirrored = clip.mirrored ?? false
  const lead = subject && measures ? measures.lead(clip.id, subject, frame) : null
  const go = (to: number): void => goTo({ room: 'Bench', clip: clip.id, frame: within(clip, to) })
  const goByHand = (to: number): void => {
    setSpeed(0)
    go(to)
  }
  // What stands on the canvas, also before the words about it have been drawn anew: what a person sees there, they act on.
  const isWhole = (): boolean => canvas.current?.dataset['detail'] === 'full'

  /// Follows what a hand has corrected anew, both ways from there.
  const followAnew = (at: number, points: readonly string[], group: string | null): void => void following.run(at, [1, -1], points, group)
  const placing = useGuide({
    clip: clip.id,
    subject,
    frame,
    lead,
    picture: film,
    isWhole,
    say,
    onCorrected: (on, points) => on.subject === subject && followAnew(on.frame, points, correcting(clip, on.frame)),
  })
  const { active, leave: leavePlacing } = placing
  const clearLoop = loop.clear
  const setBlind = useCallback(
    (event: string | null): void => {
      setMarking(event)
      if (event === null) return
      // A clip beside, a loop, a guide that waits on its frame, and what was said last, tell where it was marked as well.
      noneBeside()
      leavePlacing()
      setSpeed(0)
      clearLoop()
      say('')
      goTo({ room: 'Bench', clip: clip.id, frame: clip.from })
    },
    [clip.id, clip.from, noneBeside, leavePlacing, clearLoop],
  )

  const events = (measures?.eventsOf(clip.id) ?? []).filter(({ id }) => id !== blind)
  const here = useMemo(
    () => (breakdown && blind === null ? readingsHere(breakdown, readings, clip.id, frame) : []),
    [breakdown, readings, clip, frame, blind],
  )
  const chosen = picked !== null && readings.has(picked) ? picked : (here.find((r) => r.frame !== null)?.id ?? here[0]?.id ?? null)
  const chosenMeasure = (blind === null && chosen !== null && measures?.measure(chosen)) || null
  const context = useMemo<DrawContext | null>(
    () => measures && typeface && { measures, readings, typeface, width: stage.width, height: stage.height, explainsErrorAt: null },
    [measures, readings, typeface, stage],
  )

  const otherFilm = lock ? framesOf(lock.clip.footage, { films, tables }) : null
  useRun(speed, frame, loop.whole?.to ?? clip.to, table, go, () => setSpeed(0), loop.whole?.from ?? null)
  useEffect(() => {
    const how = { onward: speed === 0 ? 1 : speed, whole: speed === 0 }
    film.look(there !== null && otherFilm === film ? [frame, there] : [frame], how)
    if (there !== null && otherFilm !== film) otherFilm?.look([there], how)
  }, [film, frame, speed, otherFilm, there])
  useEffect(() => ref.current?.focus(), [ref])

  const stored = useMemo(
    () =>
      breakdown && subject && blind === null
        ? shownPoints(breakdown, clip.id, subject, frame, active).filter(({ name }) => sheet === 'View' || !isOfHall(name))
        : [],
    [breakdown, clip, subject, frame, active, sheet, blind],
  )
  const held = usePointInHand({ frame, picture: film, view, mirrored, stored, keep: (point, by) => keepMoved(point, by) })
  const points = held.shown(stored).map((point) => ({ ...point, inHand: point.inHand || (!active && point.name === held.name) }))
  const { suggested } = suggesting
  const isSuggestedHere = suggested !== null && suggested.frame === frame && suggested.subject === subject
  const marked = isSuggestedHere && blind === null && !active && sheet !== 'View' ? suggested : null
  const onStage: readonly ShownPoint[] = [
    ...points,
    ...(marked?.points ?? []).map(({ point, at, confidence }): ShownPoint => ({
      name: point,
      at,
      seen: undefined,
      origin: 'suggested',
      inHand: held.name === point,
      confidence,
    })),
  ]
  const inHand = onStage.some(({ name }) => name === held.name) ? held.name : null

  const following = useFollowing({
    clip,
    subject,
    lead,
    table,
    height: () => (measures && subject ? measures.figureHeight(clip.id, subject) : null),
    say,
    onAsk: (at, point) => {
      held.hold(point)
      go(at)
    },
  })
  /// Keeps a moved point where it is. What was followed about it is followed anew from there, and taken back with it.
  const keepMoved = (point: string, by: Point): void => {
    if (!subject) return
    const corrects = breakdown ? isCorrected(samplesOf(breakdown, { clip: clip.id, subject, point }), frame) : false
    const group = corrects ? correcting(clip, frame) : null
    const moves = project.edit(
      (state) => movePoint(state, project.shown().breakdown, { clip: clip.id, subject, frame }, point, by, lead),
      group,
    )
    if (corrects) void moves.then(() => followAnew(frame, [point], group))
  }
  /// Begins a guided placing of these points.
  const begin = (names: readonly string[]): void => {
    setSpeed(0)
    held.letGo()
    placing.begin(names)
    ref.current?.focus()
  }

  return {
    project,
    breakdown,
    readings,
    readOnly,
    measures,
    context,
    clip,
    film,
    table,
    frame,
    events,
    mirrored,
    go,
    goByHand,
    isWhole,
    ref,
    canvas,
    stage,
    little,
    view,
    setView,
    toStage: viewAffine(view, film, mirrored),
    detail,
    setDetail,
    light,
    setLight,
    sheet,
    setSheet,
    blind,
    setBlind,
    said,
    say,
    beside,
    otherFilm,
    speed,
    setSpeed,
    loop,
    here,
    chosen,
    chosenMeasure,
    choose,
    over,
    setOver,
    subject,
    setSubject,
    lead,
    placesFor,
    points,
    onStage,
    marked,
    inHand,
    held,
    /// The point in hand, or all of the frame.
    heldPoints: inHand !== null ? [inHand] : onStage.map(({ name }) => name),
    placing,
    begin,
    blurField,
    smear,
    suggesting,
    following,
  }
}

/// A correction and what is followed anew after it are undone together.
const correcting = (clip: Clip, frame: number): string => `correct ${Math.round(performance.now())} ${frame} ${clip.id}`.slice(0, 80)
