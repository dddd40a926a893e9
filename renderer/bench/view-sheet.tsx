import type { FormEvent } from 'react'
import { isBackground } from '../../app/body/landmark-name'
import type { View } from '../../app/project/film'
import { adding, updating } from '../state/record-change'
import { useProject, useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'

/// How the camera sees a person: lead side, yaw, elevation, roll; and what is lost while one is not stated.
export function ViewSheet({ hand }: { readonly hand: BenchHand }) {
  const project = useProject()
  const { breakdown, state, readOnly } = useShown()
  if (!breakdown || !state || !hand.clip || !hand.subject) return <p className="quiet">Say first who it is.</p>
  const { clip, subject, frame } = hand
  const view = (breakdown.views ?? []).find((v) => v.clip === clip.id && v.subject === subject && v.from <= frame && frame < v.to)
  const hallFrames = new Set((breakdown.landmarks ?? []).filter((l) => l.clip === clip.id && l.subject === subject && isBackground(l.point)).flatMap(({ samples }) => samples.map((sample) => sample.frame))).size
  const keep = (event: FormEvent<HTMLFormElement>): void => {
    event.preventDefault()
    const form = new FormData(event.currentTarget)
    const angle = (name: string): { deg: number; u: number } | undefined => {
      const [deg, u] = [String(form.get(name) ?? ''), String(form.get(`${name}-u`) ?? '')]
      return deg === '' ? undefined : { deg: Number(deg), u: Number(u || 0) }
    }
    const lead = form.get('lead')
    const [yaw, elevation, roll] = [angle('yaw'), angle('elevation'), angle('roll')]
    const next: View = { clip: clip.id, subject, from: view?.from ?? clip.from, to: view?.to ?? clip.to, ...(lead === 'left' || lead === 'right' ? { lead } : {}), ...(yaw ? { yaw } : {}), ...(elevation ? { elevation } : {}) }
    const { roll: _roll, ...unrolled } = clip
    const turned = JSON.stringify(clip.roll) !== JSON.stringify(roll)
    void project.edit({ label: 'State the view', steps: [], diffs: [view ? updating('views', view, next) : adding(state, 'views', next), ...(turned ? [updating('clips', clip, roll ? { ...unrolled, roll } : unrolled)] : [])] })
  }
  const field = (name: 'yaw' | 'elevation' | 'roll', says: string, known: { deg: number; u: number } | undefined, missing: string) => (
    <div className="angle">
      <label>{says} <input name={name} type="number" step="any" defaultValue={known?.deg ?? ''} readOnly={readOnly} /></label>
      <label>± (1 σ) <input name={`${name}-u`} type="number" step="any" min={0} defaultValue={known?.u ?? ''} readOnly={readOnly} /></label>
      {!known && <p className="quiet">{missing}</p>}
    </div>
  )
  return (
    <form onSubmit={keep} key={`${clip.id} ${subject} ${JSON.stringify(view ?? null)} ${JSON.stringify(clip.roll ?? null)}`}>
      <h2>The view</h2>
      <label>
        Lead side{' '}
        <select name="lead" defaultValue={view?.lead ?? ''} disabled={readOnly}>
          <option value="">not stated</option>
          <option value="left">left</option>
          <option value="right">right</option>
        </select>
      </label>
      {!view?.lead && <p className="quiet">Until it is stated, points are named left and right, and what is asked of “rear” or “lead” is refused.</p>}
      {field('yaw', 'Yaw, degrees from side-on', view?.yaw, 'Until it is stated, angles come with a warning, and none is compared with another clip’s.')}
      {field('elevation', 'Elevation, degrees above level', view?.elevation, 'Until it is stated, turns seen from above are refused.')}
      {field('roll', 'Roll of the camera, degrees clockwise', clip.roll, 'Until it is stated, a lean comes with a warning and a wider error.')}
      {!readOnly && <button type="submit" className="main-action">State it</button>}
      <h3>The camera’s own motion</h3>
      <p className="quiet">{hallFrames > 0 ? `The hall behind the people is followed on ${hallFrames} frames: a way that is measured or drawn is the person’s alone.` : 'Not followed: a camera that goes along lengthens or shortens every way.'}</p>
      {!readOnly && <button type="button" onClick={() => hand.followHall()} title="G">{hallFrames > 0 ? 'Follow the hall anew' : 'Follow the hall'}</button>}
    </form>
  )
}
