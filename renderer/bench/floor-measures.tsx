import { useState } from 'react'
import { measureContext } from '../../app/measure/context'
import { readingOf } from '../../app/measure/readings'
import { reasons, type ReasonCode } from '../../app/measure/reason'
import type { Clip } from '../../app/project/film'
import { LiveValue } from '../script/live-value'
import { adding, freeId } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import { footMeasure, type FootAsked } from './floor-questions'

/// Where a foot points, or how far it stands off the line to another person, on the floor that is stated.
export function FloorMeasures({ hand, clip, subject }: { readonly hand: BenchHand; readonly clip: Clip; readonly subject: string }) {
  const project = useProject()
  const { breakdown, state, tables, readOnly } = useShown()
  const [kind, setKind] = useState<FootAsked['kind']>('step-off-line')
  const [foot, setFoot] = useState('')
  const [whom, setWhom] = useState('')
  const [lineFrame, setLineFrame] = useState<number | null>(null)
  const [planted, setPlanted] = useState(false)
  if (!breakdown || !state || readOnly) return null
  const others = breakdown.subjects.filter(({ id }) => id !== subject)
  const sides = hand.lead ? ['lead', 'rear'] : ['left', 'right']
  const side = sides.includes(foot) ? foot : (sides[0] as string)
  const other = others.find(({ id }) => id === whom) ?? others[0]
  if (!other) return <p className="quiet">The line runs from one person to another: name the other one first.</p>
  const at = lineFrame !== null && clip.from <= lineFrame && lineFrame < clip.to ? lineFrame : hand.frame
  const measure = footMeasure({ id: freeId(state, 'measures', 'm'), clip: clip.id, subject, frame: hand.frame, kind, side, other: other.id, lineFrame: at, planted })
  const reading = readingOf(measure, measureContext(breakdown, (footage) => tables.get(footage) ?? null))
  const keep = (): void => {
    void project.edit({ label: `Measure ${reading.plate.what}`, steps: [], diffs: [adding(state, 'measures', measure)] })
    hand.choose(measure.id)
  }
  return (
    <form className="stated" onSubmit={(event) => { event.preventDefault(); keep() }}>
      <h3>A foot on the floor</h3>
      <label>
        I want to say{' '}
        <select value={kind} onChange={({ target }) => setKind(target.value as FootAsked['kind'])}>
          <option value="step-off-line">how far it stands off the line</option>
          <option value="foot-heading">at what angle to the line it points</option>
        </select>
      </label>
      <label>
        Foot{' '}
        <select value={side} onChange={({ target }) => setFoot(target.value)}>{sides.map((name) => <option key={name}>{name}</option>)}</select>
      </label>
      <label>
        The line runs to{' '}
        <select value={other.id} onChange={({ target }) => setWhom(target.value)}>{others.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}</select>
      </label>
      <label>As both stood on frame <input type="number" min={clip.from} max={clip.to - 1} value={at} onChange={({ target }) => setLineFrame(Number.isNaN(target.valueAsNumber) ? null : target.valueAsNumber)} /></label>
      <label className="tick"><input type="checkbox" checked={planted} onChange={() => setPlanted(!planted)} /> on these frames the feet stand flat</label>
      <div className="told" role="status">
        <p><LiveValue reading={reading} measure={measure.id} /> {reading.plate.what}, frame {hand.frame}</p>
        {reading.reasons.slice(0, 2).map((code) => <p key={code}>{reasons[code as ReasonCode].wording}. <span className="quiet">{reasons[code as ReasonCode].advice}</span></p>)}
      </div>
      <p className="actions">
        <button type="submit">Keep it</button>
        <button type="button" onClick={() => hand.place(hand.placed({ points: [...new Set([...(kind === 'foot-heading' ? [`heel.${side}`, `toe.${side}`] : [`toe.${side}`]), 'toe.left', 'toe.right'])] }))}>Place this person’s feet</button>
      </p>
    </form>
  )
}
