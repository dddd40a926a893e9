import { useMemo, type FormEvent } from 'react'
import { measureContext } from '../../app/measure/context'
import { updating } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import { ClipSpeed } from './clip-speed'
import { FromHall } from './from-hall'
import { RollFromLine } from './hall-lines'
import { HallSection } from './hall-section'
import { useHallView } from './use-hall-view'
import { joinView, spanOn, stateView, viewSpans, viewWords } from './view-spans'

/// How the camera sees a person: lead side, yaw, elevation, roll; and what is lost while one is not stated. A person who
/// turns or changes the lead side within the clip is stated span by span.
export function ViewSheet({ hand }: { readonly hand: BenchHand }) {
  const project = useProject()
  const { breakdown, state, tables, readOnly } = useShown()
  const context = useMemo(
    () => (breakdown ? measureContext(breakdown, (footage) => tables.get(footage) ?? null) : null),
    [breakdown, tables],
  )
  const told = useHallView(context, hand.clip, hand.subject, hand.frame)
  if (!breakdown || !state || !hand.clip || !hand.subject) return <p className="quiet">Say first who it is.</p>
  const { clip, subject, frame } = hand
  const spans = viewSpans(breakdown.views ?? [], clip, subject)
  const span = spanOn(spans, frame)
  const view = span?.view ?? null
  const keep = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault()
    if (!span) return
    const form = new FormData(event.currentTarget, (event.nativeEvent as SubmitEvent).submitter)
    const angle = (name: string): { deg: number; u: number } | undefined => {
      const [deg, u] = [String(form.get(name) ?? ''), String(form.get(`${name}-u`) ?? '')]
      return deg === '' ? undefined : { deg: Number(deg), u: Number(u || 0) }
    }
    const lead = form.get('lead')
    const [yaw, elevation, roll] = [angle('yaw'), angle('elevation'), angle('roll')]
    const parts = {
      ...(lead === 'left' || lead === 'right' ? ({ lead } as const) : {}),
      ...(yaw ? { yaw } : {}),
      ...(elevation ? { elevation } : {}),
    }
    const since = form.get('since') === 'here' ? frame : span.from
    const turned = JSON.stringify(clip.roll) !== JSON.stringify(roll)
    // Done to the clip and its spans as they are when its turn comes: what was stated just before may be on its way still.
    void project.edit((now) => {
      const known = now.tables.clips.get(clip.id)
      const there = spanOn(viewSpans(now.tables.views.list(), clip, subject), since)
      if (!known || !there) return null
      const { roll: _roll, ...unrolled } = known
      return {
        label: since === span.from ? 'State the view' : `State the view from frame ${since} on`,
        steps: [],
        diffs: [
          ...stateView(now, clip.id, subject, there, since, parts),
          ...(turned ? [updating('clips', known, roll ? { ...unrolled, roll } : unrolled)] : []),
        ],
      }
    })
  }
  const mayJoin = span !== null && joinView(state, spans, span) !== null
  const join = (from: number): void =>
    void project.edit((now) => {
      const there = viewSpans(now.tables.views.list(), clip, subject)
      const own = spanOn(there, from)
      return own && joinView(now, there, own)
    })
  const field = (name: 'yaw' | 'elevation' | 'roll', says: string, known: { deg: number; u: number } | undefined, missing: string) => (
    <div className="angle">
      <label>
        {says} <input name={name} type="number" step="any" defaultValue={known?.deg ?? ''} readOnly={readOnly} />
      </label>
      <label>
        ± (1 σ) <input name={`${name}-u`} type="number" step="any" min={0} defaultValue={known?.u ?? ''} readOnly={readOnly} />
      </label>
      {!known && <p className="quiet">{missing}</p>}
    </div>
  )
  return (
    <>
      <form onSubmit={keep} key={`${clip.id} ${subject} ${JSON.stringify(span)} ${JSON.stringify(clip.roll ?? null)}`}>
        <h2>The view</h2>
        {spans.length > 1 && (
          <ul className="plain spans" aria-label="Stated span by span">
            {spans.map((each) => (
              <li key={each.from} aria-current={each === span ? 'true' : undefined}>
                <button type="button" className="entry" onClick={() => hand.go(each.from)}>
                  <span className="figures">
                    frames {each.from} to {each.to - 1}
                  </span>
                  <span className="quiet">{viewWords(each.view)}</span>
                </button>
                {each === span && mayJoin && !readOnly && (
                  <button type="button" onClick={() => join(each.from)}>
                    as before
                  </button>
                )}
              </li>
            ))}
          </ul>
        )}
        <label>
          Lead side{' '}
          <select name="lead" defaultValue={view?.lead ?? ''} disabled={readOnly}>
            <option value="">not stated</option>
            <option value="left">left</option>
            <option value="right">right</option>
          </select>
        </label>
        {!view?.lead && (
          <p className="quiet">Until it is stated, points are named left and right, and what is asked of “rear” or “lead” is refused.</p>
        )}
        {field(
          'yaw',
          'Yaw, degrees from side-on',
          view?.yaw,
          'Until it is stated, angles come with a warning, and so does every comparison with another clip’s.',
        )}
        {field('elevation', 'Elevation, degrees above level', view?.elevation, 'Until it is stated, turns seen from above are refused.')}
        {field(
          'roll',
          'Roll of the camera, degrees clockwise',
          clip.roll,
          'Until it is stated, a lean comes with a warning and a wider error.',
        )}
        {!readOnly && (
          <p className="actions">
            <button type="submit" className="main-action">
              State it
            </button>
            {span && frame > span.from && (
              <button type="submit" name="since" value="here">
                From frame {frame} on
              </button>
            )}
          </p>
        )}
        {!readOnly && span && (
          <p className="quiet">
            “State it” is said of frames {span.from} to {span.to - 1}.
            {frame === span.from ? ' Who turns, or changes the lead side: go to the first frame on which it is otherwise.' : ''}
          </p>
        )}
      </form>
      {context && <ClipSpeed clip={clip} context={context} readOnly={readOnly} />}
      <RollFromLine hand={hand} clip={clip} subject={subject} told={told} />
      <FromHall hand={hand} clip={clip} subject={subject} span={span} told={told} />
      <HallSection hand={hand} clip={clip} subject={subject} told={told} />
    </>
  )
}
