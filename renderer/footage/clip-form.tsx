import { useState } from 'react'
import { stillAddress } from '../../app/contract/addresses'
import type { FilmFacts } from '../../app/contract/footage-calls'
import { Clip, type Capture } from '../../app/project/film'
import { AnsweredForm } from '../sheets/answered-form'
import { CaptureFields } from './capture-fields'

interface Props {
  readonly clip: Clip
  readonly film: FilmFacts
  /// Resolves once it is answered; where it was kept, the form is closed by then.
  readonly onKeep: (clip: Clip) => Promise<void>
  readonly onCancel: () => void
}

/// A clip by its in and out, and what is known of it. Frames are the film's own, both ends shown as they are.
export function ClipForm({ clip, film, onKeep, onCancel }: Props) {
  const frames = film.frames ?? 1
  const [from, setFrom] = useState(clip.from)
  const [last, setLast] = useState(clip.to - 1)
  const [capture, setCapture] = useState<Capture | null>(clip.capture)
  const [problem, setProblem] = useState('')
  /// What was wrong with another speed is not wrong with this one.
  const restate = (stated: Capture | null): void => {
    setCapture(stated)
    setProblem('')
  }
  const keep = (filled: FormData): Promise<void> | null => {
    const checked = capture && Clip.safeParse(clipOf(clip, from, last, capture, filled))
    if (checked?.success && last >= from) return onKeep(checked.data)
    if (!checked)
      setProblem(
        'The link to the other clip gives no speed yet. Keep the clip with its speed not known, and link it when the events are marked.',
      )
    else if (checked.success || last < from) setProblem('The last frame comes before the first.')
    else setProblem(`${checked.error.issues[0]?.path.join(' ') ?? ''}: ${checked.error.issues[0]?.message ?? ''}`)
    return null
  }
  return (
    <AnsweredForm className="clip-form" label={`Clip ${clip.name ?? clip.id}`} onKeep={keep}>
      <End label="First frame" frame={from} frames={frames} footage={clip.footage} onFrame={setFrom} />
      <End label="Last frame" frame={last} frames={frames} footage={clip.footage} onFrame={setLast} />
      <div className="clip-fields">
        <label>
          Name <input name="name" defaultValue={clip.name ?? ''} maxLength={200} />
        </label>
        <label>
          Bout <input name="bout" defaultValue={clip.bout ?? ''} maxLength={200} />
        </label>
        <label>
          Technique <input name="technique" defaultValue={clip.technique ?? ''} maxLength={200} />
        </label>
        <label>
          Shows{' '}
          <select name="picture" defaultValue={clip.picture ?? ''}>
            <option value="">not stated</option>
            <option value="live">live</option>
            <option value="replay">a replay</option>
            <option value="graphic">a graphic</option>
          </select>
        </label>
        <label>
          In this film{' '}
          <select name="use" defaultValue={clip.use?.state ?? ''}>
            <option value="">not decided</option>
            <option value="used">used</option>
            <option value="rejected">rejected</option>
          </select>
        </label>
        <label>
          because <input name="reason" defaultValue={clip.use?.reason ?? ''} maxLength={500} />
        </label>
        <CaptureFields clip={clip} onCapture={restate} />
        <label className="tick">
          <input name="mirrored" type="checkbox" defaultChecked={clip.mirrored ?? false} /> show it mirrored
        </label>
      </div>
      {problem && (
        <p className="refusal" role="alert">
          {problem}
        </p>
      )}
      <p className="actions">
        <button type="submit" className="main-action">
          Keep the clip
        </button>
        <button type="button" onClick={onCancel}>
          Leave it
        </button>
      </p>
    </AnsweredForm>
  )
}

function End({
  label,
  frame,
  frames,
  footage,
  onFrame,
}: {
  readonly label: string
  readonly frame: number
  readonly frames: number
  readonly footage: string
  readonly onFrame: (frame: number) => void
}) {
  const go = (to: number): void => onFrame(Math.max(0, Math.min(frames - 1, to)))
  return (
    <div className="clip-end">
      <img src={stillAddress(footage, frame, 320)} alt={`frame ${frame}`} />
      <label>
        {label}{' '}
        <input
          type="number"
          min={0}
          max={frames - 1}
          value={frame}
          onChange={(event) => Number.isInteger(event.target.valueAsNumber) && go(event.target.valueAsNumber)}
        />
      </label>
      <input
        type="range"
        min={0}
        max={frames - 1}
        value={frame}
        onChange={(event) => go(Number(event.target.value))}
        aria-label={`${label}, along the film`}
      />
    </div>
  )
}

function clipOf(clip: Clip, from: number, last: number, capture: Capture, form: FormData): Clip {
  const text = (name: string): string => String(form.get(name) ?? '').trim()
  const { name: _n, bout: _b, technique: _t, picture: _p, mirrored: _m, use: _u, ...rest } = clip
  const [picture, use] = [text('picture'), text('use')]
  return {
    ...rest,
    from,
    to: last + 1,
    capture,
    ...(text('name') ? { name: text('name') } : {}),
    ...(text('bout') ? { bout: text('bout') } : {}),
    ...(text('technique') ? { technique: text('technique') } : {}),
    ...(picture === 'live' || picture === 'replay' || picture === 'graphic' ? { picture } : {}),
    ...(form.get('mirrored') ? { mirrored: true } : {}),
    ...(use === 'used' || use === 'rejected' ? { use: { state: use, ...(text('reason') ? { reason: text('reason') } : {}) } } : {}),
  }
}
