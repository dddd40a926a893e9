import { useMemo, useRef, useState, type FormEvent } from 'react'
import { measureContext } from '../../app/measure/context'
import { floorPlane } from '../../app/measure/floor-plane'
import { reasons } from '../../app/measure/reason'
import type { Breakdown } from '../../app/project/breakdown'
import type { Clip } from '../../app/project/film'
import type { Floor } from '../../app/project/hall'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import {
  canLose,
  draftNow,
  fitWords,
  floorOf,
  freshDraft,
  isChanged,
  markWord,
  numberWord,
  offWords,
  withMark,
  withoutMark,
  type FloorDraft,
} from './floor-draft'
import { REPEATS } from './guide'
import { frameOf, ofClip, stateHall } from './hall-edits'
import { handsOn, samplesOf } from './placing'
import { removePoints } from './point-edits'

interface Props {
  readonly hand: BenchHand
  readonly clip: Clip
  readonly subject: string
}

/// The floor from four marks or more whose places are known: how far each is off is shown as its numbers are typed.
export function FloorSection(props: Props) {
  const { breakdown } = useShown()
  return (
    breakdown && <FloorForm key={`${props.clip.id} ${props.clip.hall?.floor?.subject ?? props.subject}`} {...props} breakdown={breakdown} />
  )
}

function FloorForm({ hand, clip, subject, breakdown }: Props & { readonly breakdown: Breakdown }) {
  const project = useProject()
  const { file, tables, readOnly } = useShown()
  const floor = clip.hall?.floor
  // Marks belong to the person with whom they were placed.
  const owner = floor?.subject ?? subject
  const context = useMemo(() => measureContext(breakdown, (footage) => tables.get(footage) ?? null), [breakdown, tables])
  const isPlaced = (point: string): boolean => context.isPlaced(clip.id, owner, point)
  const { rows, unit, share, set, drop } = useDraft(`${file} ${clip.id} ${owner}`, floor, isPlaced)
  const addButton = useRef<HTMLButtonElement>(null)

  const names = rows.map(({ point }) => point)
  const missing = names.filter((point) => !isPlaced(point))
  const frame = frameOf(breakdown, clip.id, owner, names, hand.frame) ?? hand.frame
  const draft = floorOf(rows, owner, unit, share)
  const changed = isChanged({ rows, unit, share }, floor)
  const found = useMemo(() => (draft ? floorPlane(context, clip, draft, frame) : null), [context, clip, JSON.stringify(draft), frame])
  const plane = found?.ok ? found.value : null
  const mine = owner === subject && !readOnly
  const placedOut = names.every(
    (point) => handsOn(samplesOf(breakdown, { clip: clip.id, subject: owner, point }), hand.frame).length >= REPEATS,
  )

  const state = (event: FormEvent): void => {
    event.preventDefault()
    if (!draft) return
    set({ sent: JSON.stringify(draft) })
    void project.edit(ofClip(clip.id, (now) => stateHall(now, 'floor', draft, 'State the floor')))
  }
  const add = (): void => {
    const next = withMark(rows)
    const point = next.at(-1)?.point
    if (next === rows || point === undefined) return
    set({ rows: next })
    if (!isPlaced(point)) hand.place([point])
  }
  const takeAway = (point: string): void => {
    set({ rows: withoutMark(rows, point) })
    addButton.current?.focus()
  }
  const placeAnew = async (points: readonly string[]): Promise<void> => {
    const label = points.length === 1 ? `Take the placings of mark ${markWord(points[0]!)} away` : 'Take the placings of the marks away'
    await project.edit((state) =>
      removePoints(state, project.shown().breakdown, { clip: clip.id, subject: owner, frame: hand.frame }, points, label),
    )
    hand.place(points)
  }
  return (
    <form onSubmit={state} className="stated">
      <h3>The floor</h3>
      <p className="quiet">
        {floor
          ? `${numberWord(floor.marks.length).replace(/^./, (c) => c.toUpperCase())} marks, in ${floor.unit}. Where feet stand and point on the floor can be asked among the measures (M), on frames that have the marks, or on any where the camera stood still.`
          : 'Until four marks or more of known place are stated, steps off a line and headings of feet are refused.'}
      </p>
      {mine && placedOut && (
        <p className="quiet">
          Each mark is placed three times on this frame. To place them once more, their placings here are taken away first; undo brings them
          back.
        </p>
      )}
      {mine &&
        (placedOut ? (
          <button type="button" onClick={() => void placeAnew(names)}>
            Place the marks anew
          </button>
        ) : missing.length === 0 ? (
          <button type="button" onClick={() => hand.place(names)}>
            Place the marks again
          </button>
        ) : (
          <button type="button" onClick={() => hand.place(missing)}>
            {missing.length === names.length
              ? `Place the ${numberWord(names.length)} marks`
              : missing.length === 1
                ? `Place mark ${markWord(missing[0]!)}`
                : 'Place the marks that are missing'}
          </button>
        ))}
      {owner !== subject && (
        <p className="quiet">
          The marks are placed with {breakdown.subjects?.find(({ id }) => id === owner)?.name ?? owner}: have them in hand to place one.
        </p>
      )}
      {missing.length < names.length && (
        <>
          <div className="floor-marks">
            {['mark', 'across', 'along', 'off by', ''].map((head) => (
              <span key={head} className="quiet" aria-hidden="true">
                {head}
              </span>
            ))}
            {rows.map((row, at) => [
              <span key={row.point}>{markWord(row.point)}</span>,
              ...(['across', 'along'] as const).map((axis) => (
                <input
                  key={`${row.point} ${axis}`}
                  aria-label={`Mark ${markWord(row.point)}, ${axis}`}
                  type="number"
                  step="any"
                  required
                  value={row[axis]}
                  readOnly={readOnly}
                  onChange={({ target }) => set({ rows: rows.map((other, i) => (i === at ? { ...other, [axis]: target.value } : other)) })}
                />
              )),
              <span key={`${row.point} off`} className="figures" data-astray={plane?.astray?.mark.point === row.point ? 'yes' : undefined}>
                {missing.includes(row.point)
                  ? 'not placed'
                  : offWords(
                      plane?.marks.find(({ point }) => point === row.point),
                      plane,
                      unit,
                    )}
              </span>,
              readOnly || !canLose(rows) ? (
                <span key={`${row.point} away`} />
              ) : (
                <button
                  key={`${row.point} away`}
                  type="button"
                  aria-label={`Take mark ${markWord(row.point)} away`}
                  onClick={() => takeAway(row.point)}
                >
                  ×
                </button>
              ),
            ])}
          </div>
          {!readOnly && (
            <button type="button" ref={addButton} onClick={add}>
              Add a mark
            </button>
          )}
          {plane && (
            <p role="status" className={plane.warnings.length > 0 ? undefined : 'quiet'}>
              {fitWords(plane, unit)}
            </p>
          )}
          {found && !found.ok && missing.length === 0 && (
            <p role="status">
              {reasons[found.error].wording}. {reasons[found.error].advice}
            </p>
          )}
          {plane?.astray &&
            mine &&
            (frame === hand.frame ? (
              <button type="button" onClick={() => void placeAnew([plane.astray!.mark.point])}>
                Place mark {markWord(plane.astray.mark.point)} anew
              </button>
            ) : (
              <button type="button" onClick={() => hand.go(frame)}>
                Go to frame {frame}, where it is placed
              </button>
            ))}
          <div className="angle">
            <label>
              In <input required maxLength={40} value={unit} readOnly={readOnly} onChange={({ target }) => set({ unit: target.value })} />
            </label>
            <label>
              ± % (1 σ){' '}
              <input
                type="number"
                step="any"
                min={0}
                max={100}
                required
                value={share}
                readOnly={readOnly}
                onChange={({ target }) => set({ share: target.value })}
              />
            </label>
            <p className="quiet">How big a floor is differs from hall to hall: ask, or give it in a length of your own.</p>
          </div>
          {changed && floor && <p className="quiet">Changed here, and not stated yet.</p>}
          {!readOnly && (
            <p className="actions">
              <button type="submit">State the floor</button>
              {changed && floor && (
                <button type="button" onClick={drop}>
                  As it was stated
                </button>
              )}
              {floor && (
                <button
                  type="button"
                  onClick={() => void project.edit(ofClip(clip.id, (now) => stateHall(now, 'floor', undefined, 'Take the floor back')))}
                >
                  Take it back
                </button>
              )}
            </p>
          )}
        </>
      )}
    </form>
  )
}

/// Drafts that were begun and not stated: by project, clip and whose marks they are. A sheet that closes takes none away.
const begun = new Map<string, FloorDraft>()

/// What stands in the fields, while the sheet is open and when it is opened again.
function useDraft(key: string, floor: Floor | undefined, isPlaced: (point: string) => boolean) {
  const [draft, setDraft] = useState(() => draftNow(begun.get(key), floor, isPlaced))
  const now = draftNow(draft, floor, isPlaced)
  if (now !== draft) setDraft(now)
  const put = (next: FloorDraft): void => {
    begun.set(key, next)
    setDraft(next)
  }
  return {
    ...now,
    set: (part: Partial<Omit<FloorDraft, 'stated'>>) =>
      put({ ...(begun.get(key)?.stated === now.stated ? begun.get(key)! : now), ...part }),
    drop: () => put(freshDraft(floor, isPlaced)),
  }
}
