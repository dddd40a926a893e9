import { definitionOf, pointGroups, type PointGroup } from '../../app/body/body-points'
import { sayPoint, type Side } from '../../app/body/landmark-name'
import type { Subject } from '../../app/project/film'
import { placedOf, placingWords, turnOf, type Guide } from './guide'

interface Props {
  readonly guide: Guide | null
  readonly frame: number
  readonly lead: Side | null
  /// The whole picture stands on the stage.
  readonly whole: boolean
  readonly subjects: readonly Subject[]
  readonly subject: string | null
  readonly readOnly: boolean
  readonly onSubject: (subject: string) => void
  readonly onNewSubject: (name: string) => void
  readonly onBegin: (group: PointGroup) => void
  readonly onGo: (frame: number) => void
}

/// Bottom left on the stage: what to place next, or how to begin.
export function GuideCard({ guide, frame, lead, whole, subjects, subject, readOnly, onSubject, onNewSubject, onBegin, onGo }: Props) {
  if (readOnly) return null
  if (guide && guide.frame !== frame)
    return (
      <div className="guide" role="status">
        Placing stands on frame {guide.frame}. <button type="button" onClick={() => onGo(guide.frame)}>Back to it</button>
      </div>
    )
  if (guide) {
    const turn = turnOf(guide)
    return (
      <div className="guide" role="status">
        <p>
          <strong>{sayPoint(turn.point, lead)}</strong>, {placingWords(turn)}
          {guide.seen !== 'seen' && <em> · {guide.seen === 'occluded' ? 'hidden' : 'blurred'}</em>}
        </p>
        <p className="guide-where">{definitionOf(turn.point) ?? 'a point of your own'}</p>
        <p className="guide-keys">{whole ? `${placedOf(guide) ? 'arrow keys: a quarter pixel · space: next' : 'click, or Enter'} · H: hidden · B: blurred · Esc: leave off` : 'the whole picture is coming …'}</p>
      </div>
    )
  }
  return (
    <div className="guide">
      <form
        onSubmit={(event) => {
          event.preventDefault()
          const form = new FormData(event.currentTarget)
          const name = String(form.get('name') ?? '').trim()
          if (name) return onNewSubject(name)
          onBegin(String(form.get('group')) as PointGroup)
        }}
      >
        {subjects.length > 0 ? (
          <label>
            On{' '}
            <select value={subject ?? ''} onChange={(event) => onSubject(event.target.value)}>
              {subjects.map(({ id, name }) => <option key={id} value={id}>{name}</option>)}
            </select>
          </label>
        ) : (
          <label>Who is it? <input name="name" required maxLength={80} size={16} /></label>
        )}
        {subjects.length > 0 && (
          <label>
            place{' '}
            <select name="group" defaultValue="whole body">
              {Object.keys(pointGroups).map((group) => <option key={group}>{group}</option>)}
            </select>
          </label>
        )}
        <button type="submit" title="P">{subjects.length > 0 ? 'Place' : 'Name'}</button>
      </form>
    </div>
  )
}
