import { useCallback, useEffect, useMemo, useRef, useState, type KeyboardEvent } from 'react'
import { placingOrder, type PointGroup } from '../../app/body/body-points'
import { isOfHall, sayPoint } from '../../app/body/landmark-name'
import type { FilmTable } from '../../app/contract/footage-calls'
import type { DrawContext } from '../../app/marks/draw-context'
import { letteringOf } from '../../app/marks/lettering'
import { measureLines, measureOf } from '../../app/marks/shot-scene'
import { measureContext } from '../../app/measure/context'
import { blurOf } from '../../app/measure/located'
import { applyAffine } from '../../app/programme/affine'
import type { Point } from '../../app/project/fields'
import type { Clip } from '../../app/project/film'
import type { FilmFrames } from '../player/film-frames'
import { useFilmTypeface } from '../player/film-typeface'
import { framesOf } from '../player/films'
import { goTo, usePlace } from '../state/place'
import { useProject, useShown } from '../state/use-project'
import { BenchCanvas } from './bench-canvas'
import type { BenchHand } from './bench-hand'
import { BenchHud } from './bench-hud'
import { commandOf, type Command, type SheetName } from './bench-keys'
import type { BenchScene } from './bench-painting'
import { BenchSheet } from './bench-sheet'
import { HandTools, SheetTools } from './bench-tools'
import { besideScene } from './beside-scene'
import { BesideWords } from './beside-words'
import type { BlurHand } from './blur-field'
import { aimRadius, readingsHere, shownPoints, storedPoints } from './clip-now'
import { COLUMN, EDGE, EdgeReadings, edgePlaces } from './edge-readings'
import { turnOf } from './guide'
import { GuideCard } from './guide-card'
import { outlyingOf } from './outlying'
import { anotherPerson, renamePerson } from './person-edits'
import { isCorrected, samplesOf } from './placing'
import { acceptPoints, blurPoint, copyPoints, movePoint, placeSuggested, removePlacing, removePoint } from './point-edits'
import { putCurve, putValue } from './put-into-paragraph'
import { SMEAR, smearLength } from './smear'
import { bringIn, panBy, pictureAtStage, viewAffine, zoomAbout } from './stage-view'
import { TimeStrip } from './time-strip'
import { useBeside } from './use-beside'
import { useFollowing } from './use-following'
import { useGuide } from './use-guide'
import { useLoop } from './use-loop'
import { usePointInHand } from './use-point-in-hand'
import { useRun } from './use-run'
import { useSmear } from './use-smear'
import { useGestures, useStage } from './use-stage'
import { useSubject } from './use-subject'
import { useSuggesting } from './use-suggesting'

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
  const { ref, stage, view, setView } = useStage(film, lock ? 0.5 : 1)
  const canvas = useRef<HTMLCanvasElement>(null)
  const blurField = useRef<BlurHand>(null)
  const [detail, setDetail] = useState<'missing' | 'small' | 'full'>('missing')
  const [picked, setPicked] = useState<string | null>(null)
  const [said, setSaid] = useState('')
  const [speed, setSpeed] = useState(0)
  const loop = useLoop()
  /// Whose curve is to lie over the chosen one's, and on which event.
  const [over, setOver] = useState<{ readonly beside: string; readonly on: string }>({ beside: '', on: '' })
  const [light, setLight] = useState({ brightness: 1, contrast: 1 })
  const { smear, ...drawing } = useSmear()
  const suggesting = useSuggesting(film, setSaid)
  const { subject, choose: setSubject } = useSubject(breakdown, clip.id)
  const mayPlace = subject !== null && !readOnly
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
    say: setSaid,
    onCorrected: (on, points) => on.subject === subject && followAnew(on.frame, points, correcting(clip, on.frame)),
  })
  const { active, aim, leave: leavePlacing } = placing
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
      setSaid('')
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
  const marked =
    suggesting.suggested &&
    blind === null &&
    !active &&
    suggesting.suggested.frame === frame &&
    suggesting.suggested.subject === subject &&
    sheet !== 'View'
      ? suggesting.suggested
      : null
  const onStage = marked
    ? [
        ...points,
        ...marked.points.map(({ point, at, confidence }) => ({
          name: point,
          at,
          seen: undefined,
          origin: 'suggested' as const,
          inHand: held.name === point,
          confidence,
        })),
      ]
    : points
  const inHand = onStage.some(({ name }) => name === held.name) ? held.name : null
  const heldPoints = inHand !== null ? [inHand] : onStage.map(({ name }) => name)

  const lines = active || speed !== 0 || blind !== null ? [] : here.filter((r) => r.frame === frame).map((r) => r.id)
  if (!active && chosenMeasure?.kind === 'path' && chosenMeasure.fromFrame <= frame && frame <= chosenMeasure.toFrame)
    lines.push(chosenMeasure.id)
  const toStage = viewAffine(view, film, mirrored)
  const right = stage.width - (sheet ? SHEET : 0)
  const places = useMemo(() => {
    const shown = {
      footage: clip.footage,
      frame,
      place: [0, 0, stage.width, stage.height] as const,
      shown: [0, 0, film.width, film.height] as const,
      mirrored,
      opacity: 1,
      toCanvas: toStage,
    }
    const joined = here.map((reading) => {
      const measure = context && measureOf(reading.id, context)
      return {
        reading,
        joint: (measure && context && measureLines(measure, shown, context, letteringOf(stage.width, stage.height))?.anchor) || null,
      }
    })
    return edgePlaces(joined, { width: right, height: stage.height })
  }, [here, context, stage, view, sheet])
  const ties =
    active || lock
      ? []
      : places.flatMap(({ side, top, joint }) =>
          joint ? [[[side === 'left' ? EDGE + COLUMN : right - EDGE - COLUMN, top + 18], joint] as const] : [],
        )
  const underHand = active
    ? { name: turnOf(active).point, at: aim, seen: active.seen, blur: active.blur }
    : (points.find(({ name }) => name === held.moved) ?? null)
  const scene: BenchScene = {
    film,
    footage: clip.footage,
    frame,
    mirrored,
    view,
    toStage,
    stage,
    density: window.devicePixelRatio,
    ...light,
    points: onStage,
    lead,
    measures: lines,
    context,
    ties,
    smear,
    aim: underHand && {
      at: underHand.at,
      radius: measures && subject ? aimRadius(measures, clip.id, subject, underHand) : 10,
      label: underHand.name,
    },
    free: { left: 12, top: TOOLS, right: (lock ? stage.width / 2 : right) - 12, bottom: stage.height - 12 },
  }

  const following = useFollowing({
    clip,
    subject,
    lead,
    table,
    height: () => (measures && subject ? measures.figureHeight(clip.id, subject) : null),
    say: setSaid,
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
  const begin = (names: readonly string[]): void => {
    setSpeed(0)
    held.letGo()
    placing.begin(names)
    ref.current?.focus()
  }
  const goToEvent = (way: -1 | 1): void => {
    const frames = events.map((event) => event.earliest).sort((a, b) => a - b)
    const to = way > 0 ? frames.find((at) => at > frame) : frames.findLast((at) => at < frame)
    if (to !== undefined) goByHand(to)
  }
  const run = (at: number): void => {
    if (speed === 0 && frame === clip.to - 1) go(clip.from)
    setSpeed(speed === 0 ? at : 0)
  }
  const bringToSight = (at: Point): void => setView((v) => bringIn(v, applyAffine(viewAffine(v, film, mirrored), at), stage, 24))
  const nextTurn = (): void => {
    if (!active) return
    const over = placing.next()
    if (over === null) return
    const slipped =
      subject && measures
        ? [...new Set(active.turns.map(({ point }) => point))].filter((point) =>
            outlyingOf(measures.samples(clip.id, subject, point, frame)),
          )
        : []
    setSaid(
      slipped.length > 0
        ? `${over} One placing of ${slipped.map((point) => sayPoint(point, lead)).join(', ')} lies far from the others: look at the points.`
        : over,
    )
    if (slipped.length > 0) setSheet('Points')
  }
  /// From the innermost thing outward: what is moved, drawn, followed or suggested; then the sheet, then the guide.
  const leaveOff = (): void => {
    if (held.takeBack() || gestures.giveUp() || following.leave() || suggesting.drop(null)) return
    if (sheet) setSheet(null)
    else placing.leave()
  }
  const takeNextInHand = (): void => {
    const names = onStage.map(({ name }) => name)
    const next = held.name === null ? names[0] : names[names.indexOf(held.name) + 1]
    held.hold(next ?? null)
    setSaid(next ? `In hand: ${sayPoint(next, lead)}.` : 'All points of the frame are in hand.')
  }
  const accept = (): void => {
    if (!subject || readOnly) return
    const on = { clip: clip.id, subject, frame }
    const taken = marked?.points.filter(({ point }) => heldPoints.includes(point)) ?? []
    if (taken.length > 0)
      void project
        .edit((state) => placeSuggested(state, project.shown().breakdown, on, taken))
        .then((kept) => kept && suggesting.drop(taken.map(({ point }) => point)))
    else void project.edit((state) => acceptPoints(state, project.shown().breakdown, on, heldPoints))
  }
  const setBeside = (): void => {
    const isAny = beside.next()
    setView(null)
    if (!isAny)
      setSaid(
        blind === null ? 'No other clip shares an event with this one.' : 'No clip stands beside this one while an event is marked blind.',
      )
  }
  const setLoop = (): void => {
    const { words, go: to } = loop.next(frame)
    setSaid(words)
    if (to !== null) go(to)
  }
  const stepOwn = (by: number): void => {
    beside.hold(within(clip, frame + by))
    goByHand(frame + by)
  }
  const leadByArrows = (): void => {
    const point = points.find(({ name }) => name === held.name)
    if (!point || readOnly || !isWhole()) return setSaid(isWhole() ? 'Take a point in hand first: N.' : 'The whole picture is coming …')
    setSpeed(0)
    held.lead(point.name)
    bringToSight(point.at)
  }
  const copyOn = (): void => {
    if (!subject || readOnly || frame + 1 >= clip.to) return
    void project.edit((state) => copyPoints(state, project.shown().breakdown, { clip: clip.id, subject, frame }, frame + 1))
    go(frame + 1)
  }
  const putIntoScript = (): void => setSaid(putValue(project, place.paragraph, chosen))
  const putIntoFilm = (): void => setSaid(putCurve(project, place.paragraph, chosen, over, measures))

  const runCommand = (command: Command): void => {
    setSaid('')
    switch (command.do) {
      case 'step':
        return goByHand(frame + command.by)
      case 'end':
        return goByHand(command.to === 'first' ? clip.from : clip.to - 1)
      case 'event':
        return goToEvent(command.way)
      case 'run':
        return run(command.speed)
      case 'zoom':
        return setView((v) => zoomAbout(v, active ? applyAffine(toStage, aim) : [stage.width / 2, stage.height / 2], command.by))
      case 'whole':
        return setView(null)
      case 'pan':
        return setView((v) => panBy(v, ...command.by))
      case 'nudge': {
        const by: Point = [mirrored ? -command.by[0] : command.by[0], command.by[1]]
        return bringToSight(held.leadBy(by) ?? placing.nudge(by))
      }
      case 'place-here':
        return placing.place(aim)
      case 'next':
        return nextTurn()
      case 'back':
        return placing.back()
      case 'seen':
        return placing.see(command.seen)
      case 'blur-length':
        return blurField.current?.begin(command.digit)
      case 'leave':
        return leaveOff()
      case 'track':
        return void (mayPlace && following.run(frame, [command.way], heldPoints, null))
      case 'hall':
        return void (mayPlace && following.hall(frame))
      case 'suggest':
        return void (mayPlace && !active && suggesting.ask(frame, subject, new Set(points.map(({ name }) => name))))
      case 'in-hand':
        return takeNextInHand()
      case 'accept':
        return accept()
      case 'beside':
        return setBeside()
      case 'step-beside':
        return beside.step(command.by)
      case 'step-own':
        return stepOwn(command.by)
      case 'loop':
        return setLoop()
      case 'lead':
        return leadByArrows()
      case 'let-go':
        return held.letGo()
      case 'guide':
        return begin(placingOrder('whole body', lead))
      case 'copy':
        return copyOn()
      case 'into-script':
        return putIntoScript()
      case 'into-film':
        return putIntoFilm()
      case 'sheet':
        return setSheet(sheet === command.sheet ? null : command.sheet)
    }
  }
  const onKey = (event: KeyboardEvent<HTMLDivElement>): void => {
    const at = event.target
    if (
      event.ctrlKey ||
      event.metaKey ||
      at instanceof HTMLInputElement ||
      at instanceof HTMLSelectElement ||
      at instanceof HTMLTextAreaElement
    ) {
      if (event.key === 'Escape') ref.current?.focus()
      return
    }
    if (at instanceof HTMLButtonElement && (event.key === ' ' || event.key === 'Enter')) return
    const command = commandOf(event, active ? 'places' : held.led !== null ? 'leads' : 'free')
    if (!command) return
    event.preventDefault()
    runCommand(command)
  }

  // The other clip's half of the stage is not this clip's to press.
  const isOwn = ([x]: Point): boolean => !lock || x < stage.width / 2
  const toPicture = (at: Point): Point => pictureAtStage(view, at, film, mirrored)
  const gestures = useGestures({
    press(at, event) {
      ref.current?.focus()
      if (active && !event.shiftKey) {
        if (!isOwn(at)) return null
        if (!placing.drawsBlur()) {
          placing.place(toPicture(at))
          return null
        }
        drawing.begin(at, scene, aim)
        return SMEAR
      }
      if (!isOwn(at)) return null
      held.letGo()
      const near =
        readOnly || !isWhole()
          ? []
          : onStage
              .map((p) => ({ p, d: distance(applyAffine(toStage, p.at), at) }))
              .filter(({ d }) => d < GRAB)
              .sort((a, b) => a.d - b.d)
      if (near[0]) held.hold(near[0].p.name)
      // What is only suggested is taken in hand, to be accepted; it moves once it is one's own.
      if (near[0]?.p.confidence !== undefined) return null
      return near[0]?.p.name ?? 'pan'
    },
    hover: (at) => isOwn(at) && placing.point(toPicture(at)),
    drag: (what, moved) => (what === SMEAR ? drawing.draw(moved) : held.drag(what, moved)),
    drop(what, moved) {
      if (what !== SMEAR) return held.drop(what, moved)
      // A drag states the blur's length; a press places the point, as before it was called blurred.
      const ended = drawing.end(moved)
      if (ended && 'drawn' in ended) placing.blur(smearLength(ended.drawn))
      else if (ended) placing.place(toPicture(ended.pressed))
    },
    setView,
  })
  const { giveUp: _giveUp, ...pointer } = gestures

  const assumedBlur = blurOf([{ seen: 'blurred' }], subject && measures ? measures.figureHeight(clip.id, subject) : null)
  const hand: BenchHand = {
    clip,
    subject,
    frame,
    lead,
    assumedBlur,
    chosen,
    blind,
    setBlind,
    choose: setPicked,
    go: goByHand,
    place: begin,
    followHall: () => runCommand({ do: 'hall' }),
    placed: (measure) => storedPoints(measure.points, lead),
    suggested: marked,
  }

  return (
    <div className="bench" onKeyDown={onKey}>
      <div
        ref={ref}
        className={active ? 'stage placing' : 'stage'}
        role="application"
        tabIndex={0}
        aria-label={`${clip.name ?? clip.id}, frame ${frame}. Keys: question mark.`}
        {...pointer}
      >
        <BenchCanvas
          ref={canvas}
          scene={scene}
          beside={lock && otherFilm && there !== null ? besideScene(scene, lock.clip, otherFilm, there, breakdown, measures) : null}
          onDetail={setDetail}
        />
        <BenchHud clip={clip} table={table} frame={frame} events={events} scale={view.scale} />
        {lock && <BesideWords lock={lock} frame={there} by={beside.by} onLockOn={beside.lockOn} />}
        <SheetTools isRunning={speed !== 0} sheet={sheet} onCommand={runCommand} />
        {!lock && (!sheet || stage.width > 1100) ? (
          <EdgeReadings places={places} chosen={chosen} inset={sheet ? SHEET : 0} onChoose={setPicked} />
        ) : null}
        <GuideCard
          guide={placing.guide}
          led={held.led}
          frame={frame}
          lead={lead}
          whole={detail === 'full'}
          subjects={breakdown?.subjects ?? []}
          subject={subject}
          readOnly={readOnly}
          onSubject={setSubject}
          onGo={goByHand}
          assumedBlur={assumedBlur}
          drawnBlur={smear && smearLength(smear)}
          blurField={blurField}
          onBlur={async (length) => placing.blur(length)}
          onToStage={() => ref.current?.focus()}
          onNewSubject={(name) =>
            void project.edit((state) => {
              const { id, change } = anotherPerson(state, name)
              setSubject(id)
              return change
            })
          }
          onRename={(name) => void project.edit((state) => (subject ? renamePerson(state, subject, name) : null))}
          onBegin={(group: PointGroup) => begin(placingOrder(group, lead))}
        />
        {following.done !== null && (
          <p className="said-here" role="status">
            Following: {following.done} frames looked at. Esc leaves off; nothing is kept then.
          </p>
        )}
        {said && following.done === null && (
          <p className="said-here" role="status">
            {said}
          </p>
        )}
        {sheet && (
          <BenchSheet
            name={sheet}
            hand={hand}
            light={light}
            onLight={setLight}
            onClose={() => {
              setSheet(null)
              ref.current?.focus()
            }}
            onIntoScript={putIntoScript}
            onBlurred={(point, blur) =>
              project.edit((state) =>
                subject ? blurPoint(state, project.shown().breakdown, { clip: clip.id, subject, frame }, point, blur, lead) : null,
              )
            }
            onRemovePlacing={(point, index) =>
              subject &&
              void project.edit((state) =>
                removePlacing(state, project.shown().breakdown, { clip: clip.id, subject, frame }, point, index, lead),
              )
            }
            onRemovePoint={(point) =>
              subject &&
              void project.edit((state) => removePoint(state, project.shown().breakdown, { clip: clip.id, subject, frame }, point, lead))
            }
          />
        )}
      </div>
      <HandTools
        placing={active !== null}
        seen={active?.seen ?? 'seen'}
        inHand={inHand && sayPoint(inHand, lead)}
        leads={held.led !== null}
        mayPlace={mayPlace}
        isLast={frame + 1 >= clip.to}
        hasPoints={points.length > 0}
        hasSuggested={points.some(({ origin }) => origin === 'suggested') || marked !== null}
        isBeside={lock !== null}
        loop={loop.state}
        onCommand={(command) => {
          runCommand(command)
          ref.current?.focus()
        }}
      />
      <TimeStrip
        clip={clip}
        frame={frame}
        events={events}
        measure={chosenMeasure}
        reading={chosen ? readings.get(chosen) : undefined}
        context={measures}
        width={stage.width}
        over={over}
        onOver={setOver}
        onFrame={goByHand}
        onIntoFilm={readOnly ? null : putIntoFilm}
      />
    </div>
  )
}

const within = (clip: Clip, frame: number): number => Math.max(clip.from, Math.min(clip.to - 1, frame))
/// A correction and what is followed anew after it are undone together.
const correcting = (clip: Clip, frame: number): string => `correct ${Math.round(performance.now())} ${frame} ${clip.id}`.slice(0, 80)
const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1])
