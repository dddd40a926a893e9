import { useCallback, useEffect, useRef, useState } from 'react'
import type { Side } from '../../app/body/landmark-name'
import type { Point } from '../../app/project/fields'
import type { Sample, Seen } from '../../app/project/film'
import type { Project } from '../state/project'
import { useProject, useShown } from '../state/use-project'
import { asStored, beginGuide, endWords, nextTurn, placedAt, placedOf, seenAs, takenBack, turnBefore, turnOf, type Guide } from './guide'
import { handsOn, isCorrected, samplesOf } from './placing'
import { placePoint, seePoint, takeBack } from './point-edits'
import { isOnPicture, ontoPicture, type Size } from './stage-view'

interface Here {
  readonly clip: string
  readonly subject: string | null
  readonly frame: number
  readonly lead: Side | null
  readonly picture: Size
  /// Whether the whole picture stands on the stage at this moment: on a smaller one nothing is placed.
  readonly isWhole: () => boolean
  readonly say: (words: string) => void
  /// Placing is over, and these points were followed or suggested on its frame before a hand placed them.
  readonly onCorrected: (on: Pick<Guide, 'subject' | 'frame'>, points: readonly string[]) => void
}

/// The guided placing under way, and the hand's aim. What it shows follows what is stored, once nothing of its own is on the
/// way there: after an undo, a redo, or a placing taken away elsewhere it stands where the project stands.
export function useGuide({ clip, subject, frame, lead, picture, isWhole, say, onCorrected }: Here) {
  const project = useProject()
  const { breakdown, readOnly } = useShown()
  const [guide, setGuide] = useState<Guide | null>(null)
  const [aim, setAim] = useState<Point>([picture.width / 2, picture.height / 2])
  const onTheWay = useRef(0)
  const active = guide && guide.clip === clip && guide.frame === frame && guide.subject === subject ? guide : null

  const hands = (subject: string, point: string, frame: number): Sample[] => {
    const stored = project.shown().breakdown
    return stored ? handsOn(samplesOf(stored, { clip, subject, point }), frame) : []
  }
  const follow = (): void => {
    if (onTheWay.current === 0) setGuide((now) => now && asStored(now, (point) => hands(now.subject, point, now.frame)))
  }
  useEffect(follow, [breakdown])

  const edit = (change: Parameters<Project['edit']>[0], group: string | null = null): void => {
    onTheWay.current++
    kept.current = project.edit(change, group).finally(() => {
      onTheWay.current--
      follow()
    })
  }

  const corrected = useRef<{ readonly subject: string; readonly frame: number; readonly points: Set<string> } | null>(null)
  const kept = useRef<Promise<unknown>>(Promise.resolve())
  const tell = useRef(onCorrected)
  tell.current = onCorrected
  /// Tells what was corrected once all of it is kept: only then every placing of a round counts.
  const end = useCallback((): void => {
    const on = corrected.current
    corrected.current = null
    if (on && on.points.size > 0) void kept.current.then(() => tell.current(on, [...on.points]))
  }, [])
  const leave = useCallback((): void => {
    setGuide(null)
    end()
  }, [end])

  const see = (seen: Seen, blur: number | undefined): void => {
    if (!active || readOnly || (active.seen === seen && active.blur === blur)) return
    setGuide(seenAs(active, seen, blur))
    if (placedOf(active)) edit((state) => seePoint(state, project.shown().breakdown, active, seen, blur, lead))
  }

  return {
    guide,
    active,
    aim,
    /// A drag on the picture says how long the point in turn is blurred: it is called so, and placed.
    drawsBlur: (): boolean => active !== null && !readOnly && isWhole() && active.seen === 'blurred' && placedOf(active) !== null,
    /// Where the hand points while the point in turn is not placed yet.
    point(at: Point): void {
      if (active && !placedOf(active) && isOnPicture(at, picture)) setAim(at)
    },
    /// Begins with these points; says so where each was placed often enough.
    begin(points: readonly string[]): void {
      if (!subject || readOnly) return
      const next = beginGuide({ clip, subject, frame }, points, (point) => hands(subject, point, frame).length)
      end()
      setGuide(next)
      say(next ? '' : 'Each of these is placed three times on this frame already.')
    },
    /// Places the point in turn; off the picture there is nothing to place.
    place(at: Point): void {
      if (!active || readOnly || !isWhole() || !isOnPicture(at, picture)) return
      const { point } = turnOf(active)
      const stored = project.shown().breakdown
      if (stored && isCorrected(samplesOf(stored, { clip, subject: active.subject, point }), frame)) {
        corrected.current ??= { subject: active.subject, frame, points: new Set() }
        corrected.current.points.add(point)
      }
      const group = placedOf(active) ? `${clip} ${frame} ${turnOf(active).point} ${active.at}`.slice(0, 80) : null
      edit((state) => placePoint(state, project.shown().breakdown, active, at, lead), group)
      setAim(at)
      setGuide(placedAt(active, [at[0], at[1]]))
    },
    /// Moves the aim, and the point with it where it is placed. Answers where it is then.
    nudge([dx, dy]: Point): Point {
      const at = ontoPicture([aim[0] + dx, aim[1] + dy], picture)
      setAim(at)
      if (active && placedOf(active)) this.place(at)
      return at
    },
    /// The next turn. Answers what is said when there is none, and the guide ends.
    next(): string | null {
      if (!active) return null
      const next = nextTurn(active)
      setGuide(next)
      if (!next) end()
      return next ? null : endWords(active, lead)
    },
    /// Takes the point in turn back, or goes to the one before.
    back(): void {
      if (!active) return
      if (placedOf(active)) {
        corrected.current?.points.delete(turnOf(active).point)
        edit((state) => takeBack(state, project.shown().breakdown, active, lead))
        setGuide(takenBack(active))
      } else {
        const before = turnBefore(active)
        setGuide(before)
        const placed = placedOf(before)
        if (placed) setAim(placed.at)
      }
    },
    /// How the point in turn is seen; said twice: seen.
    see: (how: Seen): void => see(active?.seen === how ? 'seen' : how, undefined),
    /// The point in turn is blurred, so long (px); null: of no stated length.
    blur: (length: number | null): void => see('blurred', length ?? undefined),
    leave,
  }
}
