import { useEffect, useMemo, useRef, useState } from 'react'
import { keptAddress } from '../../app/contract/addresses'
import type { DrawContext } from '../../app/marks/draw-context'
import { pictureOfShot } from '../../app/programme/picture-at'
import type { Picture } from '../../app/programme/programme'
import type { Breakdown, Output } from '../../app/project/breakdown'
import { stillsBreakdown, type EvidenceStill } from '../../app/release/evidence-still'
import { keptStill } from '../../app/release/support'
import type { FilmFrames } from '../player/film-frames'
import { useFilmTypeface } from '../player/film-typeface'
import { framesOf } from '../player/films'
import { paintPicture } from '../player/paint-picture'
import { clipAt } from '../script/clip-name'
import { isGone, programmeOf } from '../state/programme'
import { useShown } from '../state/use-project'

/// The longer side that a picture is painted with, px: twice what it is shown with.
const LONGER_SIDE = 480

/// Pictures of what a sentence rests on, by their stills' names, as the film would hold them; and the films that they are of.
export interface LaidStills {
  readonly pictures: ReadonlyMap<string, Picture>
  readonly context: DrawContext
  readonly films: ReadonlyMap<string, FilmFrames>
}

/// Lays out stills by the film's own rules and has their frames decoded, theirs alone. Null until the type face is there; a
/// still whose film is not there or not read yet has no picture.
export function useLaidStills(stills: readonly EvidenceStill[]): LaidStills | null {
  const { breakdown, films, tables, readings } = useShown()
  const typeface = useFilmTypeface()
  const laid = useMemo(() => {
    if (!breakdown || !typeface) return null
    const drawable = stills.filter(({ clip, frame }) => {
      const footage = clipAt(breakdown, clip)?.footage ?? ''
      return films.get(footage)?.state === 'ready' && frame < (tables.get(footage)?.pts.length ?? 0)
    })
    const small: Breakdown = { ...breakdown, output: atMost(breakdown.output) }
    const programme = programmeOf({ breakdown: stillsBreakdown(small, drawable), films, tables, readings, takes: new Map() }, typeface)
    if (!programme) return null
    // The first shot is a card that every film begins with.
    const pictures = new Map(
      drawable.flatMap(({ name }, i) => {
        const shot = programme.programme.shots[i + 1]
        return shot ? [[name, pictureOfShot(shot, shot.frames - 1)] as const] : []
      }),
    )
    const used = new Map(
      [...pictures.values()].flatMap(({ panels }) =>
        panels.flatMap(({ footage }) => {
          const frames = framesOf(footage, { films, tables })
          return frames ? [[footage, frames] as const] : []
        }),
      ),
    )
    return { pictures, context: programme.context, films: used }
  }, [breakdown, films, tables, readings, typeface, stills])
  useEffect(() => {
    for (const [footage, frames] of laid?.films ?? [])
      frames.look(
        [...(laid?.pictures.values() ?? [])].flatMap(({ panels }) =>
          panels.flatMap((panel) => (panel.footage === footage ? [panel.frame] : [])),
        ),
        { whole: false, ahead: false },
      )
    return () => {
      for (const frames of laid?.films.values() ?? []) frames.look([], { whole: false, ahead: false })
    }
  }, [laid])
  return laid
}

/// One frame with its marks: decoded here, or where its film is not there as a published version kept it.
export function EvidencePicture({ still, laid }: { readonly still: EvidenceStill; readonly laid: LaidStills | null }) {
  const { breakdown, films } = useShown()
  const picture = laid?.pictures.get(still.name)
  const film = films.get((breakdown && clipAt(breakdown, still.clip)?.footage) ?? '')
  if (laid && picture) return <Painted picture={picture} laid={laid} frame={still.frame} />
  if (!breakdown || (film && !isGone(film)))
    return <span className="no-still">{film?.state === 'reading' ? 'the film is being read' : ''}</span>
  const kept = keptStill(still, breakdown)
  return kept ? <img src={keptAddress(kept.release.id, kept.name)} alt="" /> : <span className="no-still">the film is not there</span>
}

/// A picture as the film shows it, painted again when its frames come. `frame` is told of what is painted.
export function Painted({
  picture,
  laid,
  frame,
}: {
  readonly picture: Picture
  readonly laid: Pick<LaidStills, 'context' | 'films'>
  readonly frame: number
}) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const [missing, setMissing] = useState(true)
  useEffect(() => {
    const paint = (): void => {
      const surface = canvas.current?.getContext('2d')
      if (surface)
        setMissing(paintPicture(surface, picture, laid.context, (footage) => laid.films.get(footage) ?? null, false) === 'missing')
    }
    const stops = picture.panels.flatMap(
      (panel) => laid.films.get(panel.footage)?.listen((ready) => ready === panel.frame && paint()) ?? [],
    )
    paint()
    return () => stops.forEach((stop) => stop())
  }, [picture, laid])
  return <canvas ref={canvas} width={laid.context.width} height={laid.context.height} data-frame={missing ? undefined : frame} />
}

/// The film's canvas made small, in even pixels.
function atMost(output: Output): Output {
  const by = Math.min(1, LONGER_SIDE / Math.max(output.width, output.height))
  const even = (side: number): number => Math.max(16, 2 * Math.round((side * by) / 2))
  return { ...output, width: even(output.width), height: even(output.height) }
}
