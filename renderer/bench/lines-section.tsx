import { useMemo, useRef } from 'react'
import { lineEnds } from '../../app/body/landmark-name'
import { LINE_WAYS, type LineWay } from '../../app/geometry/line-camera'
import { measureContext } from '../../app/measure/context'
import type { HallView } from '../../app/measure/hall-view'
import { linesApart, linesOwner, MOST_LINES, placedLines, type LinesApart } from '../../app/measure/line-view'
import { reasons } from '../../app/measure/reason'
import type { AngleWithU } from '../../app/project/fields'
import type { Clip } from '../../app/project/film'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import { frameOf, removeLine } from './hall-edits'

interface Props {
  readonly hand: BenchHand
  readonly clip: Clip
  readonly subject: string
  /// The camera by the lines on this frame.
  readonly seen: HallView['lines']
}

const NAMES: Readonly<Record<LineWay, string>> = { along: 'along a side', across: 'square to it', upright: 'upright' }
/// What is drawn first: two lines each way.
const FIRST = [...[0, 1].flatMap((i) => lineEnds('along', i)), ...[0, 1].flatMap((i) => lineEnds('across', i))]

/// Lines of the hall at right angles, drawn on the picture: how many there are each way, and what they tell of the camera.
export function LinesSection({ hand, clip, subject, seen }: Props) {
  const project = useProject()
  const { breakdown, tables, readOnly } = useShown()
  const context = useMemo(
    () => (breakdown ? measureContext(breakdown, (footage) => tables.get(footage) ?? null) : null),
    [breakdown, tables],
  )
  const owner = context ? linesOwner(context, clip, subject) : subject
  const drawn = useMemo(
    () => new Map(LINE_WAYS.map((way) => [way, context ? placedLines(context, clip, owner, way) : []])),
    [context, clip, owner],
  )
  const count = drawn.get('along')!.length + drawn.get('across')!.length
  const apart = useMemo(
    () => (context && seen && !seen.ok && seen.error === 'lines-apart' ? linesApart(context, clip, subject, hand.frame) : null),
    [context, clip, subject, hand.frame, seen],
  )
  const rows = useRef<HTMLDivElement>(null)
  if (!breakdown || !context) return null
  const mine = owner === subject && !readOnly
  const points = LINE_WAYS.flatMap((way) => drawn.get(way)!.flatMap((index) => lineEnds(way, index)))
  const frame = points.length > 0 ? frameOf(breakdown, clip.id, owner, points, hand.frame) : null
  const isElsewhere = count > 0 && frame !== hand.frame && clip.hall?.camera !== 'still'
  const drawMore = (way: LineWay): void => {
    const free = Array.from({ length: MOST_LINES }, (_, i) => i).find((i) => !drawn.get(way)!.includes(i))
    if (free !== undefined) hand.place(lineEnds(way, free))
  }
  const takeAway = (way: LineWay, index: number): void => {
    void project.edit((now) => removeLine(now, project.shown().breakdown, { clip: clip.id, subject: owner }, way, index))
    rows.current?.querySelector<HTMLButtonElement>(`[data-draws="${way}"]`)?.focus()
  }
  return (
    <div className="stated">
      <h3>Lines at right angles</h3>
      <p className="quiet">
        Ropes of two sides, a mat’s edges, wall panels: two or more along one side, two or more square to it, and posts if there are any.
        From them follow elevation, roll and yaw, where no floor marks are known.
      </p>
      {mine && count === 0 && (
        <button type="button" onClick={() => hand.place(FIRST)}>
          Draw two lines each way
        </button>
      )}
      {owner !== subject && (
        <p className="quiet">
          The lines are drawn with {breakdown.subjects?.find(({ id }) => id === owner)?.name ?? owner}: have them in hand to draw one.
        </p>
      )}
      {count > 0 && (
        <div className="line-rows" ref={rows}>
          {LINE_WAYS.map((way) => [
            <span key={way}>{NAMES[way]}</span>,
            <span key={`${way} drawn`} className="line-numbers">
              {drawn.get(way)!.map((index) =>
                mine ? (
                  <button key={index} type="button" aria-label={`Take line ${index + 1} ${way} away`} onClick={() => takeAway(way, index)}>
                    {index + 1} <span aria-hidden="true">×</span>
                  </button>
                ) : (
                  <span key={index} className="figures">
                    {index + 1}
                  </span>
                ),
              )}
              {drawn.get(way)!.length === 0 && <span className="quiet">none</span>}
            </span>,
            mine && drawn.get(way)!.length < MOST_LINES ? (
              <button
                key={`${way} more`}
                type="button"
                data-draws={way}
                aria-label={`Draw a line ${NAMES[way]}`}
                onClick={() => drawMore(way)}
              >
                Draw
              </button>
            ) : (
              <span key={`${way} more`} />
            ),
          ])}
        </div>
      )}
      {seen?.ok && (
        <p role="status" className="quiet">
          The camera sees {seen.value.lens.deg.toFixed(0)}° ± {Math.max(1, seen.value.lens.u).toFixed(0)}° across, and the lines along the
          side lie {headingWords(seen.value.heading)}.
        </p>
      )}
      {seen && !seen.ok && (
        <p role="status">
          {reasons[seen.error].wording.replace(/^./, (c) => c.toUpperCase())}.{' '}
          {apart && `${apartWords(apart, drawn.get(apart.way)!.length)} `}
          {reasons[seen.error].advice}
        </p>
      )}
      {isElsewhere && frame !== null && (
        <button type="button" onClick={() => hand.go(frame)}>
          Go to frame {frame}, where they are drawn
        </button>
      )}
      {isElsewhere && mine && (
        <button type="button" onClick={() => hand.place(points)}>
          Draw them on this frame
        </button>
      )}
    </div>
  )
}

/// Which lines are meant.
function apartWords({ way, index }: LinesApart, count: number): string {
  if (index !== null) return `It is line ${index + 1}, ${NAMES[way]}.`
  return `It is among those ${NAMES[way]}${count < 4 ? '; a fourth would tell which' : ''}.`
}

/// "32° ± 1° from square to the view, their right end further off".
const headingWords = ({ deg, u }: AngleWithU): string =>
  `${Math.abs(deg).toFixed(0)}° ± ${Math.max(1, u).toFixed(0)}° from square to the view, their ${deg > 0 ? 'right' : 'left'} end further off`
