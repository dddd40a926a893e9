import { useEffect, useMemo, useState } from 'react'
import { captureFactor, linkStretches } from '../../app/measure/capture-factor'
import { linkableClips, linkedClip, recapture, sharedEvents } from '../../app/measure/capture-link'
import { measureContext } from '../../app/measure/context'
import { reasons, type ReasonCode } from '../../app/measure/reason'
import type { Capture, Clip } from '../../app/project/film'
import { useShown } from '../state/use-project'

type Way = 'known' | 'linked' | 'unknown'

interface Props {
  readonly clip: Clip
  /// What is stated now; null while it is not whole.
  readonly onCapture: (capture: Capture | null) => void
}

/// How many times slower than it happened a clip runs: typed, taken from the events that it shares with another clip, or not
/// known; and whether a replay keeps its speed.
export function CaptureFields({ clip, onCapture }: Props) {
  const { breakdown, tables } = useShown()
  const known = clip.capture === 'unknown' ? null : clip.capture
  const [way, setWay] = useState<Way>(known === null ? 'unknown' : known.link ? 'linked' : 'known')
  const [factor, setFactor] = useState(known?.factor ?? '1')
  const [u, setU] = useState(String(known?.u ?? 0))
  const [shared, setShared] = useState(known?.link?.shared ?? '')
  const context = useMemo(
    () => (breakdown ? measureContext(breakdown, (footage) => tables.get(footage) ?? null) : null),
    [breakdown, tables],
  )
  const others = context ? linkableClips(context, clip) : []
  const other = others.some(({ id }) => id === shared)
    ? shared
    : (others.find(({ id }) => context && sharedEvents(context, clip.id, id).length > 1) ?? others[0])?.id
  const trial = context && way === 'linked' && other !== undefined ? trialOf(context, clip, other) : null
  const stated: Capture | null =
    way === 'unknown' ? 'unknown' : way === 'known' ? { factor: factor.trim(), u: Number(u) } : trial?.factor.ok ? trial.capture : null
  const told = JSON.stringify(stated)
  useEffect(() => onCapture(stated), [told])
  if (!context) return null
  return (
    <>
      <label>
        Speed{' '}
        <select value={way} onChange={({ target }) => setWay(target.value as Way)}>
          <option value="known">known</option>
          <option value="linked">by another clip’s events</option>
          <option value="unknown">not known: frame counts only</option>
        </select>
      </label>
      {way === 'known' && (
        <label>
          Times slower than it happened <input value={factor} onChange={({ target }) => setFactor(target.value)} size={6} required />
        </label>
      )}
      {way === 'known' && (
        <label>
          ± (1 σ) <input type="number" min={0} step="any" value={u} onChange={({ target }) => setU(target.value)} required />
        </label>
      )}
      {way === 'linked' && (
        <label>
          Shared with{' '}
          <select value={other ?? ''} onChange={({ target }) => setShared(target.value)}>
            {others.length === 0 && <option value="">no clip of known speed</option>}
            {others.map(({ id, name }) => (
              <option key={id} value={id}>
                {name ?? id}: {eventCount(sharedEvents(context, clip.id, id).length)}
              </option>
            ))}
          </select>
        </label>
      )}
      {way === 'unknown' && (
        <p className="capture-says quiet">Until it is known, times, speeds and rates are refused; frame counts and orders stay.</p>
      )}
      {way === 'linked' && (
        <div className="capture-says" role="status">
          {trial ? <Trial trial={trial} /> : <p className="quiet">State the speed of the live shot first.</p>}
        </div>
      )}
    </>
  )
}

type Trial = ReturnType<typeof trialOf>

/// What a link to another clip would give.
function trialOf(context: ReturnType<typeof measureContext>, clip: Clip, other: string) {
  const events = sharedEvents(context, clip.id, other)
  const linked = linkedClip(clip, other, events)
  const factor = events.length < 2 ? ({ ok: false, error: 'capture-link-broken' } as const) : captureFactor(context, linked)
  return { events, factor, stretches: events.length < 2 ? null : linkStretches(context, linked), capture: recapture(context, linked) }
}

function Trial({ trial: { events, factor, stretches } }: { readonly trial: Trial }) {
  const name = (id: string): string => events.find(({ here }) => here.id === id)?.here.name ?? id
  const parts = stretches?.ok ? stretches.value : []
  if (events.length < 2)
    return (
      <p>
        {events.length === 0 ? 'No event is called alike on both clips' : `Both clips show ${name(events[0]!.here.id)} alone`}: mark{' '}
        {events.length === 0 ? 'two' : 'a second one'} on both on the Bench, by one name. Until then keep the clip with its speed not known:
        times, speeds and rates are refused.
      </p>
    )
  return (
    <>
      {factor.ok ? (
        <p>
          <strong>{withU(factor.value)}</strong>{' '}
          <span className="quiet">(1 σ) times slower than it happened, by {events.map(({ here }) => here.name).join(', ')}</span>
        </p>
      ) : (
        <p className="refusal">
          Not to be linked: {reasons[factor.error].wording}. {reasons[factor.error].advice}
        </p>
      )}
      {parts.length > 1 && (
        <p className="quiet">
          {parts.map((part) => `${name(part.from)} to ${name(part.to)}: ${withU(part)}`).join('; ')}.{' '}
          {factor.ok && 'The speed holds: no two parts lie further apart than 2 u.'}
        </p>
      )}
      {factor.ok &&
        factor.value.warnings.map((code: ReasonCode) => (
          <p key={code} className="quiet">
            {sentence(reasons[code].wording)} {reasons[code].advice}
          </p>
        ))}
    </>
  )
}

const eventCount = (n: number): string => (n === 0 ? 'no shared event' : `${n} shared ${n === 1 ? 'event' : 'events'}`)
/// To the second digit of its u.
const withU = ({ k, u }: { readonly k: number; readonly u: number }): string => {
  const digits = u > 0 ? Math.max(0, Math.min(6, 1 - Math.floor(Math.log10(u)))) : 6
  return u > 0 ? `${k.toFixed(digits)} ± ${u.toFixed(digits)}` : String(Number(k.toFixed(digits)))
}
const sentence = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}.`
