import { ArrowDownToLine, ArrowUpToLine, ChevronLeft, ChevronRight, Trash2 } from 'lucide-react'
import { useState, type KeyboardEvent } from 'react'
import { pictureAt } from '../../app/programme/picture-at'
import type { LaidShot } from '../../app/programme/programme'
import type { Point } from '../../app/project/fields'
import type { Shot } from '../../app/project/picture'
import { PlayerSlot } from '../player/player-slot'
import type { LaidFilm } from '../state/programme'
import { useProject, usePart } from '../state/use-project'
import { TextField } from '../sheets/fields'
import { MarkList } from './mark-list'
import { drawnAgain, pointed, toolOf, toolWords, waysOn, type Tool } from './pointing'
import { PointingLayer } from './pointing-layer'
import { changeShot, changeShots, moveShot, moveShotTo, newShot, redone, setTitle, type ShotKind } from './shot-changes'
import { atNextSpeed, cutInTwo } from './shot-ends'
import { clipName } from './clip-name'
import { ShotFields } from './shot-fields'
import { ShotList } from './shot-list'
import { clock } from './shot-words'

interface Props {
  readonly laid: LaidFilm
  readonly paragraph: string
  readonly frame: number
  /// Single frames are shown beside it, instead of the whole paragraph.
  readonly near: boolean
  readonly onNear: (near: boolean) => void
  readonly onFrame: (frame: number) => void
}

/// How a picture runs besides forwards at full speed: times full speed, and whether past the paragraph's end.
const ways = { half: [0.5, false], back: [-1, false], on: [1, true] } as const

type Panel = 'none' | 'change' | 'point' | 'names'

/// The row in hand: its picture as it will be rendered, steppable, its shots, and what can be done to them.
export function RowInHand({ laid: { programme, context }, paragraph, frame, near, onNear, onFrame }: Props) {
  const project = useProject()
  const breakdown = usePart('breakdown')
  const readings = usePart('readings')
  const readOnly = usePart('readOnly')
  const [playing, setPlaying] = useState(0)
  /// A run goes on through the paragraphs that follow.
  const [onward, setOnward] = useState(false)
  const [panel, setPanel] = useState<Panel>('none')
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
  const change = async (label: string, next: Shot): Promise<void> => {
    const index = shot?.index ?? -1
    if (index >= 0 && own) await project.edit((state) => changeShot(state, paragraph, label, index, own, (now) => [redone(own, next, now)]))
  }
  const add = (kind: ShotKind): void => {
    const made = newShot(kind, breakdown, own)
    const index = shot && shot.index >= 0 ? shot.index + 1 : (row.shots?.length ?? 0)
    if (made)
      void project
        .edit((state) => changeShots(state, paragraph, `Add a ${kind}`, (all) => all.toSpliced(index, 0, made)))
        .then((done) => done && setPanel('change'))
  }
  const move = (from: number, to: number): void => {
    const seen = row.shots?.[from]
    if (seen && to >= 0 && to < (row.shots?.length ?? 0) && from !== to)
      void project.edit((state) => moveShot(state, paragraph, from, seen, to))
  }
  const paragraphs = breakdown.script.flatMap((each) => ('text' in each ? [each.id] : []))
  const beside = (by: -1 | 1): string | undefined => paragraphs[paragraphs.indexOf(paragraph) + by]
  // What comes from behind goes first there, what comes from before last: the film's order changes as little as it can.
  const moveTo = (index: number, by: -1 | 1): boolean => {
    const [seen, to] = [row.shots?.[index], beside(by)]
    if (!seen || to === undefined) return false
    void project.edit((state) => moveShotTo(state, paragraph, index, to, by > 0, seen))
    return true
  }
  const remove = (index: number): void => {
    const seen = row.shots?.[index]
    if (seen) void project.edit((state) => changeShot(state, paragraph, 'Delete the shot', index, seen, () => []))
  }
  const cut = (): void => {
    const two = own && shot && cutInTwo(own, shot, at - shot.start, programme.rate)
    if (two)
      void project.edit((state) =>
        changeShot(state, paragraph, 'Cut the shot in two', shot.index, own, (now) => two.map((half) => redone(own, half, now))),
      )
  }
  const drawn = (way: readonly Point[]): void => {
    if (!own || !tool) return
    const picture = pictureAt(programme, at)
    const next = again === null ? pointed(tool, way, picture, own, breakdown, word) : drawnAgain(again, way, picture, own, breakdown)
    if (next) void change(again === null ? toolWords[tool].label : 'Draw a mark again', next)
  }
  const onKey = (event: KeyboardEvent): void => {
    if (
      (event.target instanceof HTMLInputElement && event.target.type !== 'range') ||
      event.target instanceof HTMLTextAreaElement ||
      event.target instanceof HTMLSelectElement
    )
      return
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
  const show = (next: Panel): void => {
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
        <div className="steps">
          <button type="button" onClick={() => step(-1)} title="one frame back: left arrow; ten: page up" aria-label="One frame back">
            <ChevronLeft size={16} aria-hidden="true" />
          </button>
          <button type="button" onClick={() => run(1)} title="run, or pause: space">
            {playing === 0 ? 'Run' : 'Pause'}
          </button>
          <button type="button" onClick={() => step(1)} title="one frame on: right arrow; ten: page down" aria-label="One frame on">
            <ChevronRight size={16} aria-hidden="true" />
          </button>
          <select
            aria-label="Run otherwise"
            value=""
            disabled={playing !== 0}
            onChange={(event) => run(...(ways[event.target.value as keyof typeof ways] as readonly [number, boolean]))}
            onKeyDown={(event) => event.stopPropagation()}
          >
            <option value="" disabled>
              otherwise
            </option>
            <option value="half">at half speed</option>
            <option value="back">backwards</option>
            <option value="on">on to the film’s end</option>
          </select>
          <input
            type="range"
            min={range.from}
            max={range.to - 1}
            value={at}
            onChange={(event) => onFrame(Number(event.target.value))}
            aria-label="Place in this paragraph"
          />
          <button type="button" aria-pressed={near} onClick={() => onNear(!near)} title="single frames in the time beside: N">
            Frames
          </button>
          <span className="figures">
            <strong>{clock(at, programme.rate)}</strong>{' '}
            {footage && footageFrame !== null ? `${clipName(breakdown, footage.clip)}, frame ${footageFrame}` : ''}
          </span>
        </div>
      )}
      {!readOnly && (
        <div className="shot-bar">
          <select
            aria-label="Add a shot"
            value=""
            onChange={(event) => add(event.target.value as ShotKind)}
            onKeyDown={(event) => event.stopPropagation()}
          >
            <option value="" disabled>
              Add a shot …
            </option>
            {newShot('run', breakdown, own) && <option value="run">run: a clip at a speed</option>}
            {newShot('hold', breakdown, own) && <option value="hold">hold: one frame, frozen</option>}
            {newShot('pair', breakdown, own) && <option value="pair">pair: two to four clips in step</option>}
            <option value="card">card: words</option>
          </select>
          {own && (
            <button type="button" aria-expanded={panel === 'change'} onClick={() => show('change')}>
              Change
            </button>
          )}
          {own && !('pair' in own) && (
            <button type="button" onClick={cut} title="cut the shot in two before this frame: X">
              Cut
            </button>
          )}
          {own && !('card' in own) && (
            <button type="button" aria-expanded={panel === 'point'} onClick={() => show('point')}>
              Point
            </button>
          )}
          <button type="button" aria-expanded={panel === 'names'} onClick={() => show('names')}>
            Names
          </button>
          {own &&
            shot &&
            ([-1, 1] as const).map((by) => (
              <button
                key={by}
                type="button"
                className="small"
                disabled={beside(by) === undefined}
                title={`to the paragraph ${by < 0 ? 'before: Alt+Up' : 'after: Alt+Down'} on the shot`}
                aria-label={`Move the shot to the paragraph ${by < 0 ? 'before' : 'after'}`}
                onClick={() => moveTo(shot.index, by)}
              >
                {by < 0 ? <ArrowUpToLine size={16} aria-hidden="true" /> : <ArrowDownToLine size={16} aria-hidden="true" />}
              </button>
            ))}
          {own && (
            <button
              type="button"
              className="small"
              title="delete the shot: Delete"
              aria-label="Delete the shot"
              onClick={() => remove(shot?.index ?? -1)}
            >
              <Trash2 size={16} aria-hidden="true" />
            </button>
          )}
        </div>
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
      {panel === 'names' && (
        <div key={paragraph} className="fields" role="group" aria-label="Names over the first shot">
          <TextField
            label="Name, over the first shot"
            value={row.title?.name ?? ''}
            size={22}
            onSet={(name) => project.edit((state) => setTitle(state, paragraph, name, name === '' ? '' : (row.title?.line ?? '')))}
          />
          {row.title && (
            <TextField
              label="Line beneath it"
              value={row.title.line ?? ''}
              size={26}
              onSet={(line) => project.edit((state) => setTitle(state, paragraph, row.title?.name ?? '', line))}
            />
          )}
        </div>
      )}
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
