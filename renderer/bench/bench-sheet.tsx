import { keyWords, type SheetName } from './bench-keys'
import type { BenchHand } from './bench-hand'
import { EventSheet } from './event-sheet'
import { MeasureSheet } from './measure-sheet'
import { PointsSheet } from './points-sheet'
import { ViewSheet } from './view-sheet'

interface Light {
  readonly brightness: number
  readonly contrast: number
}

interface Props {
  readonly name: SheetName
  readonly hand: BenchHand
  readonly light: Light
  readonly onLight: (light: Light) => void
  readonly onClose: () => void
  readonly onIntoScript: () => void
  readonly onRemovePoint: (point: string) => void
  readonly onRemovePlacing: (point: string, index: number) => void
  readonly onBlurred: (point: string, blur: number | null) => Promise<unknown>
}

/// The one sheet that may lie at the stage's right: what was asked for.
export function BenchSheet({ name, hand, light, onLight, onClose, onIntoScript, onRemovePoint, onRemovePlacing, onBlurred }: Props) {
  return (
    <section className="sheet" aria-label={name}>
      <button type="button" className="sheet-close" onClick={onClose} aria-label={`Close ${name}`}>
        ✕
      </button>
      {name === 'Measures' && <MeasureSheet hand={hand} />}
      {name === 'Measures' && hand.chosen !== null && (
        <p className="actions">
          <button type="button" onClick={onIntoScript} title="I">
            Put the chosen value into the script
          </button>
        </p>
      )}
      {name === 'Events' && <EventSheet hand={hand} />}
      {name === 'View' && <ViewSheet hand={hand} />}
      {name === 'View' && (
        <div className="light">
          <h3>To see more</h3>
          <label>
            Brightness{' '}
            <input
              type="range"
              min={0.5}
              max={4}
              step={0.1}
              value={light.brightness}
              onChange={(event) => onLight({ ...light, brightness: Number(event.target.value) })}
            />
          </label>
          <label>
            Contrast{' '}
            <input
              type="range"
              min={0.5}
              max={3}
              step={0.1}
              value={light.contrast}
              onChange={(event) => onLight({ ...light, contrast: Number(event.target.value) })}
            />
          </label>
          <p className="quiet">Only here; the film is shown as it is.</p>
        </div>
      )}
      {name === 'Points' && <PointsSheet hand={hand} onRemove={onRemovePoint} onRemovePlacing={onRemovePlacing} onBlurred={onBlurred} />}
      {name === 'Keys' && (
        <>
          <h2>Keys</h2>
          <dl className="keys">
            {keyWords.map(([key, what]) => (
              <div key={key}>
                <dt>{key}</dt>
                <dd>{what}</dd>
              </div>
            ))}
          </dl>
        </>
      )}
    </section>
  )
}
