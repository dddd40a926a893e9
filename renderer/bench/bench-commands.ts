import { placingOrder } from '../../app/body/body-points'
import { sayPoint } from '../../app/body/landmark-name'
import { applyAffine } from '../../app/programme/affine'
import type { Point } from '../../app/project/fields'
import type { Command } from './bench-keys'
import { outlyingOf } from './outlying'
import { acceptPoints, copyPoints, placeSuggested } from './point-edits'
import { putCurve, putValue } from './put-into-paragraph'
import { bringIn, panBy, viewAffine, zoomAbout } from './stage-view'
import { within, type BenchNow } from './use-open-clip'

/// What the Bench's keys and buttons do.

/// `paragraph`: the one in hand in the Script. `giveUp` ends a drag under way, and answers whether there was one.
export interface Around {
  readonly paragraph: string | null
  readonly giveUp: () => boolean
}

export function doCommand(now: BenchNow, command: Command, around: Around): void {
  const { clip, frame, placesFor, placing, held, following, suggesting, beside, setView, say } = now
  say('')
  switch (command.do) {
    case 'step':
      return now.goByHand(frame + command.by)
    case 'end':
      return now.goByHand(command.to === 'first' ? clip.from : clip.to - 1)
    case 'event':
      return goToEvent(now, command.way)
    case 'run':
      return runOrStop(now, command.speed)
    case 'loop':
      return setLoop(now)
    case 'zoom':
      return setView((v) => zoomAbout(v, middleOfInterest(now), command.by))
    case 'whole':
      return setView(null)
    case 'pan':
      return setView((v) => panBy(v, ...command.by))
    case 'guide':
      return now.begin(placingOrder('whole body', now.lead))
    case 'nudge':
      return nudge(now, command.by)
    case 'place-here':
      return placing.place(placing.aim)
    case 'next':
      return nextTurn(now)
    case 'back':
      return placing.back()
    case 'seen':
      return placing.see(command.seen)
    case 'blur-length':
      return now.blurField.current?.begin(command.digit)
    case 'leave':
      return leaveOff(now, around)
    case 'in-hand':
      return takeNextInHand(now)
    case 'lead':
      return leadByArrows(now)
    case 'let-go':
      return held.letGo()
    case 'copy':
      return copyOn(now)
    case 'track':
      return void (placesFor !== null && following.run(frame, [command.way], now.heldPoints, null))
    case 'hall':
      return void (placesFor !== null && following.hall(frame))
    case 'suggest':
      return void (placesFor !== null && !placing.active && suggesting.ask(frame, placesFor, new Set(now.points.map(({ name }) => name))))
    case 'accept':
      return accept(now)
    case 'beside':
      return setBeside(now)
    case 'step-beside':
      return beside.step(command.by)
    case 'step-own':
      return stepOwn(now, command.by)
    case 'into-script':
      return say(putValue(now.project, around.paragraph, now.chosen))
    case 'into-film':
      return say(putCurve(now.project, around.paragraph, now.chosen, now.over, now.measures))
    case 'sheet':
      return now.setSheet(now.sheet === command.sheet ? null : command.sheet)
  }
}

function goToEvent({ events, frame, goByHand }: BenchNow, way: -1 | 1): void {
  const frames = events.map((event) => event.earliest).sort((a, b) => a - b)
  const to = way > 0 ? frames.find((at) => at > frame) : frames.findLast((at) => at < frame)
  if (to !== undefined) goByHand(to)
}

/// From the clip's last frame a run begins anew.
function runOrStop({ clip, frame, speed, setSpeed, go }: BenchNow, wanted: number): void {
  if (speed === 0 && frame === clip.to - 1) go(clip.from)
  setSpeed(speed === 0 ? wanted : 0)
}

function setLoop({ loop, frame, say, go }: BenchNow): void {
  const { words, go: to } = loop.next(frame)
  say(words)
  if (to !== null) go(to)
}

/// What a key zooms about: the hand's aim, or the stage's middle.
const middleOfInterest = ({ placing: { active, aim }, toStage, stage }: BenchNow): Point =>
  active ? applyAffine(toStage, aim) : [stage.width / 2, stage.height / 2]

function bringToSight({ setView, film, mirrored, stage }: BenchNow, at: Point): void {
  setView((v) => bringIn(v, applyAffine(viewAffine(v, film, mirrored), at), stage, 24))
}

/// Moves what the arrows lead, else the hand's aim; it stays in sight. `by` is as seen, picture pixels.
function nudge(now: BenchNow, [dx, dy]: Point): void {
  const by: Point = [now.mirrored ? -dx : dx, dy]
  bringToSight(now, now.held.leadBy(by) ?? now.placing.nudge(by))
}

/// The next point in turn; behind the last one what is to be said of all, and of placings that lie far from the others.
function nextTurn({ placing, measures, clip, subject, frame, lead, say, setSheet }: BenchNow): void {
  const { active } = placing
  if (!active) return
  const over = placing.next()
  if (over === null) return
  const placed = [...new Set(active.turns.map(({ point }) => point))]
  const slipped = subject && measures ? placed.filter((point) => outlyingOf(measures.samples(clip.id, subject, point, frame))) : []
  if (slipped.length === 0) return say(over)
  say(`${over} One placing of ${slipped.map((point) => sayPoint(point, lead)).join(', ')} lies far from the others: look at the points.`)
  setSheet('Points')
}

/// From the innermost thing outward: what is moved, drawn, followed or suggested; then the sheet, then the guide.
function leaveOff({ held, following, suggesting, sheet, setSheet, placing }: BenchNow, { giveUp }: Around): void {
  if (held.takeBack() || giveUp() || following.leave() || suggesting.drop(null)) return
  if (sheet) setSheet(null)
  else placing.leave()
}

function takeNextInHand({ onStage, held, lead, say }: BenchNow): void {
  const names = onStage.map(({ name }) => name)
  const next = held.name === null ? names[0] : names[names.indexOf(held.name) + 1]
  held.hold(next ?? null)
  say(next ? `In hand: ${sayPoint(next, lead)}.` : 'All points of the frame are in hand.')
}

function leadByArrows(now: BenchNow): void {
  const { points, held, readOnly, isWhole, say, setSpeed } = now
  const point = points.find(({ name }) => name === held.name)
  if (!point || readOnly || !isWhole()) return say(isWhole() ? 'Take a point in hand first: N.' : 'The whole picture is coming …')
  setSpeed(0)
  held.lead(point.name)
  bringToSight(now, point.at)
}

function copyOn({ project, clip, placesFor: subject, frame, go }: BenchNow): void {
  if (subject === null || frame + 1 >= clip.to) return
  void project.edit((state) => copyPoints(state, project.shown().breakdown, { clip: clip.id, subject, frame }, frame + 1))
  go(frame + 1)
}

/// What a model suggests of the points in hand, where it does; else what was copied or followed there.
function accept({ project, clip, placesFor: subject, frame, marked, heldPoints, suggesting }: BenchNow): void {
  if (subject === null) return
  const on = { clip: clip.id, subject, frame }
  const taken = marked?.points.filter(({ point }) => heldPoints.includes(point)) ?? []
  if (taken.length === 0) return void project.edit((state) => acceptPoints(state, project.shown().breakdown, on, heldPoints))
  void project
    .edit((state) => placeSuggested(state, project.shown().breakdown, on, taken))
    .then((kept) => kept && suggesting.drop(taken.map(({ point }) => point)))
}

function setBeside({ beside, setView, blind, say }: BenchNow): void {
  const isAny = beside.next()
  setView(null)
  if (isAny) return
  say(blind === null ? 'No other clip shares an event with this one.' : 'No clip stands beside this one while an event is marked blind.')
}

function stepOwn({ beside, clip, frame, goByHand }: BenchNow, by: number): void {
  beside.hold(within(clip, frame + by))
  goByHand(frame + by)
}
