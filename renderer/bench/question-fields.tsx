import { eyeU } from '../../app/measure/by-eye'
import type { Event, Subject } from '../../app/project/film'
import type { Choices } from './question-choices'

/// Fields of the questions that are asked of one clip.

export interface FieldProps {
  readonly choices: Choices
  readonly set: (part: Partial<Choices>) => void
}

export function LimbField({ choices, set, limbs }: FieldProps & { readonly limbs: readonly string[] }) {
  return (
    <label>
      Which{' '}
      <select aria-label="Which limb" value={choices.limb} onChange={(event) => set({ limb: event.target.value })}>
        {limbs.map((name) => (
          <option key={name}>{name}</option>
        ))}
      </select>
    </label>
  )
}

export function EventField({
  label,
  value,
  events,
  onSet,
}: {
  readonly label: string
  readonly value: string
  readonly events: readonly Event[]
  readonly onSet: (event: string) => void
}) {
  return (
    <label>
      {label}{' '}
      <select value={value} onChange={(event) => onSet(event.target.value)}>
        {events.map(({ id, name, earliest }) => (
          <option key={id} value={id}>
            {events.some((other) => other.id !== id && other.name === name) ? `${name}, frame ${earliest}` : name}
          </option>
        ))}
      </select>
    </label>
  )
}

export function AgainstField({ choices, set }: FieldProps) {
  return (
    <label>
      Against{' '}
      <select value={choices.against} onChange={(event) => set({ against: event.target.value as Choices['against'] })}>
        <option value="hall">the picture</option>
        <option value="trunk">the trunk (middle of the shoulders)</option>
      </select>
    </label>
  )
}

export function TurnsField({ choices, set }: FieldProps) {
  return (
    <label>
      While it{' '}
      <select value={choices.turns} onChange={(event) => set({ turns: event.target.value as Choices['turns'] })}>
        <option value="either">opens or closes</option>
        <option value="opening">opens</option>
        <option value="closing">closes</option>
      </select>
    </label>
  )
}

export function TableField({ choices, set }: FieldProps) {
  return (
    <label>
      Masses of the body by{' '}
      <select value={choices.table} onChange={(event) => set({ table: event.target.value as Choices['table'] })}>
        <option value="winter">Winter’s table</option>
        <option value="de-leva-female">de Leva’s table, women</option>
        <option value="de-leva-male">de Leva’s table, men</option>
        <option value="hip-midpoint">none: the middle of the hips instead</option>
      </select>
    </label>
  )
}

/// What is judged by eye, how it was seen, and how far it may be off: as the person states it, else as such judging is taken to be.
export function EyeFields({ choices, set }: FieldProps) {
  const taken = choices.value.trim() === '' ? NaN : eyeU({ ...choices, value: Number(choices.value) })
  return (
    <>
      <label>
        What <input value={choices.what} onChange={(event) => set({ what: event.target.value })} />
      </label>
      <div className="two">
        <label>
          Value <input type="number" step="any" value={choices.value} onChange={(event) => set({ value: event.target.value })} />
        </label>
        <label>
          Unit <input value={choices.unit} size={5} onChange={(event) => set({ unit: event.target.value })} />
        </label>
      </div>
      {choices.unit === '°' && (
        <label>
          Seen{' '}
          <select
            aria-label="How it is seen"
            value={choices.seen}
            onChange={(event) => set({ seen: event.target.value as Choices['seen'] })}
          >
            <option value="planar">flat to the picture</option>
            <option value="oblique">obliquely</option>
            <option value="transverse">as a turn about the body’s own axis</option>
          </select>
        </label>
      )}
      <label>
        ± (1 σ){' '}
        <input
          type="number"
          step="any"
          min={0}
          value={choices.u}
          placeholder={Number.isFinite(taken) ? String(Number(taken.toPrecision(3))) : ''}
          onChange={(event) => set({ u: event.target.value })}
        />
      </label>
      {choices.u.trim() === '' && (
        <p className="quiet">
          Without it{' '}
          {choices.unit === '°' ? `${eyeU({ ...choices, value: 0 })}° is taken, for how it is seen` : 'a quarter of the value is taken'}.
        </p>
      )}
    </>
  )
}

/// What foreshortening needs: how wide hips and shoulders are where they face the camera, and which side is nearer.
export function WidthFields({
  choices,
  set,
  frame,
  widest,
  sides,
}: FieldProps & {
  readonly frame: number
  readonly widest: { readonly hips: number | null; readonly shoulders: number | null }
  readonly sides: readonly (readonly ['left' | 'right', string])[]
}) {
  const row = (name: string, key: 'hipsFrame' | 'shouldersFrame', at: number | null) => (
    <div className="two">
      <label>
        {name} square on frame{' '}
        <input
          inputMode="numeric"
          value={choices[key]}
          placeholder={at === null ? '' : `widest on ${at}`}
          onChange={(event) => set({ [key]: event.target.value })}
        />
      </label>
      <button
        type="button"
        onClick={() => set({ [key]: String(frame) })}
        aria-label={`This one: ${name.toLowerCase()} square to the camera`}
      >
        This one
      </button>
    </div>
  )
  const near = (name: string, key: 'nearHip' | 'nearShoulder') => (
    <label>
      Nearer {name}{' '}
      <select value={choices[key]} onChange={(event) => set({ [key]: event.target.value })}>
        <option value="">cannot be seen</option>
        {sides.map(([side, says]) => (
          <option key={side} value={side}>
            {says}
          </option>
        ))}
      </select>
    </label>
  )
  return (
    <>
      {row('Hips', 'hipsFrame', widest.hips)}
      {row('Shoulders', 'shouldersFrame', widest.shoulders)}
      <div className="two even">
        {near('hip', 'nearHip')}
        {near('shoulder', 'nearShoulder')}
      </div>
    </>
  )
}

/// A line on the floor, frozen at an event, from this person to another; and that the foot stands flat.
export function LineFields({
  choices,
  set,
  events,
  others,
}: FieldProps & { readonly events: readonly Event[]; readonly others: readonly Subject[] }) {
  if (events.length === 0) return <p className="quiet">Mark the event at which the line is frozen first: E.</p>
  if (others.length === 0) return <p className="quiet">Name the person towards whom the line goes first.</p>
  return (
    <>
      <div className="two even">
        <label>
          Line towards{' '}
          <select value={choices.other} onChange={(event) => set({ other: event.target.value })}>
            {others.map(({ id, name }) => (
              <option key={id} value={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
        <EventField label="Frozen at" value={choices.from} events={events} onSet={(from) => set({ from })} />
      </div>
      <label className="check">
        <input type="checkbox" checked={choices.planted} onChange={(event) => set({ planted: event.target.checked })} /> The foot stands
        flat on the floor
      </label>
    </>
  )
}
