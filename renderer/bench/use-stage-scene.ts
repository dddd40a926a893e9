import { useCallback, useMemo, useState } from 'react'
import { letteringOf } from '../../app/marks/lettering'
import { measureLines, measureOf } from '../../app/marks/shot-scene'
import type { BenchScene } from './bench-painting'
import { aimRadius } from './clip-now'
import { COLUMN, EDGE, edgePlaces, listed, type EdgePlace } from './edge-places'
import { turnOf } from './guide'
import { besideScene } from './beside-scene'
import { SHEET } from './stage-view'
import type { BenchNow } from './use-open-clip'

/// The tools lie so far down upon the stage.
const TOOLS = 56

/// What stands on the stage: the clip's own scene, that of the clip beside, and where readings lie at the picture's edge.
export function useStageScene(now: BenchNow): {
  readonly scene: BenchScene
  readonly other: BenchScene | null
  readonly places: readonly EdgePlace[]
  readonly onTall: (measured: ReadonlyMap<string, number>) => void
} {
  const {
    clip,
    film,
    frame,
    mirrored,
    view,
    toStage,
    stage,
    little,
    here,
    context,
    sheet,
    beside,
    otherFilm,
    breakdown,
    measures,
    subject,
  } = now
  const { active, aim } = now.placing
  const { lock, there } = beside
  const right = stage.width - (sheet && !little ? SHEET : 0)
  // A reading that was left out for want of room keeps the height that it had: else it would come and go.
  const [tall, setTall] = useState<ReadonlyMap<string, number>>(new Map())
  const onTall = useCallback(
    (measured: ReadonlyMap<string, number>) =>
      setTall((before) => ([...measured].some(([id, px]) => before.get(id) !== px) ? new Map([...before, ...measured]) : before)),
    [],
  )
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
      const lines = measure && context && measureLines(measure, shown, context, letteringOf(stage.width, stage.height))
      return { reading, joint: lines?.anchor ?? null, tall: tall.get(reading.id) }
    })
    return little ? listed(joined) : edgePlaces(joined, { width: right, height: stage.height })
  }, [here, context, stage, view, sheet, little, tall])
  const ties = places.flatMap(({ side, top, joint }) =>
    joint ? [[[side === 'left' ? EDGE + COLUMN : right - EDGE - COLUMN, top + 18], joint] as const] : [],
  )
  const underHand = active
    ? { name: turnOf(active).point, at: aim, seen: active.seen, blur: active.blur }
    : (now.points.find(({ name }) => name === now.held.moved) ?? null)
  const scene: BenchScene = {
    film,
    footage: clip.footage,
    frame,
    mirrored,
    view,
    toStage,
    stage,
    density: window.devicePixelRatio,
    ...now.light,
    points: now.onStage,
    lead: now.lead,
    measures: linesOn(now),
    context,
    ties: active || lock || little ? [] : ties,
    smear: now.smear.smear,
    aim: underHand && {
      at: underHand.at,
      radius: measures && subject ? aimRadius(measures, clip.id, subject, underHand) : 10,
      label: underHand.name,
    },
    free: { left: 12, top: little ? 12 : TOOLS, right: (lock ? stage.width / 2 : right) - 12, bottom: stage.height - 12 },
  }
  const other = lock && otherFilm && there !== null ? besideScene(scene, lock.clip, otherFilm, there, breakdown, measures) : null
  return { scene, other, places, onTall }
}

/// Measures whose lines are drawn: those of the frame while the picture stands, and the chosen path wherever it leads through.
function linesOn({ here, frame, speed, blind, chosenMeasure, placing: { active } }: BenchNow): string[] {
  if (active) return []
  const still = speed !== 0 || blind !== null ? [] : here.filter((reading) => reading.frame === frame).map(({ id }) => id)
  const way = chosenMeasure?.kind === 'path' && chosenMeasure.fromFrame <= frame && frame <= chosenMeasure.toFrame
  return way ? [...still, chosenMeasure.id] : still
}
