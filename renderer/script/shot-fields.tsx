import { useMemo } from 'react'
import { measureContext } from '../../app/measure/context'
import { mayHaveCurve } from '../../app/measure/curve'
import { measuresBeside } from '../../app/measure/curve-beside'
import type { Reading } from '../../app/measure/reading'
import type { Breakdown } from '../../app/project/breakdown'
import type { Event } from '../../app/project/film'
import type { Card, Hold, Run, Shot } from '../../app/project/picture'
import { measureNames } from '../bench/measure-names'
import { Fields, FrameField, judgeFraction, Select, TextField } from '../sheets/fields'
import { useTyped } from '../sheets/use-typed'
import { clipAt, clipName } from './clip-name'
import { PairFields } from './pair-fields'
import type { NextShot } from './shot-changes'
import { secondsWord, speedOptions, speedWord } from './shot-words'

interface Props<S extends Shot> {
  readonly shot: S
  readonly breakdown: Breakdown
  readonly readings: ReadonlyMap<string, Reading>
  /// The frame on screen, where it is this shot's first picture's.
  readonly shown: number | null
  readonly onChange: (label: string, next: NextShot) => Promise<unknown>
}

/// What a shot shows, each part in a field of its own.
export function ShotFields(props: Props<Shot>) {
  const { shot } = props
  if ('run' in shot) return <RunFields {...props} shot={shot} />
  if ('hold' in shot) return <HoldFields {...props} shot={shot} />
  if ('pair' in shot) return <PairFields shot={shot} breakdown={props.breakdown} onChange={props.onChange} />
  return <CardFields {...props} shot={shot} />
}

function RunFields({ shot, breakdown, shown, onChange }: Props<Run>) {
  const clip = clipAt(breakdown, shot.run)
  const [low, high] = clip ? [clip.from, clip.to] : [0, 0]
  return (
    <Fields label="This run">
      <Select
        label="Clip"
        value={shot.run}
        options={clipOptions(breakdown, shot.run)}
        onSet={(id) => onChange('Change the clip', ofClip(shot, breakdown, id))}
      />
      <Select
        label="Speed"
        value={shot.speed}
        options={speedOptions(shot.speed)}
        onSet={(speed) => onChange(`Run at ${speedWord(speed)}`, { ...shot, speed })}
      />
      <FrameField
        label="From"
        value={shot.from}
        from={low}
        to={shot.to - 1}
        shown={shown}
        onSet={(from) => onChange('Begin the run elsewhere', { ...shot, from })}
      />
      <FrameField
        label="Up to"
        value={shot.to}
        from={shot.from + 1}
        to={high}
        shown={shown === null ? null : shown + 1}
        onSet={(to) => onChange('End the run elsewhere', { ...shot, to })}
      />
      <EventSelect
        label="or from"
        breakdown={breakdown}
        clip={shot.run}
        onSet={({ earliest }) => (earliest < shot.to ? onChange('Begin the run elsewhere', { ...shot, from: earliest }) : null)}
      />
      <EventSelect
        label="or up to"
        breakdown={breakdown}
        clip={shot.run}
        onSet={({ latest }) => (latest > shot.from ? onChange('End the run elsewhere', { ...shot, to: Math.min(high, latest + 1) }) : null)}
      />
    </Fields>
  )
}

function HoldFields({ shot, breakdown, shown, onChange }: Props<Hold>) {
  const clip = clipAt(breakdown, shot.hold)
  return (
    <Fields label="This hold">
      <Select
        label="Clip"
        value={shot.hold}
        options={clipOptions(breakdown, shot.hold)}
        onSet={(id) => onChange('Change the clip', ofClip(shot, breakdown, id))}
      />
      <FrameField
        label="Frame"
        value={shot.at}
        from={clip?.from ?? 0}
        to={(clip?.to ?? 1) - 1}
        shown={shown}
        onSet={(at) => onChange('Hold another frame', { ...shot, at })}
      />
      <EventSelect
        label="or at"
        breakdown={breakdown}
        clip={shot.hold}
        onSet={({ earliest }) => onChange('Hold another frame', { ...shot, at: earliest })}
      />
      <TextField
        label="For"
        value={secondsWord(shot.seconds)}
        unit="s"
        size={5}
        numeric
        judge={judgeFraction('positive')}
        onSet={(seconds) => onChange('Change how long it holds', { ...shot, seconds })}
      />
    </Fields>
  )
}

const cardKinds = [
  ['text', 'words'],
  ['title', 'title'],
  ['caution', 'before you watch'],
  ['end', 'end card'],
] as const

function CardFields({ shot, breakdown, readings, onChange }: Props<Card>) {
  const lines = (text: string): string[] =>
    text
      .split('\n')
      .map((line) => line.trim())
      .filter((line) => line !== '')
      .slice(0, 20)
  const says = useTyped({
    value: shot.lines?.join('\n') ?? '',
    clean: (text) => lines(text).join('\n'),
    onSet: (text) => {
      const { lines: _lines, ...rest } = shot
      return onChange('Change the card’s words', text === '' ? rest : { ...rest, lines: lines(text) })
    },
  })
  const curves = (breakdown.measures ?? [])
    .filter(mayHaveCurve)
    .map((measure) => [measure.id, measure.label ?? readings.get(measure.id)?.plate.what ?? measure.id] as const)
  const { measure: shown, beside, on, ...words } = { measure: undefined, beside: undefined, on: undefined, ...shot }
  const over = useMemo(() => {
    const context = measureContext(breakdown, () => null)
    const measure = shown === undefined ? null : context.measure(shown)
    const others = measure ? measuresBeside(measure, context) : []
    const names = measureNames(others, context, readings)
    return others.map(({ id }) => [id, names.get(id) ?? id] as const)
  }, [breakdown, readings, shown])
  return (
    <Fields label="This card">
      <Select
        label="Card"
        value={shot.card}
        options={curves.length > 0 || shown !== undefined ? [...cardKinds, ['curve', 'curve'] as const] : cardKinds}
        onSet={(card) =>
          onChange('Make another card', card === 'curve' ? { ...words, card, measure: shown ?? curves[0]?.[0] ?? '' } : { ...words, card })
        }
      />
      {shot.card === 'curve' && (
        <Select
          label="of"
          value={shot.measure}
          options={curves.some(([id]) => id === shot.measure) ? curves : [[shot.measure, 'a measure that has none'] as const, ...curves]}
          onSet={(measure) => onChange('Show another curve', { ...words, card: 'curve', measure })}
        />
      )}
      {shot.card === 'curve' && (over.length > 0 || beside !== undefined) && (
        <Select
          label="Over it"
          value={beside ?? ''}
          options={[
            ['', 'no other curve'] as const,
            ...over,
            ...(beside === undefined || over.some(([id]) => id === beside) ? [] : [[beside, 'a measure that has none'] as const]),
          ]}
          onSet={(id) =>
            onChange('Lay another curve over it', {
              ...words,
              card: 'curve',
              measure: shot.measure,
              ...(id === '' ? {} : { beside: id, ...(on === undefined ? {} : { on }) }),
            })
          }
        />
      )}
      <TextField
        label="For"
        value={shot.seconds === undefined ? '' : secondsWord(shot.seconds)}
        unit="s"
        size={5}
        numeric
        judge={(text) => (text === '' ? null : judgeFraction('positive')(text))}
        onSet={(seconds) => onChange('Change how long it stands', cardLasting(shot, seconds))}
      />
      <label className="field field-wide">
        <span>{shot.card === 'curve' ? 'Line above it, instead of what it measures' : 'Lines, one below the other'}</span>
        <textarea
          value={says.text}
          rows={3}
          onChange={(event) => says.write(event.target.value)}
          onKeyDown={(event) => event.stopPropagation()}
          onBlur={says.set}
        />
      </label>
    </Fields>
  )
}

function cardLasting(shot: Card, seconds: string): Card {
  const { seconds: _seconds, ...rest } = shot
  return seconds === '' ? rest : { ...rest, seconds }
}

function EventSelect({
  label,
  breakdown,
  clip,
  onSet,
}: {
  readonly label: string
  readonly breakdown: Breakdown
  readonly clip: string
  readonly onSet: (event: Event) => Promise<unknown> | null
}) {
  const events = (breakdown.events ?? []).filter((event) => event.clip === clip)
  if (events.length === 0) return null
  return (
    <Select
      label={label}
      value=""
      options={[['', 'an event …'], ...events.map(({ id, name }) => [id, name] as const)]}
      onSet={(id) => {
        const event = events.find((each) => each.id === id)
        return event ? onSet(event) : null
      }}
    />
  )
}

const clipOptions = (breakdown: Breakdown, now: string): (readonly [string, string])[] =>
  breakdown.clips.filter(({ id, use }) => id === now || use?.state !== 'rejected').map(({ id }) => [id, clipName(breakdown, id)] as const)

/// The same shot of another clip: all of it, or its first event; marks and framing belong to the picture and stay behind.
function ofClip(shot: Run | Hold, breakdown: Breakdown, id: string): Shot {
  const clip = clipAt(breakdown, id)
  if (!clip) return shot
  if ('run' in shot) return { run: id, from: clip.from, to: clip.to, speed: shot.speed }
  return { hold: id, at: breakdown.events?.find((event) => event.clip === id)?.earliest ?? clip.from, seconds: shot.seconds }
}
