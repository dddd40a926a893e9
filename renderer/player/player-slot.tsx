import { useEffect, useMemo, useRef } from 'react'
import type { DrawContext } from '../../app/marks/draw-context'
import type { Programme } from '../../app/programme/programme'
import { usePart } from '../state/use-project'
import { framesOf } from './films'
import { ProgrammePlayer } from './programme-player'
import type { FilmFrames } from './film-frames'

export interface PlayerSlotProps {
  readonly programme: Programme
  readonly context: DrawContext
  /// The output frame that is shown.
  readonly frame: number
  /// Multiple of full speed at which it runs, backwards when negative; 0: it stands.
  readonly playing: number
  /// The output frames that a run keeps to, from included, to excluded; all of them when absent.
  readonly from?: number
  readonly to?: number
  readonly onFrame: (frame: number) => void
  readonly onPlaying: (speed: number) => void
}

/// The programme as it will be rendered: exact frames, marks and labels from the render's own description, in one
/// canvas.
export function PlayerSlot({ programme, context, frame, playing, from = 0, to = programme.frames, onFrame, onPlaying }: PlayerSlotProps) {
  const films = usePart('films')
  const tables = usePart('tables')
  const canvas = useRef<HTMLCanvasElement>(null)
  const player = useRef<ProgrammePlayer | null>(null)
  const tell = useRef({ onFrame, onPlaying })
  tell.current = { onFrame, onPlaying }
  const used = useMemo(() => {
    const found = new Map<string, FilmFrames>()
    for (const { panels } of programme.shots)
      for (const { footage } of panels) {
        const frames = found.has(footage) ? null : framesOf(footage, { films, tables })
        if (frames) found.set(footage, frames)
      }
    return found
  }, [programme, films, tables])

  useEffect(() => {
    if (!canvas.current) return
    const opened = new ProgrammePlayer(canvas.current, { frame: (at) => tell.current.onFrame(at), ended: () => tell.current.onPlaying(0) })
    player.current = opened
    return () => {
      opened.close()
      player.current = null
    }
  }, [])
  useEffect(() => player.current?.goTo(frame), [frame])
  useEffect(() => player.current?.show({ programme, context }, used, [from, to]), [programme, context, used, from, to])
  useEffect(() => player.current?.run(playing), [playing])

  const shot = programme.shots.find((s) => frame >= s.start && frame < s.start + s.frames)
  return (
    <canvas
      ref={canvas}
      className="picture"
      width={programme.width}
      height={programme.height}
      role="img"
      aria-label={`Programme frame ${frame}: ${shot?.kind ?? ''} ${shot?.badges.join(', ') ?? ''}`}
    />
  )
}
