import { eventAgreement, markedTwice } from '../../app/measure/agreement'
import { withMinus } from '../../app/measure/minus'
import type { Event } from '../../app/project/film'
import { bracketWords } from './blind-marking'

/// What a second, blind marking of an event says of the first.
export function MarkingDifference({
  event,
  onTakeBoth,
}: {
  readonly event: Event
  readonly onTakeBoth: ((bracket: { readonly earliest: number; readonly latest: number }) => void) | null
}) {
  const [twice] = markedTwice([event])
  if (!twice || !event.markings) return null
  const { first, second } = event.markings
  const both = { earliest: Math.min(event.earliest, second.earliest), latest: Math.max(event.latest, second.latest) }
  return (
    <>
      <p className="quiet">
        First {bracketWords(first)}; blind, the second time, {bracketWords(second)}: {differenceWords(twice.difference)}
        {twice.meet ? '' : '; the two have no frame in common'}.
      </p>
      {onTakeBoth && (both.earliest !== event.earliest || both.latest !== event.latest) && (
        <p className="actions">
          <button type="button" onClick={() => onTakeBoth(both)}>
            Take both into the bracket: {bracketWords(both)}
          </button>
        </p>
      )}
    </>
  )
}

/// "2 frames later".
export function differenceWords(frames: number): string {
  if (frames === 0) return 'the same'
  const size = Math.abs(frames)
  return `${size} ${size === 1 ? 'frame' : 'frames'} ${frames > 0 ? 'later' : 'earlier'}`
}

/// What the events of a clip that were marked twice say of its markings; nothing before there are two.
export function AgreementOf({ events }: { readonly events: readonly Event[] }) {
  const found = eventAgreement(events)
  if (!found) return null
  const [low, high] = found.limits.map((limit) => withMinus(limit.toFixed(1)))
  return (
    <p className="quiet">
      {found.n} events of this clip are marked twice: the second marking lies {differenceWords(Number(found.bias.toFixed(1)))} on average,
      and 95 % of such differences between {low} and {high} frames.
    </p>
  )
}
