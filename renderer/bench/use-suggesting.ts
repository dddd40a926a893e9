import { useEffect, useRef, useState } from 'react'
import { definitionOf } from '../../app/body/body-points'
import { offered, type SuggestedPoint } from '../../app/track/suggester'
import type { FilmFrames } from '../player/film-frames'
import { startSuggester, type RunningSuggester } from './suggester-worker'

/// What a model suggested on one frame for one subject: shown, never stored, until it is accepted.
export interface Suggested {
  readonly by: string
  readonly frame: number
  readonly subject: string
  readonly points: readonly SuggestedPoint[]
}

/// Asks the pose model, where there is one, for the points of a frame. Nothing of its answer is kept here beyond what is shown.
export function useSuggesting(film: FilmFrames, say: (words: string) => void) {
  const [suggested, setSuggested] = useState<Suggested | null>(null)
  const model = useRef<Promise<RunningSuggester | null> | null>(null)
  useEffect(
    () => () => {
      void model.current?.then(
        (one) => one?.end(),
        () => undefined,
      )
      model.current = null
    },
    [],
  )

  /// `placed`: points that stand on the frame already, for which nothing is suggested.
  const ask = async (frame: number, subject: string, placed: ReadonlySet<string>): Promise<void> => {
    const taken = film.take(frame)
    if (taken?.detail !== 'full') return say('The whole picture is coming …')
    try {
      const picture = await createImageBitmap(taken.picture)
      const one = await (model.current ??= startSuggester())
      if (!one) {
        picture.close()
        return say('No pose model is built in: place the points by hand.')
      }
      const said = await one.suggest(picture)
      const points = offered(said, film, (point) => definitionOf(point) !== null).filter(({ point }) => !placed.has(point))
      setSuggested(points.length > 0 ? { by: one.name, frame, subject, points } : null)
      say(
        points.length > 0
          ? `${one.name} suggests ${points.length === 1 ? 'one point' : `${points.length} points`}. Look at each; A accepts the one in hand, or all. None counts before.`
          : `${one.name} suggests no further point here.`,
      )
    } catch {
      void model.current?.then(
        (one) => one?.end(),
        () => undefined,
      )
      model.current = null
      setSuggested(null)
      say('The pose model failed. Place the points by hand.')
    }
  }
  /// Takes points off what is suggested: accepted, or all of it given up (null). Answers whether there was anything.
  const drop = (points: readonly string[] | null): boolean => {
    if (!suggested) return false
    // Of what is suggested now: what was given up meanwhile does not come back.
    setSuggested((now) => {
      const left = points === null || !now ? [] : now.points.filter(({ point }) => !points.includes(point))
      return now && left.length > 0 ? { ...now, points: left } : null
    })
    return true
  }
  return { suggested, ask, drop }
}
