import type { Breakdown } from '../../app/project/breakdown'
import { useShown } from '../state/use-project'
import { errorParts } from '../evidence/error-parts'
import { LiveValue } from './live-value'

/// The values in a paragraph's words, each with what it is, where it was measured and where its error comes from.
export function RestsOn({ paragraph }: { readonly paragraph: string }) {
  const { breakdown, readings } = useShown()
  const values = valuesOf(breakdown, paragraph)
  if (values.length === 0) return null
  return (
    <section className="rests-on" aria-label="What these words rest on">
      <h2>What these words rest on</h2>
      <ul className="plain">
        {values.map((measure) => {
          const reading = readings.get(measure)
          return (
            <li key={measure}>
              <LiveValue reading={reading} measure={measure} /> {reading?.plate.what}
              <div className="quiet">
                {reading?.clip}
                {reading === undefined || reading.frame === null ? '' : `, frame ${reading.frame}`}
                {reading && reading.parts.length > 0 ? ` · ${errorParts(reading, 3)}` : ''}
              </div>
            </li>
          )
        })}
      </ul>
    </section>
  )
}

function valuesOf(breakdown: Breakdown | null, paragraph: string): string[] {
  const entry = breakdown?.script.find((e) => 'text' in e && e.id === paragraph)
  if (!entry || !('text' in entry)) return []
  return [...new Set(entry.text.flatMap((piece) => (typeof piece === 'object' && 'value' in piece ? [piece.value] : [])))]
}
