import { useLayoutEffect, useRef } from 'react'
import { reasons, type ReasonCode } from '../../app/measure/reason'
import type { Reading } from '../../app/measure/reading'
import { errorParts } from '../evidence/error-parts'
import { EDGE, type EdgePlace } from './edge-places'

interface Props {
  readonly places: readonly EdgePlace[]
  readonly chosen: string | null
  readonly inset: number
  readonly onChoose: (measure: string) => void
  /// How tall each reading's words came out, px.
  readonly onTall: (tall: ReadonlyMap<string, number>) => void
}

/// A value of more letters is a sentence, "foot down before contact": it is set smaller, and wraps.
const MOST_LETTERS = 16

/// The readings themselves: value first and large, what it is, and what its error comes from or why it is no number.
export function EdgeReadings({ places, chosen, inset, onChoose, onTall }: Props) {
  const list = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => {
    const rows = [...(list.current?.querySelectorAll<HTMLElement>('.edge-reading') ?? [])]
    onTall(new Map(rows.map((row) => [row.dataset['measure'] ?? '', row.offsetHeight])))
  }, [places, onTall])
  return (
    <div className="edge-readings" ref={list}>
      {places.map(({ reading, side, top }) => {
        const [value = '', error = ''] = reading.plate.value.split(/ (?=±)/)
        const refused = reading.verdict === 'refused'
        return (
          <button
            key={reading.id}
            type="button"
            className={`edge-reading ${side} ${reading.verdict}`}
            style={side === 'left' ? { left: EDGE, top } : { right: EDGE + inset, top }}
            data-measure={reading.id}
            aria-pressed={chosen === reading.id}
            onClick={() => onChoose(reading.id)}
          >
            <span className={value.length > MOST_LETTERS ? 'edge-value in-words' : 'edge-value'}>
              <b>{refused ? 'not from film' : value}</b>
              {error && ` ${error}`}
            </span>
            <span className="edge-what">{reading.plate.what}</span>
            <span className="edge-why">{whyWords(reading)}</span>
          </button>
        )
      })}
    </div>
  )
}

/// "● placing ±11°, blur ±3°", "◐ a body point was placed only once", "↔ range only: …", "⊘ …".
export function whyWords(reading: Reading): string {
  const [first] = reading.reasons
  const reason = first === undefined ? '' : reasons[first as ReasonCode].wording
  if (reading.verdict === 'refused') return `⊘ ${reason}`
  if (reading.verdict === 'range') return `↔ range only: ${reason}`
  const parts = errorParts(reading, 3).replaceAll(' · ', ', ')
  if (reading.verdict === 'warned') return `◐ ${reason || parts}`
  return `● ${parts || reason || 'as counted'}`
}
