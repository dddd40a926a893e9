import { isBackground, sayPoint } from '../../app/body/landmark-name'
import { definitionOf } from '../../app/body/body-points'
import type { Sample } from '../../app/project/film'
import { samplesOn } from '../../app/project/samples-on'
import { useShown } from '../state/use-project'
import type { BenchHand } from './bench-hand'
import { BlurField } from './blur-field'
import { outlyingOf } from './outlying'
import { isByHand } from './placing'

interface Props {
  readonly hand: BenchHand
  readonly onRemove: (point: string) => void
  readonly onRemovePlacing: (point: string, index: number) => void
  readonly onBlurred: (point: string, blur: number | null) => Promise<unknown>
}

/// The points that are placed on the frame, each with how often and how it was seen; and where each lies on the body.
export function PointsSheet({ hand, onRemove, onRemovePlacing, onBlurred }: Props) {
  const { breakdown, readOnly } = useShown()
  const { clip, subject, frame, lead } = hand
  const here = (breakdown?.landmarks ?? [])
    .filter((l) => l.clip === clip?.id && l.subject === subject && !isBackground(l.point))
    .map((l) => ({ point: l.point, samples: samplesOn(l.samples, frame) }))
  return (
    <>
      <h2>Points on frame {frame}</h2>
      {here.every(({ samples }) => samples.length === 0) && <p className="quiet">None is placed on this frame.</p>}
      {hand.suggested && (
        <ul className="plain events" aria-label="Suggested, not looked at yet">
          {hand.suggested.points.map(({ point, confidence }) => (
            <li key={point}>
              <strong>{sayPoint(point, lead)}</strong>{' '}
              <span className="figures">
                suggested by {hand.suggested?.by}, {Math.round(100 * confidence)} % sure: not looked at yet
              </span>
            </li>
          ))}
        </ul>
      )}
      <ul className="plain events">
        {here
          .filter(({ samples }) => samples.length > 0)
          .map(({ point, samples }) => (
            <li key={point}>
              <p>
                <strong>{sayPoint(point, lead)}</strong>{' '}
                <span className="figures">
                  {samples.length === 1 ? 'placed once' : `placed ${samples.length} times`}
                  {samples.some((s) => s.origin === 'tracked')
                    ? ', followed'
                    : samples.some((s) => s.origin === 'suggested')
                      ? ', suggested: not looked at yet'
                      : ''}
                </span>
                {samples.some((s) => s.seen === 'occluded') && ' · hidden'}
                {samples.some((s) => s.seen === 'blurred') && ' · blurred'}
              </p>
              {samples.some((s) => isByHand(s) && s.seen === 'blurred') && !readOnly && (
                <BlurField
                  key={frame}
                  label={`Blur of the ${sayPoint(point, lead)}, pixels across the limb`}
                  blur={statedBlur(samples)}
                  assumed={hand.assumedBlur}
                  onBlur={(blur) => onBlurred(point, blur)}
                  onDone={() => undefined}
                />
              )}
              {outlyingOf(samples) && !readOnly && (
                <p role="status">
                  Its {ORDINALS[outlyingOf(samples)!.index] ?? 'last'} placing lies {Math.round(outlyingOf(samples)!.away)} pixels from the
                  others. A slip?{' '}
                  <button type="button" onClick={() => onRemovePlacing(point, outlyingOf(samples)!.index)}>
                    Take that placing away
                  </button>
                </p>
              )}
              {definitionOf(point) && <p className="quiet">{definitionOf(point)}</p>}
              {!readOnly && (
                <p className="actions">
                  <button type="button" onClick={() => hand.place([point])} aria-label={`Place again: ${sayPoint(point, lead)}`}>
                    Place again
                  </button>
                  <button type="button" onClick={() => onRemove(point)} aria-label={`Remove ${sayPoint(point, lead)}`}>
                    Remove
                  </button>
                </p>
              )}
            </li>
          ))}
      </ul>
    </>
  )
}

function statedBlur(samples: readonly Sample[]): number | undefined {
  const stated = samples.flatMap(({ blur }) => (blur === undefined ? [] : [blur]))
  return stated.length > 0 ? Math.max(...stated) : undefined
}

const ORDINALS = ['first', 'second', 'third']
