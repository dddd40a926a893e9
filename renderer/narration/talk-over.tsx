import { useEffect, useMemo, useRef, useState, type RefObject } from 'react'
import type { FilmFacts } from '../../app/contract/footage-calls'
import { eventFrame } from '../../app/programme/event-frame'
import { speedText } from '../../app/programme/speed-badge'
import type { Breakdown } from '../../app/project/breakdown'
import { exact, type Point } from '../../app/project/fields'
import type { FreeMark, Paragraph } from '../../app/project/picture'
import { useFilmTypeface } from '../player/film-typeface'
import { framesOf } from '../player/films'
import { pointed, toolWords } from '../script/pointing'
import { PointingLayer } from '../script/pointing-layer'
import { clipName } from '../script/clip-name'
import { isGone, programmeOf, shotContextOf } from '../state/programme'
import { useShown } from '../state/use-project'
import { RATE } from './recorder'
import { speedBeside, talkCommandOf, talkSpeeds, talkTools, type TalkCommand, type TalkSpeed, type TalkTool } from './talk-keys'
import { TalkPicture, type Deed, type TalkScene, type TalkShown } from './talk-picture'
import type { Recording } from './use-recording'

interface Props {
  readonly paragraph: Paragraph
  readonly recording: Recording
  /// Where the picture can be asked for what was seen.
  readonly talk: RefObject<TalkPicture | null>
}

/// Where a talk-over begins: with the paragraph's first picture, else the first clip in use, of a film that is there; null
/// where there is none.
function firstPlace(
  breakdown: Breakdown,
  paragraph: Paragraph,
  films: ReadonlyMap<string, FilmFacts>,
): { readonly clip: string; readonly frame: number } | null {
  const there = new Map(breakdown.clips.filter(({ footage }) => !isGone(films.get(footage))).map((clip) => [clip.id, clip]))
  for (const shot of paragraph.shots ?? []) {
    if ('run' in shot && there.has(shot.run)) return { clip: shot.run, frame: shot.from }
    if ('hold' in shot && there.has(shot.hold)) return { clip: shot.hold, frame: shot.at }
  }
  const clip = [...there.values()].find(({ use }) => use?.state !== 'rejected')
  return clip ? { clip: clip.id, frame: clip.from } : null
}

/// The picture under the hands, and what can be done to it by key, button or dragging, while a take is recorded and
/// before.
export function TalkOver({ paragraph, recording, talk }: Props) {
  const { breakdown, tables, films, readings, takes } = useShown()
  const typeface = useFilmTypeface()
  const canvas = useRef<HTMLCanvasElement>(null)
  const [standing, setStanding] = useState<TalkShown | null>(null)
  const [speed, setSpeed] = useState<TalkSpeed>('1')
  const [tool, setTool] = useState<TalkTool>('arrow')
  const [byKey, setByKey] = useState(false)
  const start = useMemo(() => breakdown && firstPlace(breakdown, paragraph, films), [films])
  const scene = useMemo((): TalkScene | null => {
    const laid = programmeOf({ breakdown, tables, films, readings, takes }, typeface)
    const first = breakdown?.clips.find(({ id }) => id === start?.clip)
    if (!laid || !breakdown || !typeface || !first || !tables.has(first.footage)) return null
    return {
      hand: { shots: shotContextOf({ breakdown, tables, films }, typeface), sampleRate: RATE },
      draw: laid.context,
      framesOf: (footage) => framesOf(footage, { films, tables }),
    }
  }, [breakdown, tables, films, readings, takes, typeface, start])
  const ready = scene !== null
  useEffect(() => {
    if (!canvas.current || !scene || !start) return
    const opened = new TalkPicture(canvas.current, scene, start, setStanding)
    talk.current = opened
    return () => {
      opened.close()
      talk.current = null
    }
  }, [ready])
  useEffect(() => {
    if (scene) talk.current?.show(scene)
  }, [scene])
  const { state, samples } = recording
  useEffect(() => {
    if (state === 'counting') talk.current?.do({ does: 'stop' })
    else if (state === 'recording') talk.current?.begin(samples)
    else if (state === 'idle') talk.current?.leave()
  }, [state])

  const runs = standing !== null && standing.speed !== null
  const isFree = state === 'idle' || state === 'recording'
  const deed = (made: Deed): void => {
    if (isFree || (state === 'counting' && made.does !== 'run')) talk.current?.do(made)
  }
  const command = (asked: TalkCommand): void => {
    const here = talk.current?.place()
    const clip = breakdown?.clips.find(({ id }) => id === here?.clip)
    if (!here || !clip || !breakdown) return
    if (asked.do === 'run') deed(runs ? { does: 'stop' } : { does: 'run', speed })
    else if (asked.do === 'speed') {
      const next = speedBeside(speed, asked.way)
      setSpeed(next)
      if (runs) deed({ does: 'run', speed: next })
    } else if (asked.do === 'step') deed({ does: 'step', by: asked.by })
    else if (asked.do === 'end') deed({ does: 'show', clip: clip.id, frame: asked.to === 'first' ? clip.from : clip.to - 1 })
    else if (asked.do === 'event') {
      const events = (breakdown.events ?? [])
        .filter((event) => event.clip === clip.id)
        .map(eventFrame)
        .sort((a, b) => a - b)
      const frame = asked.way > 0 ? events.find((at) => at > here.frame) : events.findLast((at) => at < here.frame)
      if (frame !== undefined) deed({ does: 'show', clip: clip.id, frame })
    } else if (asked.do === 'clip') {
      const used = breakdown.clips.filter(({ use, footage }) => use?.state !== 'rejected' && tables.has(footage))
      const next = used[(used.findIndex(({ id }) => id === clip.id) + 1) % used.length]
      if (next && next.id !== clip.id) deed({ does: 'show', clip: next.id, frame: next.from })
    } else if (asked.do === 'clear') deed({ does: 'clear' })
    else if ('tool' in asked) {
      setTool(asked.tool)
      setByKey(true)
    }
  }
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const { target } = event
      if (
        event.ctrlKey ||
        event.metaKey ||
        event.altKey ||
        byKey ||
        target instanceof HTMLInputElement ||
        target instanceof HTMLSelectElement
      )
        return
      if (document.querySelector('dialog[open], [role="dialog"]')) return
      const asked = talkCommandOf(event)
      if (!asked) return
      // Also where a button has the focus, space runs and stops; Enter presses the button.
      event.preventDefault()
      command(asked)
    }
    window.addEventListener('keydown', onKey)
    return () => window.removeEventListener('keydown', onKey)
  })
  const leavePointing = (): void => {
    setByKey(false)
    if (document.activeElement instanceof SVGElement) document.activeElement.blur()
  }
  const drawn = (way: readonly Point[]): void => {
    const picture = talk.current?.picture()
    leavePointing()
    if (!picture || !breakdown) return
    const { marks: _marks, ...bare } = picture.shot.shot as { marks?: unknown } & typeof picture.shot.shot
    const next = pointed(tool, way, picture, bare, breakdown, '')
    const mark = next && 'marks' in next ? (next.marks?.[0] as FreeMark | undefined) : undefined
    if (mark) deed({ does: 'mark', mark })
  }
  if (!breakdown || !start) return <p className="quiet">There is no picture to talk over yet: cut a clip in Footage first.</p>
  const { width, height } = breakdown.output
  return (
    <div className="talk-over">
      <div
        className="screen"
        style={{ aspectRatio: `${width} / ${height}`, width: `min(100%, calc((100vh - 420px) * ${width / height}))` }}
      >
        <canvas
          ref={canvas}
          className="picture"
          width={width}
          height={height}
          role="img"
          aria-label={
            standing
              ? `The picture you talk over: ${clipName(breakdown, standing.clip)}, frame ${standing.frame}, ${runs ? `running at ${standing.speed}` : 'standing'}`
              : 'The picture you talk over'
          }
        />
        <PointingLayer tool={tool} width={width} height={height} keys={byKey} onDrawn={drawn} onEnd={leavePointing} />
      </div>
      <div className="steps" role="group" aria-label="What the picture does">
        <button type="button" title="one frame back: left arrow; ten: page up" onClick={() => command({ do: 'step', by: -1 })}>
          Back
        </button>
        <button type="button" title="space" className="talk-run" disabled={!isFree} onClick={() => command({ do: 'run' })}>
          {runs ? 'Stop here' : 'Run'}
        </button>
        <button type="button" title="one frame on: right arrow; ten: page down" onClick={() => command({ do: 'step', by: 1 })}>
          On
        </button>
        <span role="group" aria-label="Speed" className="talk-choice">
          {talkSpeeds.map((each) => (
            <button
              key={each}
              type="button"
              aria-pressed={each === speed}
              title="slower: minus; faster: plus"
              onClick={() => {
                setSpeed(each)
                if (runs) deed({ does: 'run', speed: each })
              }}
            >
              {speedText(exact(each))}
            </button>
          ))}
        </span>
        <span role="group" aria-label="Draw with" className="talk-choice">
          {talkTools.map((each) => (
            <button
              key={each}
              type="button"
              aria-pressed={each === tool}
              title={`${toolWords[each].how} Key: ${{ arrow: 'A', ring: 'O', line: 'L', path: 'P' }[each]}`}
              onClick={() => setTool(each)}
            >
              {toolWords[each].name}
            </button>
          ))}
        </span>
        <button type="button" title="backspace" disabled={!standing?.marks} onClick={() => command({ do: 'clear' })}>
          Clear
        </button>
        <span className="figures">{standing ? `${clipName(breakdown, standing.clip)}, frame ${standing.frame}` : ''}</span>
      </div>
      <p className="quiet">What you see while it records becomes this paragraph’s pictures when you stop; undo brings back those before.</p>
    </div>
  )
}
