import { useState, type KeyboardEvent } from 'react'
import { pictureAt } from '../../app/programme/picture-at'
import type { LaidShot } from '../../app/programme/programme'
import type { Point } from '../../app/project/fields'
import { PlayerSlot } from '../player/player-slot'
import type { LaidFilm } from '../state/programme'
import { useProject, usePart } from '../state/use-project'
import { clipName } from './clip-name'
import { MarkList } from './mark-list'
import { drawnAgain, pointed, toolOf, toolWords, waysOn, type Tool } from './pointing'
import { PointingLayer } from './pointing-layer'
import { RunBar } from './run-bar'
import { ShotBar, type HandPanel } from './shot-bar'
import { shotEdits } from './shot-edits'
import { atNextSpeed } from './shot-ends'
import { ShotFields } from './shot-fields'
import { ShotList } from './shot-list'
import { TitleFields } from './title-fields'

interface Props {
  readonly laid: LaidFilm
  readonly paragraph: string
  readonly frame: number
  /// Single frames are shown beside it, instead of the whole paragraph.
  readonly near: boolean
  readonly onNear: (near: boolean) => void
  readonly onFrame: (frame: number) => void
}

/// Keys belong to the field that they are typed in; a slider has none of these.
const isTypedIn = (target: EventTarget): boolean =>
  (target instanceof HTMLInputElement && target.type !== 'range') ||
  target instanceof HTMLTextAreaElement ||
  target instanceof HTMLSelectElement

/// The row in hand: its picture as it will be rendered, steppable, its shots, and what can be done to them.
export function RowInHand({ laid: { programme, context }, paragraph, frame, near, onNear, onFrame }: Props) {
  const project = useProject()
  const breakdown = usePart('breakdown')
  const readings = usePart('readings')
  const readOnly = usePart('readOnly')
  const [playing, setPlaying] = useState(0)
  /// A run goes on through the paragraphs that follow.
  const [onward, setOnward] = useState(false)
  const [panel, setPanel] = useState<HandPanel>('none')
  const [chosen, setChosen] = useState<Tool | null>(null)
  /// The mark that is being drawn again.
  const [redrawn, setRedrawn] = useState<{ readonly paragraph: string; readonly shot: number; readonly mark: number } | null>(null)
  const [word, setWord] = useState('')
  const shots = programme.shots.filter((shot) => shot.paragraph === paragraph)
  const range = programme.paragraphs.find((p) => p.id === paragraph)
  const row = breakdown?.script.find((each) => 'id' in each && each.id === paragraph)
  if (!range || !breakdown || !row || !('id' in row)) return null
  const empty = range.to <= range.from
  const at = Math.max(range.from, Math.min(range.to - 1, frame))
  const shot = shots.find((s) => at >= s.start && at < s.start + s.frames)
  const own = shot && shot.index >= 0 ? row.shots?.[shot.index] : undefined
  const marks = own && !('card' in own) ? (own.marks ?? []) : []
  const again =
    redrawn && redrawn.paragraph === paragraph && redrawn.shot === shot?.index && toolOf(marks[redrawn.mark]) !== null ? redrawn.mark : null
  const tool = again === null ? chosen : toolOf(marks[again])
  const setTool = (next: Tool | null): void => {
    setRedrawn(null)
    setChosen(next)
  }
  const drawAgain = (mark: number | null): void => {
    setChosen(null)
    setRedrawn(mark === null || !shot ? null : { paragraph, shot: shot.index, mark })
  }
  const footage = shot?.panels[0]
  const footageFrame = footage && shot ? (footage.frames[at - shot.start] ?? null) : null

  const step = (by: number): void => onFrame(Math.max(range.from, Math.min(range.to - 1, at + by)))
  const run = (speed: number, on = false): void => {
    if (playing !== 0) return setPlaying(0)
    if (speed > 0 && !on && at === range.to - 1) onFrame(range.from)
    setOnward(on)
    setPlaying(speed)
  }
  const { change, add, cut, move, moveTo, hasBeside, remove } = shotEdits(
    project,
    { breakdown, row, shot, own, at: at - (shot?.start ?? 0), rate: programme.rate },
    () => setPanel('change'),
  )
  const drawn = (way: readonly Point[]): void => {
    if (!own || !tool) return
    const picture = pictureAt(programme, at)
    const next = again === null ? pointed(tool, way, picture, own, breakdown, word) : drawnAgain(again, way, picture, own, breakdown)
    if (next) void change(again === null ? toolWords[tool].label : 'Draw a mark again', next)
  }
  const onKey = (event: KeyboardEvent): void => {
    if (isTypedIn(event.target)) return
    if (event.key === ' ' && (event.ctrlKey || event.shiftKey || !(event.target instanceof HTMLButtonElement))) {
      event.preventDefault()
      return run(event.shiftKey ? 0.5 : 1, event.ctrlKey)
    }
    const faster = { '+': 1, '-': -1 }[event.key] as 1 | -1 | undefined
    const sped = own && faster && !readOnly && atNextSpeed(own, faster)
    if (sped) return void change(faster > 0 ? 'Run faster' : 'Run slower', sped)
    if (event.key === 'x' && !event.ctrlKey && !event.metaKey && !readOnly) return cut()
    if (event.key === 'n' && !event.ctrlKey && !event.metaKey) return onNear(!near)
    const by = { ArrowLeft: -1, ArrowRight: 1, PageUp: -10, PageDown: 10 }[event.key]
    if (by === undefined || event.altKey) return
    event.preventDefault()
    step(by)
  }
  const show = (next: HandPanel): void => {
    setTool(null)
    setPanel(panel === next ? 'none' : next)
  }
  return (
    <div className="hand-pictures" onKeyDown={onKey}>
      {empty ? (
        <div className="screen screen-empty">
          <p>
            Nothing is shown here yet.{' '}
            {breakdown.clips.length > 0 ? 'Add a shot below.' : 'Cut a clip in Footage first; a card needs none.'}
          </p>
        </div>
      ) : (
        <div
          className="screen"
          style={{
            aspectRatio: `${programme.width} / ${programme.height}`,
            width: `min(100%, ${((panel === 'none' ? 54 : 44) * programme.width) / programme.height}vh)`,
          }}
        >
          <PlayerSlot
            programme={programme}
            context={context}
            frame={at}
            playing={playing}
            from={range.from}
            to={onward && playing !== 0 ? programme.frames : range.to}
            onFrame={onFrame}
            onPlaying={setPlaying}
          />
          {tool && own && (
            <PointingLayer
              key={again}
              tool={tool}
              width={programme.width}
              height={programme.height}
              onDrawn={drawn}
              onEnd={() => setTool(null)}
              targets={tool === 'trail' ? waysOn(pictureAt(programme, at), breakdown) : []}
            />
          )}
        </div>
      )}
      {!empty && (
        <RunBar
          range={range}
          at={at}
          rate={programme.rate}
          running={playing !== 0}
          near={near}
          onStep={step}
          onRun={run}
          onFrame={onFrame}
          onNear={onNear}
        >
          {footage && footageFrame !== null ? `${clipName(breakdown, footage.clip)}, frame ${footageFrame}` : ''}
        </RunBar>
      )}
      {!readOnly && (
        <ShotBar
          breakdown={breakdown}
          own={own}
          panel={panel}
          hasBeside={hasBeside}
          onAdd={add}
          onPanel={show}
          onCut={cut}
          onMoveTo={(by) => shot && moveTo(shot.index, by)}
          onDelete={() => remove(shot?.index ?? -1)}
        />
      )}
      {panel === 'change' && own && (
        <ShotFields
          key={`${paragraph} ${shot?.index}`}
          shot={own}
          breakdown={breakdown}
          readings={readings}
          shown={
            footage && (('run' in own && own.run === footage.clip) || ('hold' in own && own.hold === footage.clip)) ? footageFrame : null
          }
          onChange={change}
        />
      )}
      {panel === 'point' && own && !('card' in own) && (
        <MarkList
          shot={own}
          breakdown={breakdown}
          readings={readings}
          tool={tool}
          onTool={setTool}
          again={again}
          onAgain={drawAgain}
          word={word}
          onWord={setWord}
          onChange={change}
        />
      )}
      {panel === 'names' && <TitleFields key={paragraph} row={row} />}
      {shots.length > 0 && (
        <ShotList
          programme={programme}
          paragraph={paragraph}
          shots={shots}
          shown={shot}
          readOnly={readOnly}
          onPick={(picked: LaidShot) => onFrame(picked.start)}
          onMove={move}
          onMoveTo={moveTo}
          onDelete={remove}
        />
      )}
    </div>
  )
}
