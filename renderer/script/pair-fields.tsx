import { X } from 'lucide-react'
import type { Breakdown } from '../../app/project/breakdown'
import type { Pair, Shot } from '../../app/project/picture'
import { Fields, judgeFraction, Select, TextField } from '../sheets/fields'
import { clipName } from './clip-name'
import { pointName } from './mark-words'
import { laidAs, layable, lyingOn, MOST_MEMBERS, withMemberAdded, withMemberChanged, withMemberTaken } from './pair-changes'
import type { NextShot } from './shot-changes'
import { secondsWord, speedOptions, speedWord } from './shot-words'

interface Props {
  readonly shot: Pair
  readonly breakdown: Breakdown
  readonly onChange: (label: string, next: NextShot) => Promise<unknown>
}

const layouts = [
  ['beside', 'side by side'],
  ['above', 'one above the other'],
  ['over', 'over each other'],
] as const

/// The clips of a pair, two to four, the event that each is in step at, and how they lie.
export function PairFields({ shot, breakdown, onChange }: Props) {
  const events = (breakdown.events ?? []).map(({ id, name, clip }) => [id, `${name} in ${clipName(breakdown, clip)}`] as const)
  const others = events.filter(([id]) => !shot.pair.some(({ event }) => event === id))
  const over = layable({ ...shot, layout: 'over' }, breakdown)
  const fraction = (label: string, key: 'before' | 'after' | 'still', words: string) => (
    <TextField
      label={label}
      value={secondsWord(shot[key] ?? '0')}
      unit="s"
      size={4}
      numeric
      judge={judgeFraction('zero')}
      onSet={(value) => onChange(words, { ...shot, [key]: value })}
    />
  )
  const lay = (layout: Pair['layout']): Promise<unknown> | null =>
    laidAs(shot, layout, breakdown) &&
    onChange(
      'Lay the pair otherwise',
      ofPair((now) => laidAs(now, layout, breakdown) ?? now),
    )
  return (
    <Fields label="This pair">
      {shot.pair.map((member, i) => (
        <span key={i} className="member">
          <Select
            label={i === 0 ? 'In step at' : 'with'}
            value={member.event}
            options={events}
            onSet={(event) =>
              onChange(
                'Pair another clip',
                ofPair((now) => withMemberChanged(now, i, event, breakdown)),
              )
            }
          />
          {shot.pair.length > 2 && (
            <button
              type="button"
              className="small"
              title="take this clip out of the pair"
              aria-label={`Take out: ${events.find(([id]) => id === member.event)?.[1] ?? member.event}`}
              onClick={() => onChange('Take a clip out of the pair', withMemberTaken(shot, i, breakdown))}
            >
              <X size={14} aria-hidden="true" />
            </button>
          )}
        </span>
      ))}
      {shot.pair.length < MOST_MEMBERS && others.length > 0 && (
        <Select
          label="and"
          value=""
          options={[['', 'another clip …'], ...others]}
          onSet={(event) =>
            onChange(
              'Add a clip to the pair',
              ofPair((now) => withMemberAdded(now, event, breakdown)),
            )
          }
        />
      )}
      <Select
        label="Laid"
        value={shot.layout}
        options={layouts.filter(([layout]) => layout !== 'over' || over !== null || shot.layout === 'over')}
        onSet={lay}
      />
      {shot.layout === 'over' && shot.over && over && (
        <LyingOn shot={shot} breakdown={breakdown} subjects={over.subjects} points={over.points} onChange={onChange} />
      )}
      <Select
        label="Speed"
        value={shot.speed}
        options={speedOptions(shot.speed)}
        onSet={(speed) => onChange(`Run at ${speedWord(speed)}`, { ...shot, speed })}
      />
      {fraction('Before', 'before', 'Change what comes before')}
      {fraction('Still', 'still', 'Change how long it stands')}
      {fraction('After', 'after', 'Change what comes after')}
      {over === null && (
        <p className="quiet field-wide">
          {shot.layout === 'over'
            ? 'They lie edge to edge: no two points are placed in each of them on the frame of its event.'
            : 'To lay them over each other, place the same two points in each on the frame of its event.'}
        </p>
      )}
    </Fields>
  )
}

/// Done to the pair as it is when its turn comes: what was chosen just before may be on its way still.
const ofPair =
  (change: (now: Pair) => Pair) =>
  (now: Shot): Shot =>
    'pair' in now ? change(now) : now

interface LyingOnProps extends Props {
  readonly subjects: readonly (readonly string[])[]
  readonly points: readonly string[]
}

/// The two points that lie on one another, and whose they are where a clip shows more than one.
function LyingOn({ shot, breakdown, subjects, points, onChange }: LyingOnProps) {
  const names = points.map((point) => [point, pointName(point)] as const)
  const nameOf = (subject: string): string => breakdown.subjects.find(({ id }) => id === subject)?.name ?? subject
  return (
    <>
      {([0, 1] as const).map((of) => (
        <Select
          key={of}
          label={of === 0 ? 'Lying on each other at' : 'and at'}
          value={shot.over?.points[of] ?? ''}
          options={names}
          onSet={(point) =>
            onChange(
              'Lay the pair on another point',
              ofPair((now) => lyingOn(now, { point, of }, breakdown)),
            )
          }
        />
      ))}
      {shot.pair.map(
        (member, of) =>
          subjects[of] &&
          subjects[of].length > 1 && (
            <Select
              key={of}
              label={`of, in ${clipName(breakdown, member.clip)}`}
              value={shot.over?.subjects[of] ?? ''}
              options={subjects[of].map((subject) => [subject, nameOf(subject)] as const)}
              onSet={(subject) =>
                onChange(
                  'Lay the pair on another subject',
                  ofPair((now) => lyingOn(now, { subject, of }, breakdown)),
                )
              }
            />
          ),
      )}
    </>
  )
}
