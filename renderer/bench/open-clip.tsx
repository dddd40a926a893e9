import { useCallback, useEffect, useMemo, useRef, useState, type KeyboardEvent } from 'react'
import { placingOrder, type PointGroup } from '../../app/body/body-points'
import { isOfHall, sayPoint } from '../../app/body/landmark-name'
import type { FilmTable } from '../../app/contract/footage-calls'
import { curveFigure, LEAST_POINTS } from '../../app/marks/curve-figure'
import { letteringOf } from '../../app/marks/lettering'
import { measureLines, measureOf } from '../../app/marks/shot-scene'
import type { DrawContext } from '../../app/marks/draw-context'
import { measureContext } from '../../app/measure/context'
import { overlayOf } from '../../app/measure/curve-beside'
import { blurOf } from '../../app/measure/located'
import { applyAffine, invert, type Affine } from '../../app/programme/affine'
import type { Point } from '../../app/project/fields'
import type { Clip } from '../../app/project/film'
import type { CurveCard } from '../../app/project/picture'
import { useFilmTypeface } from '../player/film-typeface'
import type { FilmFrames } from '../player/film-frames'
import { framesOf } from '../player/films'
import { goTo, usePlace } from '../state/place'
import { useProject, useShown } from '../state/use-project'
import { BenchCanvas } from './bench-canvas'
import type { BenchHand } from './bench-hand'
import { commandOf, type Command, type SheetName } from './bench-keys'
import { HandTools, SheetTools } from './bench-tools'
import type { BenchScene } from './bench-painting'
import { BenchSheet } from './bench-sheet'
import type { BlurHand } from './blur-field'
import { COLUMN, EDGE, EdgeReadings, edgePlaces } from './edge-readings'
import { turnOf } from './guide'
import { GuideCard } from './guide-card'
import { intoFilm, intoScript } from './into-script'
import { useBeside } from './use-beside'
import { useFollowing } from './use-following'
import { outlyingOf } from './outlying'
import { beginningOf, paragraphInHand } from './paragraph-in-hand'
import { isCorrected, samplesOf } from './placing'
import { anotherPerson, renamePerson } from './person-edits'
import { acceptPoints, blurPoint, copyPoints, movePoint, placeSuggested, removePlacing, removePoint } from './point-edits'
import { magnifierView, SIDE } from './magnifier'
import { SMEAR, smearLength, STILL, type Smear } from './smear'
import { aimRadius, eventWords, fieldOf, readingsHere, shownPoints, storedPoints, timeWords } from './clip-now'
import { BesideWords } from './beside-words'
import { bringIn, ontoPicture, panBy, pictureAtStage, viewAffine, wholeView, zoomAbout } from './stage-view'
import { TimeStrip } from './time-strip'
import { useRun } from './use-run'
import { useSuggesting } from './use-suggesting'
import { useGuide } from './use-guide'
import { useGestures, useStage } from './use-stage'

interface Props {
  readonly clip: Clip
  readonly film: FilmFrames
  readonly table: FilmTable
  readonly frame: number
}

const SHEET = 340
/// The tools lie so far down upon the stage.
const TOOLS = 56
const GRAB = 14

/// One clip open on the Bench. All that changes the project goes through the one gate, one gesture one edit.
export function OpenClip({ clip, film, table, frame }: Props) {
  const project = useProject()
  const { breakdown, films, tables, readings, readOnly } = useShown()
  const place = usePlace()
  const typeface = useFilmTypeface()
  const measures = useMemo(() => (breakdown ? measureContext(breakdown, (footage) => tables.get(footage) ?? null) : null), [breakdown, tables])
  const [sheet, setSheet] = useState<SheetName | null>(null)
  const [marking, setMarking] = useState<string | null>(null)
  // An event that is marked again blind: whatever would tell where it was marked is out of sight.
  const blind = sheet === 'Events' ? marking : null
  const beside = useBeside(clip, frame, blind === null ? measures : null)
  const { lock, there, none: noneBeside } = beside
  const [loop, setLoop] = useState<{ readonly from: number; readonly to: number | null } | null>(null)
  const { ref, stage, view, setView } = useStage(film, lock ? 0.5 : 1)
  const canvas = useRef<HTMLCanvasElement>(null)
  const blurField = useRef<BlurHand>(null)
  const [own, setOwn] = useState<string | null>(null)
  const [detail, setDetail] = useState<'missing' | 'small' | 'full'>('missing')
  const [picked, setPicked] = useState<string | null>(null)
  const [said, setSaid] = useState('')
  const [speed, setSpeed] = useState(0)
  /// Whose curve is to lie over the chosen one's, and on which event.
  const [over, setOver] = useState<{ readonly beside: string; readonly on: string }>({ beside: '', on: '' })
  const [light, setLight] = useState({ brightness: 1, contrast: 1 })
  const [inHand, setInHand] = useState<string | null>(null)
  const [drawn, setDragged] = useState<{ readonly point: string; readonly by: Point; readonly frame: number; readonly byKeys: boolean } | null>(null)
  const dragged = drawn?.frame === frame ? drawn : null
  const led = dragged?.byKeys ? dragged : null

  /// A blur that is being drawn, and how pixels of the stage become the picture's where the drag began.
  const [smear, setSmear] = useState<Smear | null>(null)
  const smearView = useRef<Affine | null>(null)
  const smearFrom = useRef<Point | null>(null)
  const suggesting = useSuggesting(film, setSaid)
  const mirrored = clip.mirrored ?? false
  const field = fieldOf(breakdown?.footage.find(({ id }) => id === clip.footage), films.get(clip.footage), frame)
  const go = (to: number): void => goTo({ room: 'Bench', clip: clip.id, frame: Math.max(clip.from, Math.min(clip.to - 1, to)) })
  const goByHand = (to: number): void => {
    setSpeed(0)
    go(to)
  }
  const subjects = breakdown?.subjects ?? []
  const chosenSubject = subjects.some(({ id }) => id === own) ? own : null
  const subject = chosenSubject ?? breakdown?.landmarks?.find((l) => l.clip === clip.id)?.subject ?? subjects[0]?.id ?? null
  const context = useMemo<DrawContext | null>(() => measures && typeface && { measures, readings, typeface, width: stage.width, height: stage.height, explainsErrorAt: null }, [measures, readings, typeface, stage])
  const lead = subject && measures ? measures.lead(clip.id, subject, frame) : null
  // What stands on the canvas, also before the words about it have been drawn anew: what a person sees there, they act on.
  const isWhole = (): boolean => canvas.current?.dataset['detail'] === 'full'
  const placing = useGuide({
    clip: clip.id, subject, frame, lead, picture: film, isWhole, say: setSaid,
    onCorrected: (on, points) => on.subject === subject && followAnew(on.frame, points, correcting(on.frame)),
  })
  const { active, aim } = placing
  const { leave: leavePlacing } = placing
  const setBlind = useCallback((event: string | null): void => {
    setMarking(event)
    if (event === null) return
    // A clip beside, a loop, a guide that waits on its frame, and what was said last, tell where it was marked as well.
    noneBeside()
    leavePlacing()
    setSpeed(0)
    setLoop(null)
    setSaid('')
    goTo({ room: 'Bench', clip: clip.id, frame: clip.from })
  }, [clip.id, clip.from, noneBeside, leavePlacing])
  const events = (measures?.eventsOf(clip.id) ?? []).filter(({ id }) => id !== blind)
  const here = useMemo(() => (breakdown && blind === null ? readingsHere(breakdown, readings, clip.id, frame) : []), [breakdown, readings, clip, frame, blind])
  const assumedBlur = blurOf([{ seen: 'blurred' }], subject && measures ? measures.figureHeight(clip.id, subject) : null)
  const chosen = picked !== null && readings.has(picked) ? picked : (here.find((r) => r.frame !== null)?.id ?? here[0]?.id ?? null)
  const toStage = viewAffine(view, film, mirrored)

  const otherFilm = lock ? framesOf(lock.clip.footage, { films, tables }) : null
  useRun(speed, frame, loop?.to ?? clip.to, table, go, () => setSpeed(0), loop?.to ? loop.from : null)
  useEffect(() => {
    const how = { onward: speed === 0 ? 1 : speed, whole: speed === 0 }
    film.look(there !== null && otherFilm === film ? [frame, there] : [frame], how)
    if (there !== null && otherFilm !== film) otherFilm?.look([there], how)
  }, [film, frame, speed, otherFilm, there])
  useEffect(() => ref.current?.focus(), [ref])

  const storedPlaces = useMemo(() => (breakdown && subject && blind === null ? shownPoints(breakdown, clip.id, subject, frame, active).filter(({ name }) => sheet === 'View' || !isOfHall(name)) : []), [breakdown, clip, subject, frame, active, sheet, blind])
  const points = storedPlaces.map((point) => ({ ...point, ...(dragged?.point === point.name ? { at: movedBy(point.at, dragged.by) } : {}), inHand: point.inHand || (!active && point.name === inHand) }))
  const marked = suggesting.suggested && blind === null && !active && suggesting.suggested.frame === frame && suggesting.suggested.subject === subject && sheet !== 'View' ? suggesting.suggested : null
  const onStage = marked ? [...points, ...marked.points.map(({ point, at, confidence }) => ({ name: point, at, seen: undefined, origin: 'suggested' as const, inHand: inHand === point, confidence }))] : points
  const lines = active || speed !== 0 || blind !== null ? [] : here.filter((r) => r.frame === frame).map((r) => r.id)
  const way = chosen === null || active || blind !== null ? null : (measures?.measure(chosen) ?? null)
  if (way?.kind === 'path' && way.fromFrame <= frame && frame <= way.toFrame) lines.push(way.id)
  const places = useMemo(() => {
    const shown = { footage: clip.footage, frame, place: [0, 0, stage.width, stage.height] as const, shown: [0, 0, film.width, film.height] as const, mirrored, opacity: 1, toCanvas: toStage }
    const joined = here.map((reading) => {
      const measure = context && measureOf(reading.id, context)
      return { reading, joint: (measure && context && measureLines(measure, shown, context, letteringOf(stage.width, stage.height))?.anchor) || null }
    })
    return edgePlaces(joined, { width: stage.width - (sheet ? SHEET : 0), height: stage.height })
  }, [here, context, stage, view, sheet])
  const ties = active || lock ? [] : places.flatMap(({ side, top, joint }) => (joint ? [[[side === 'left' ? EDGE + COLUMN : stage.width - (sheet ? SHEET : 0) - EDGE - COLUMN, top + 18], joint] as const] : []))
  const underHand = active ? { name: turnOf(active).point, at: aim, seen: active.seen, blur: active.blur } : (points.find(({ name }) => name === dragged?.point) ?? null)
  const scene: BenchScene = {
    film, footage: clip.footage, frame, mirrored, view, toStage, stage, density: window.devicePixelRatio, ...light, points: onStage, lead, measures: lines, context, ties, smear,
    aim: underHand && { at: underHand.at, radius: measures && subject ? aimRadius(measures, clip.id, subject, underHand) : 10, label: underHand.name },
    free: { left: 12, top: TOOLS, right: (lock ? stage.width / 2 : stage.width - (sheet ? SHEET : 0)) - 12, bottom: stage.height - 12 },
  }

  const following = useFollowing({
    clip, subject, lead, table, height: () => (measures && subject ? measures.figureHeight(clip.id, subject) : null), say: setSaid,
    onAsk: (at, point) => { setInHand(point); go(at) },
  })
  const heldPoints = (): string[] => (inHand !== null && onStage.some(({ name }) => name === inHand) ? [inHand] : onStage.map(({ name }) => name))
  const besideView = otherFilm && wholeView(otherFilm, { width: stage.width / 2, height: stage.height })
  const besideSubject = lock && breakdown ? (breakdown.landmarks?.find((l) => l.clip === lock.clip.id)?.subject ?? null) : null
  const besideScene: BenchScene | null =
    lock && otherFilm && besideView && there !== null
      ? {
          ...scene, film: otherFilm, footage: lock.clip.footage, frame: there, mirrored: lock.clip.mirrored ?? false, ties: [], aim: null, smear: null, measures: [],
          view: { ...besideView, x: besideView.x + stage.width / 2 }, toStage: viewAffine({ ...besideView, x: besideView.x + stage.width / 2 }, otherFilm, lock.clip.mirrored ?? false),
          points: breakdown && besideSubject ? shownPoints(breakdown, lock.clip.id, besideSubject, there, null) : [],
          lead: besideSubject && measures ? measures.lead(lock.clip.id, besideSubject, there) : null,
        }
      : null
  const begin = (names: readonly string[]): void => {
    setSpeed(0)
    letGo()
    placing.begin(names)
    ref.current?.focus()
  }
  const runCommand = (command: Command): void => {
    setSaid('')
    if (command.do === 'step') goByHand(frame + command.by)
    else if (command.do === 'end') goByHand(command.to === 'first' ? clip.from : clip.to - 1)
    else if (command.do === 'event') {
      const frames = events.map((event) => event.earliest).sort((a, b) => a - b)
      const to = command.way > 0 ? frames.find((at) => at > frame) : frames.findLast((at) => at < frame)
      if (to !== undefined) goByHand(to)
    } else if (command.do === 'run') {
      if (speed === 0 && frame === clip.to - 1) go(clip.from)
      setSpeed(speed === 0 ? command.speed : 0)
    } else if (command.do === 'zoom') setView((v) => zoomAbout(v, active ? applyAffine(toStage, aim) : [stage.width / 2, stage.height / 2], command.by))
    else if (command.do === 'whole') setView(null)
    else if (command.do === 'nudge') {
      const by: Point = [mirrored ? -command.by[0] : command.by[0], command.by[1]]
      const at = led ? leadBy(led, by) : placing.nudge(by)
      setView((v) => bringIn(v, applyAffine(viewAffine(v, film, mirrored), at), stage, 24))
    } else if (command.do === 'place-here') placing.place(aim)
    else if (command.do === 'next' && active) {
      const over = placing.next()
      if (over !== null) {
        const slipped = subject && measures ? [...new Set(active.turns.map(({ point }) => point))].filter((point) => outlyingOf(measures.samples(clip.id, subject, point, frame))) : []
        setSaid(slipped.length > 0 ? `${over} One placing of ${slipped.map((point) => sayPoint(point, lead)).join(', ')} lies far from the others: look at the points.` : over)
        if (slipped.length > 0) setSheet('Points')
      }
    } else if (command.do === 'back') placing.back()
    else if (command.do === 'seen') placing.see(command.seen)
    else if (command.do === 'blur-length') blurField.current?.begin(command.digit)
    else if (command.do === 'leave') {
      if (led) return setDragged(null)
      if (gestures.giveUp() || following.leave() || suggesting.drop(null)) return
      if (sheet) setSheet(null)
      else placing.leave()
    } else if (command.do === 'track') {
      if (subject && !readOnly) void following.run(frame, [command.way], heldPoints(), null)
    } else if (command.do === 'hall') {
      if (subject && !readOnly) void following.hall(frame)
    } else if (command.do === 'suggest') {
      if (subject && !readOnly && !active) void suggesting.ask(frame, subject, new Set(points.map(({ name }) => name)))
    } else if (command.do === 'in-hand') {
      const names = onStage.map(({ name }) => name)
      const next = inHand === null ? names[0] : names[names.indexOf(inHand) + 1]
      setInHand(next ?? null)
      setSaid(next ? `In hand: ${sayPoint(next, lead)}.` : 'All points of the frame are in hand.')
    } else if (command.do === 'accept') {
      if (subject && !readOnly && marked && marked.points.some(({ point }) => heldPoints().includes(point))) {
        const taken = marked.points.filter(({ point }) => heldPoints().includes(point))
        void project.edit((state) => placeSuggested(state, project.shown().breakdown, { clip: clip.id, subject, frame }, taken)).then((kept) => kept && suggesting.drop(taken.map(({ point }) => point)))
      } else if (subject && !readOnly) void project.edit((state) => acceptPoints(state, project.shown().breakdown, { clip: clip.id, subject, frame }, heldPoints()))
    } else if (command.do === 'beside') {
      const isAny = beside.next()
      setView(null)
      if (!isAny) setSaid(blind === null ? 'No other clip shares an event with this one.' : 'No clip stands beside this one while an event is marked blind.')
    } else if (command.do === 'loop') {
      const next = loop === null ? { from: frame, to: null } : loop.to === null && frame > loop.from ? { from: loop.from, to: frame + 1 } : null
      setLoop(next)
      setSaid(next === null ? 'Runs to the clip’s end.' : next.to === null ? `Over and over from frame ${next.from}: press O again where it ends.` : `Runs over and over from frame ${next.from} to ${next.to - 1}.`)
      if (next?.to) go(next.from)
    } else if (command.do === 'step-beside') beside.step(command.by)
    else if (command.do === 'step-own') {
      const to = Math.max(clip.from, Math.min(clip.to - 1, frame + command.by))
      beside.hold(to)
      goByHand(to)
    } else if (command.do === 'pan') setView((v) => panBy(v, ...command.by))
    else if (command.do === 'lead') {
      const point = points.find(({ name }) => name === inHand)
      if (point && !readOnly && isWhole()) {
        setSpeed(0)
        setDragged({ point: point.name, by: [0, 0], frame, byKeys: true })
        setView((v) => bringIn(v, applyAffine(viewAffine(v, film, mirrored), point.at), stage, 24))
      } else setSaid(isWhole() ? 'Take a point in hand first: N.' : 'The whole picture is coming …')
    } else if (command.do === 'let-go') letGo()
    else if (command.do === 'guide') begin(placingOrder('whole body', lead))
    else if (command.do === 'copy' && subject && !readOnly && frame + 1 < clip.to) {
      void project.edit((state) => copyPoints(state, project.shown().breakdown, { clip: clip.id, subject, frame }, frame + 1))
      go(frame + 1)
    } else if (command.do === 'into-script') putIntoScript()
    else if (command.do === 'into-film') putIntoFilm()
    else if (command.do === 'sheet') setSheet(sheet === command.sheet ? null : command.sheet)
  }
  const putIntoScript = (): void => {
    const measure = chosen
    if (measure === null || readOnly) return setSaid('Choose a value first.')
    const now = project.shown().state
    const at = now && paragraphInHand(now, place.paragraph)
    if (!at) return setSaid('The script has no paragraph yet.')
    void project.edit((state) => intoScript(state, place.paragraph, measure))
    setSaid(`It stands at the end of ${beginningOf(at)}.`)
  }
  const putIntoFilm = (): void => {
    const measure = (chosen !== null && measures?.measure(chosen)) || null
    if (!measure || !measures || readOnly) return setSaid('Choose a measure first.')
    if (!curveFigure(measure, measures, readings.get(measure.id))) return setSaid(`It has no curve: its points are placed on fewer than ${LEAST_POINTS} frames.`)
    const now = project.shown().state
    const at = now && paragraphInHand(now, place.paragraph)
    if (!at) return setSaid('The script has no paragraph yet.')
    const overlay = overlayOf(measure, over, measures)
    const card: CurveCard = { card: 'curve', measure: measure.id, ...(overlay ? { beside: overlay.measure.id, on: overlay.on } : {}) }
    const change = intoFilm(now, place.paragraph, card)
    if (change) void project.edit((state) => intoFilm(state, place.paragraph, card))
    setSaid(change ? `The curve stands behind the pictures of ${beginningOf(at)}.` : `The curve is a picture of ${beginningOf(at)} already.`)
  }
  const onKey = (event: KeyboardEvent<HTMLDivElement>): void => {
    const at = event.target
    if (event.ctrlKey || event.metaKey || at instanceof HTMLInputElement || at instanceof HTMLSelectElement || at instanceof HTMLTextAreaElement) {
      if (event.key === 'Escape') ref.current?.focus()
      return
    }
    if (at instanceof HTMLButtonElement && (event.key === ' ' || event.key === 'Enter')) return
    const command = commandOf(event, active ? 'places' : led ? 'leads' : 'free')
    if (!command) return
    event.preventDefault()
    runCommand(command)
  }
  // The other clip's half of the stage is not this clip's to press.
  const isOwn = ([x]: Point): boolean => !lock || x < stage.width / 2
  /// How far a point is moved, picture pixels: it does not leave the picture.
  const movedTo = (point: string, [dx, dy]: Point): { readonly at: Point; readonly by: Point } => {
    const stored = storedPlaces.find(({ name }) => name === point)?.at ?? [0, 0]
    const at = ontoPicture([stored[0] + dx, stored[1] + dy], film)
    return { at, by: [at[0] - stored[0], at[1] - stored[1]] }
  }
  const draggedBy = (point: string, [dx, dy]: Point): Point => movedTo(point, [(mirrored ? -dx : dx) / view.scale, dy / view.scale]).by
  const leadBy = (held: { readonly point: string; readonly by: Point }, more: Point): Point => {
    const { at, by } = movedTo(held.point, movedBy(held.by, more))
    setDragged({ point: held.point, by, frame, byKeys: true })
    return at
  }
  /// Follows what a hand has corrected anew, both ways from there.
  const followAnew = (at: number, points: readonly string[], group: string | null): void => void following.run(at, [1, -1], points, group)
  const correcting = (at: number): string => `correct ${Math.round(performance.now())} ${at} ${clip.id}`.slice(0, 80)
  /// Keeps a moved point where it is. What was followed about it is followed anew from there, and taken back with it.
  const keepMoved = (point: string, by: Point): void => {
    if (!subject || (by[0] === 0 && by[1] === 0)) return
    const corrects = breakdown ? isCorrected(samplesOf(breakdown, { clip: clip.id, subject, point }), frame) : false
    const group = corrects ? correcting(frame) : null
    const moves = project.edit((state) => movePoint(state, project.shown().breakdown, { clip: clip.id, subject, frame }, point, by, lead), group)
    if (corrects) void moves.then(() => followAnew(frame, [point], group))
  }
  const letGo = (): void => {
    setDragged(null)
    if (led) keepMoved(led.point, led.by)
  }
  /// A drag begins on the picture, or in the square that magnifies it.
  const beginSmear = (at: Point): string => {
    const { toStage: magnified, corner } = magnifierView(scene, aim)
    const inSquare = at.every((value, axis) => value >= corner[axis]! && value <= corner[axis]! + SIDE)
    smearView.current = invert(inSquare ? magnified : toStage)
    smearFrom.current = at
    return SMEAR
  }
  const smearOf = (moved: Point): Smear | null => {
    const [from, toPicture] = [smearFrom.current, smearView.current]
    return from && toPicture && Math.hypot(...moved) >= STILL ? { from: applyAffine(toPicture, from), to: applyAffine(toPicture, movedBy(from, moved)) } : null
  }
  const drawSmear = (moved: Point): void => setSmear(smearOf(moved))
  /// A drag states the length; a press places the point, as before it was called blurred.
  const endSmear = (moved: Point | null): void => {
    setSmear(null)
    const drawn = moved && smearOf(moved)
    if (drawn) placing.blur(smearLength(drawn))
    else if (moved && smearFrom.current) placing.place(pictureAtStage(view, smearFrom.current, film, mirrored))
  }
  const gestures = useGestures({
    press(at, event) {
      ref.current?.focus()
      if (active && !event.shiftKey) {
        if (isOwn(at) && placing.drawsBlur()) return beginSmear(at)
        if (isOwn(at)) placing.place(pictureAtStage(view, at, film, mirrored))
        return null
      }
      if (!isOwn(at)) return null
      letGo()
      const near = readOnly || !isWhole() ? [] : onStage.map((p) => ({ p, d: distance(applyAffine(toStage, p.at), at) })).filter(({ d }) => d < GRAB).sort((a, b) => a.d - b.d)
      if (near[0]) setInHand(near[0].p.name)
      // What is only suggested is taken in hand, to be accepted; it moves once it is one's own.
      if (near[0]?.p.confidence !== undefined) return null
      return near[0]?.p.name ?? 'pan'
    },
    hover: (at) => isOwn(at) && placing.point(pictureAtStage(view, at, film, mirrored)),
    drag: (point, moved) => (point === SMEAR ? drawSmear(moved) : setDragged({ point, by: draggedBy(point, moved), frame, byKeys: false })),
    drop(point, by) {
      if (point === SMEAR) return endSmear(by)
      setDragged(null)
      if (by) keepMoved(point, draggedBy(point, by))
    },
    setView,
  })
  const { giveUp: _giveUp, ...pointer } = gestures
  const hand: BenchHand = {
    clip, subject, frame, lead, assumedBlur, chosen, blind, setBlind, choose: setPicked, go: goByHand, place: begin, followHall: () => runCommand({ do: 'hall' }),
    placed: (measure) => storedPoints(measure.points, lead), suggested: marked,
  }
  const whatEvent = eventWords(events, frame)

  return (
    <div className="bench" onKeyDown={onKey}>
      <div ref={ref} className={active ? 'stage placing' : 'stage'} role="application" tabIndex={0} aria-label={`${clip.name ?? clip.id}, frame ${frame}. Keys: question mark.`} {...pointer}>
        <BenchCanvas ref={canvas} scene={scene} beside={besideScene} onDetail={setDetail} />
        <p className="hud">
          <select aria-label="Clip" value={clip.id} onChange={(event) => goTo({ clip: event.target.value, frame: null })}>
            {breakdown?.clips.map(({ id, name }) => <option key={id} value={id}>{name ?? id}</option>)}
          </select>
          <span role="status">
            frame {frame} · {timeWords(table, frame)}
            {field !== null && ` · ${field}`}
            {mirrored && ' · mirrored'}
            {view.scale >= 2 && ` · ${Math.round(view.scale * 100)} %`}
          </span>
          {whatEvent !== '' && <span className="hud-event" title={whatEvent}>{whatEvent}</span>}
        </p>
        {lock && <BesideWords lock={lock} frame={there} by={beside.by} onLockOn={beside.lockOn} />}
        <SheetTools isRunning={speed !== 0} sheet={sheet} onCommand={runCommand} />
        {!lock && (!sheet || stage.width > 1100) ? <EdgeReadings places={places} chosen={chosen} inset={sheet ? SHEET : 0} onChoose={setPicked} /> : null}
        <GuideCard
          guide={placing.guide} led={led?.point ?? null} frame={frame} lead={lead} whole={detail === 'full'} subjects={subjects} subject={subject} readOnly={readOnly} onSubject={setOwn} onGo={goByHand}
          assumedBlur={assumedBlur} drawnBlur={smear && smearLength(smear)} blurField={blurField} onBlur={async (length) => placing.blur(length)} onToStage={() => ref.current?.focus()}
          onNewSubject={(name) => void project.edit((state) => {
            const { id, change } = anotherPerson(state, name)
            setOwn(id)
            return change
          })}
          onRename={(name) => void project.edit((state) => (subject ? renamePerson(state, subject, name) : null))}
          onBegin={(group: PointGroup) => begin(placingOrder(group, lead))}
        />
        {following.done !== null && <p className="said-here" role="status">Following: {following.done} frames looked at. Esc leaves off; nothing is kept then.</p>}
        {said && following.done === null && <p className="said-here" role="status">{said}</p>}
        {sheet && (
          <BenchSheet
            name={sheet} hand={hand} light={light} onLight={setLight} onClose={() => { setSheet(null); ref.current?.focus() }}
            onIntoScript={putIntoScript}
            onBlurred={(point, blur) => project.edit((state) => (subject ? blurPoint(state, project.shown().breakdown, { clip: clip.id, subject, frame }, point, blur, lead) : null))}
            onRemovePlacing={(point, index) => subject && void project.edit((state) => removePlacing(state, project.shown().breakdown, { clip: clip.id, subject, frame }, point, index, lead))}
            onRemovePoint={(point) => subject && void project.edit((state) => removePoint(state, project.shown().breakdown, { clip: clip.id, subject, frame }, point, lead))}
          />
        )}
      </div>
      <HandTools
        placing={active !== null} seen={active?.seen ?? 'seen'} inHand={inHand !== null && onStage.some(({ name }) => name === inHand) ? sayPoint(inHand, lead) : null} leads={led !== null}
        mayPlace={subject !== null && !readOnly} isLast={frame + 1 >= clip.to} hasPoints={points.length > 0} hasSuggested={points.some(({ origin }) => origin === 'suggested') || marked !== null}
        isBeside={lock !== null} loop={loop === null ? 'none' : loop.to === null ? 'begun' : 'whole'}
        onCommand={(command) => { runCommand(command); ref.current?.focus() }}
      />
      <TimeStrip clip={clip} frame={frame} events={events} measure={(blind === null && chosen && measures?.measure(chosen)) || null} reading={chosen ? readings.get(chosen) : undefined} context={measures} width={stage.width} over={over} onOver={setOver} onFrame={goByHand} onIntoFilm={readOnly ? null : putIntoFilm} />
    </div>
  )
}

const movedBy = (at: Point, by: Point): Point => [at[0] + by[0], at[1] + by[1]]
const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1])
