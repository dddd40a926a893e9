import { useEffect, useRef, useState } from 'react'
import type { Side } from '../../app/body/landmark-name'
import type { FilmTable } from '../../app/contract/footage-calls'
import type { Clip } from '../../app/project/film'
import { useProject } from '../state/use-project'
import { backgroundPlan, backgroundWords, keepBackground } from './background-plan'
import { follow, followHall } from './follow'
import { keepTracked, trackPlan, trackWords } from './track-plan'

interface Following {
  readonly clip: Clip
  readonly subject: string | null
  readonly lead: Side | null
  readonly table: FilmTable
  readonly height: () => number | null
  readonly say: (words: string) => void
  /// A point is to be placed on a frame before it can be followed further.
  readonly onAsk: (frame: number, point: string) => void
}

/// Follows points in a worker. A run is one edit, made when it is over: one that is left off, or cut short by the window's end,
/// leaves nothing.
export function useFollowing({ clip, subject, lead, table, height, say, onAsk }: Following) {
  const project = useProject()
  const [done, setDone] = useState<number | null>(null)
  const running = useRef<AbortController | null>(null)
  useEffect(() => () => running.current?.abort(), [])

  const run = async (frame: number, ways: readonly (1 | -1)[], points: readonly string[], group: string | null): Promise<void> => {
    const facts = project.shown().films.get(clip.footage)
    if (!subject || !facts || running.current) return
    const own = new AbortController()
    running.current = own
    const words: string[] = []
    let ask: { readonly frame: number; readonly point: string } | null = null
    try {
      for (const way of ways) {
        const { breakdown } = project.shown()
        const from = { clip, subject, frame, way }
        const plan = breakdown && trackPlan(breakdown, from, points, height(), rateOf(table))
        if (!plan) {
          words.push('Place the point on this frame first.')
          break
        }
        if (plan.last === frame) continue
        setDone(0)
        const found = await follow(plan, { facts, table, signal: own.signal, onFrame: setDone })
        if (!found) return
        await project.edit(
          (state) => (project.shown().breakdown ? keepTracked(state, project.shown().breakdown!, from, plan, found, lead) : null),
          group,
        )
        const told = trackWords(plan, found, lead)
        words.push(told.words)
        ask ??= told.ask
      }
      say(words.join(' '))
      if (ask && ways.length === 1) onAsk(ask.frame, ask.point)
    } catch {
      say('The film could not be read here, so nothing was followed.')
    } finally {
      running.current = null
      setDone(null)
    }
  }
  const hall = async (frame: number): Promise<void> => {
    const { films, breakdown } = project.shown()
    const facts = films.get(clip.footage)
    if (!subject || !facts || !breakdown || running.current) return
    const own = new AbortController()
    running.current = own
    try {
      setDone(0)
      const plan = backgroundPlan(breakdown, clip, frame)
      const found = await followHall(plan, { facts, table, signal: own.signal, onFrame: setDone })
      if (!found) return
      if (found.points.length > 0)
        await project.edit((state) =>
          project.shown().breakdown ? keepBackground(state, project.shown().breakdown!, { clip: clip.id, subject }, found) : null,
        )
      say(backgroundWords(plan, found))
    } catch {
      say('The film could not be read here, so nothing was followed.')
    } finally {
      running.current = null
      setDone(null)
    }
  }
  const leave = (): boolean => {
    if (!running.current) return false
    running.current.abort()
    say('Left off. Nothing was kept.')
    return true
  }
  return { done, run, hall, leave }
}

/// Frames a second of the file.
function rateOf({ pts, end, base }: FilmTable): number {
  return (pts.length * base.d) / ((end - (pts[0] ?? 0)) * base.n)
}
