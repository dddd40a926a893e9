import { memo, useEffect, useState, type ReactNode } from 'react'
import type { LaidParagraph, LaidShot, Programme } from '../../app/programme/programme'
import type { Thread } from '../../app/programme/threads'
import { toNumber } from '../../app/time/rational'
import { secondsOf } from '../../app/time/ticks'
import type { LaidFilm } from '../state/programme'
import { clock, shotName } from './shot-words'
import { waveOf, waveStrokes } from './wave'

interface Props {
  readonly laid: LaidFilm
  readonly paragraph: string
  readonly top: number
  readonly height: number
  readonly onGo: (frame: number) => void
}

export const BAR = { left: 36, width: 32 }
const WORDS = { left: 108, width: 32 }
const WIDTH = 156

/// A paragraph's stretch of time, running down beside its row: shots left, words right, to one scale; a thread across
/// from each cue's word to its picture. Threads that are not level are said in words below the row's own, so that readers of
/// screens pass it by.
export const Spine = memo(function Spine({ laid, paragraph, top, height, onGo }: Props) {
  const range = laid.programme.paragraphs.find((p) => p.id === paragraph)
  if (!range || range.to <= range.from) return null
  const scale = scaleOf(range.from, range.to, height - 16)
  return (
    <Stretch laid={laid} paragraph={range} top={top + 8} scale={scale}>
      {laid.programme.shots
        .filter((shot) => shot.paragraph === paragraph)
        .map((shot) => (
          <Bar key={shot.start} shot={shot} scale={scale} onGo={() => onGo(shot.start)} />
        ))}
    </Stretch>
  )
})

/// Output frames from `from` to `to` laid down over `height` px.
export interface Scale {
  readonly from: number
  readonly to: number
  readonly height: number
  readonly y: (frame: number) => number
}

export const scaleOf = (from: number, to: number, height: number): Scale => ({
  from,
  to,
  height,
  y: (frame) => (height * (frame - from)) / (to - from),
})

interface StretchProps {
  readonly laid: LaidFilm
  readonly paragraph: LaidParagraph
  readonly top: number
  readonly scale: Scale
  readonly children: ReactNode
}

/// What every stretch shows beside its shots: clock, words, threads.
export function Stretch({ laid: { programme, threads }, paragraph, top, scale, children }: StretchProps) {
  const { y, height } = scale
  const own = threads.filter((thread) => thread.paragraph === paragraph.id && thread.said >= scale.from && thread.said <= scale.to)
  return (
    <div className="stretch" style={{ top, height }}>
      <span className="stretch-time">{clock(scale.from, programme.rate)}</span>
      {height > 320 && (
        <span className="stretch-time" style={{ top: height / 2 - 8 }}>
          {clock(Math.round((scale.from + scale.to) / 2), programme.rate)}
        </span>
      )}
      {children}
      <Words laid={paragraph} top={y(wordsStart(paragraph, programme))} bottom={y(wordsEnd(paragraph, programme))} />
      <svg className="threads" width={WIDTH} height={height} viewBox={`0 0 ${WIDTH} ${height}`}>
        {own.map((thread) => (
          <ThreadLine
            key={`${thread.event}-${thread.said}`}
            thread={thread}
            said={clamp(y(thread.said), height)}
            shown={thread.shown === null ? null : clamp(y(thread.shown), height)}
          />
        ))}
      </svg>
    </div>
  )
}

const clamp = (y: number, height: number): number => Math.max(5, Math.min(height - 5, y))
const wordsStart = ({ words }: LaidParagraph, { rate }: Programme): number => toNumber(secondsOf(words.from)) * toNumber(rate)
const wordsEnd = ({ words }: LaidParagraph, { rate }: Programme): number => toNumber(secondsOf(words.to)) * toNumber(rate)

/// One shot in time.
function Bar({ shot, scale: { y, height: whole }, onGo }: { readonly shot: LaidShot; readonly scale: Scale; readonly onGo: () => void }) {
  const name = shot.badges.includes('frozen') ? 'frozen' : shotName(shot)
  const top = Math.max(0, y(shot.start))
  const height = Math.max(2, Math.min(whole, y(shot.start + shot.frames)) - top - 2)
  return (
    <div className={`bar bar-${shot.kind}`} style={{ left: BAR.left, width: BAR.width, top, height }} onClick={onGo} title={name}>
      {height > 56 && <span>{name}</span>}
    </div>
  )
}

/// The narration: its loudness where it is recorded, hatched where its length is an estimate.
function Words({ laid, top, bottom }: { readonly laid: LaidParagraph; readonly top: number; readonly bottom: number }) {
  const [wave, setWave] = useState<Float32Array | null>(null)
  useEffect(() => {
    let here = true
    setWave(null)
    if (laid.take !== null) void waveOf(laid.take).then((read) => here && setWave(read))
    return () => {
      here = false
    }
  }, [laid.take])
  const height = bottom - top
  if (height <= 0) return null
  return (
    <div
      className={laid.words.estimated ? 'spoken estimated' : 'spoken'}
      style={{ left: WORDS.left, width: WORDS.width, top, height }}
      title={laid.words.estimated ? 'how long the words would take, by estimate' : 'the narration'}
    >
      {wave && (
        <svg width={WORDS.width} height={height} viewBox={`0 0 ${WORDS.width} ${height}`}>
          <path d={waveStrokes(wave, height, WORDS.width)} />
        </svg>
      )}
    </div>
  )
}

function ThreadLine({ thread, said, shown }: { readonly thread: Thread; readonly said: number; readonly shown: number | null }) {
  const [right, left] = [WORDS.left + 1, BAR.left + BAR.width + 1]
  if (shown === null)
    return (
      <g className="thread off">
        <circle cx={right} cy={said} r={3.5} />
        <path d={`M${right - 4} ${said}H${right - 12}`} />
      </g>
    )
  if (thread.late === 0)
    return (
      <g className="thread">
        <path d={`M${right} ${said}L${left + 5} ${shown}`} />
        <path className="head" d={`M${left + 6} ${shown - 4}l-6 4l6 4z`} />
        <circle className="dot" cx={right} cy={said} r={3.5} />
      </g>
    )
  return (
    <g className="thread off">
      <path d={`M${right - 4} ${said}C${right - 22} ${said} ${left + 22} ${shown} ${left} ${shown}`} />
      <circle cx={right} cy={said} r={3.5} />
    </g>
  )
}
