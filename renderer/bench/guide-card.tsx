import { useState, type FormEvent, type Ref } from 'react'
import { definitionOf, pointGroups, type PointGroup } from '../../app/body/body-points'
import { isOfHall, sayPoint, type Side } from '../../app/body/landmark-name'
import type { Subject } from '../../app/project/film'
import { BlurField, type BlurHand } from './blur-field'
import { placedOf, placingWords, turnOf, type Guide } from './guide'

interface Props {
  readonly guide: Guide | null
  /// The point that the arrows lead.
  readonly led: string | null
  readonly frame: number
  readonly lead: Side | null
  /// The whole picture stands on the stage.
  readonly whole: boolean
  readonly subjects: readonly Subject[]
  readonly subject: string | null
  readonly readOnly: boolean
  readonly onSubject: (subject: string) => void
  readonly onNewSubject: (name: string) => void
  readonly onRename: (name: string) => void
  readonly onBegin: (group: PointGroup) => void
  /// Pixels that a blur is taken for while its length is not stated.
  readonly assumedBlur: number
  /// What a drag under way says it is; null: there is none.
  readonly drawnBlur: number | null
  readonly blurField: Ref<BlurHand>
  readonly onBlur: (length: number | null) => Promise<unknown>
  readonly onToStage: () => void
  readonly onGo: (frame: number) => void
}

/// What the list of persons offers beside them: no id begins like it.
const ANOTHER = '+'

/// Bottom left on the stage: what to place next, or how to begin.
export function GuideCard(props: Props) {
  const { guide, frame, lead, whole, readOnly, assumedBlur, drawnBlur, blurField, onBlur, onToStage, onGo } = props
  if (readOnly) return null
  if (props.led !== null)
    return (
      <div className="guide" role="status">
        <p>
          <strong>{sayPoint(props.led, lead)}</strong>, led by the arrows
        </p>
        <p className="guide-keys">arrow keys: a quarter pixel, with shift five · Enter: keep it there · Esc: take it back</p>
      </div>
    )
  if (!guide) return <BeginCard {...props} />
  if (guide.frame !== frame)
    return (
      <div className="guide" role="status">
        Placing stands on frame {guide.frame}.{' '}
        <button type="button" onClick={() => onGo(guide.frame)}>
          Back to it
        </button>
      </div>
    )
  const turn = turnOf(guide)
  return (
    <div className="guide">
      <div role="status">
        <p>
          <strong>{sayPoint(turn.point, lead)}</strong>, {placingWords(turn)}
          {guide.seen !== 'seen' && <em> · {guide.seen === 'occluded' ? 'hidden' : 'blurred'}</em>}
        </p>
        <p className="guide-where">
          {definitionOf(turn.point) ?? lineWords(turn.point) ?? (isOfHall(turn.point) ? 'of the hall' : 'a point of your own')}
        </p>
        <p className="guide-keys">
          {whole
            ? `${placedOf(guide) ? 'arrow keys: a quarter pixel · space: next' : 'click, or Enter'} · H: hidden · B: blurred · Esc: leave off`
            : 'the whole picture is coming …'}
        </p>
      </div>
      {guide.seen === 'blurred' && placedOf(guide) && whole && (
        <p className="guide-keys">digits, or a drag over the smear, across the limb: how long it is</p>
      )}
      {guide.seen === 'blurred' && (
        <BlurField
          ref={blurField}
          key={guide.at}
          label={`Blur of the ${sayPoint(turn.point, lead)}, pixels across the limb`}
          blur={drawnBlur ?? guide.blur}
          assumed={assumedBlur}
          onBlur={onBlur}
          onDone={onToStage}
        />
      )}
    </div>
  )
}

/// Which edge of the hall a line at right angles is drawn along; null for another point.
function lineWords(point: string): string | null {
  switch (/^(along|across|upright)\.\d+$/.exec(point)?.[1]) {
    case 'along':
      return 'of a straight edge along one side: a rope, a mat’s edge; ends far apart'
    case 'across':
      return 'of a straight edge square to that side: a rope round the corner; ends far apart'
    case 'upright':
      return 'of a post or another upright edge; ends far apart'
    default:
      return null
  }
}

/// Who it is, and what is to be placed.
function BeginCard({ subjects, subject, onSubject, onNewSubject, onRename, onBegin }: Props) {
  const [naming, setNaming] = useState<'another' | 'rename' | null>(null)
  const own = subjects.find(({ id }) => id === subject)
  // The forms have keys: a button that became another one under the press would be pressed at once.
  if (subjects.length === 0 || naming !== null) {
    const onName = (event: FormEvent<HTMLFormElement>): void => {
      event.preventDefault()
      const name = String(new FormData(event.currentTarget).get('name') ?? '').trim()
      if (!name) return
      if (naming === 'rename') onRename(name)
      else onNewSubject(name)
      setNaming(null)
    }
    return (
      <div className="guide">
        <form key="name" onSubmit={onName} onKeyDown={(event) => event.key === 'Escape' && setNaming(null)}>
          <label>
            {naming === 'rename' ? 'Name' : 'Who is it?'}{' '}
            <input
              key={naming}
              name="name"
              required
              maxLength={80}
              size={16}
              defaultValue={naming === 'rename' ? own?.name : ''}
              autoFocus={naming !== null}
            />
          </label>
          <button type="submit">{naming === 'rename' ? 'Rename' : 'Name'}</button>
          {naming !== null && (
            <button type="button" onClick={() => setNaming(null)}>
              Leave it
            </button>
          )}
        </form>
      </div>
    )
  }
  return (
    <div className="guide">
      <form
        key="place"
        onSubmit={(event) => {
          event.preventDefault()
          onBegin(String(new FormData(event.currentTarget).get('group')) as PointGroup)
        }}
      >
        <label>
          On{' '}
          <select
            value={subject ?? ''}
            onChange={(event) => (event.target.value === ANOTHER ? setNaming('another') : onSubject(event.target.value))}
          >
            {subjects.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
            <option value={ANOTHER}>another person …</option>
          </select>
        </label>
        {own && (
          <button type="button" onClick={() => setNaming('rename')} aria-label={`Rename ${own.name}`} title="another name for this person">
            Rename
          </button>
        )}
        <label>
          place{' '}
          <select name="group" defaultValue="whole body">
            {Object.keys(pointGroups).map((group) => (
              <option key={group}>{group}</option>
            ))}
          </select>
        </label>
        <button type="submit" title="P">
          Place
        </button>
      </form>
    </div>
  )
}
