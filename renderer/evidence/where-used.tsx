import { useEffect, useRef, useState, type KeyboardEvent } from 'react'
import type { UsedKind } from '../../app/release/where-used'
import { recordNames } from '../../app/script/claims/record-names'
import { goTo } from '../state/place'
import type { Shown } from '../state/shown'
import { useShown } from '../state/use-project'
import { NotAnswered, useAnswer } from './claim-answers'
import { SaidPlaces, UsePlaces } from './place-list'

interface Thing {
  readonly of: UsedKind
  readonly id: string
  readonly name: string
  readonly note: string
  readonly clip: string | null
  readonly frame: number | null
}

const HEADINGS: Readonly<Record<UsedKind, string>> = { measure: 'Measures', event: 'Events', reference: 'References' }

/// Where a measure, an event or a reference is used, in the film as it stands and in the published versions. Up and
/// down choose one, Right goes to its places, Enter goes to the place, Left comes back; B shows it on the Bench.
export function WhereUsed() {
  const shown = useShown()
  const cited = useAnswer('references.list', {}).value
  const things = thingsOf(shown, new Map(cited?.references.map((reference) => [reference.id, reference])))
  const [chosen, setChosen] = useState('')
  const list = useRef<HTMLDivElement>(null)
  const places = useRef<HTMLDivElement>(null)
  /// Whether the keys are on their way to places that have not come yet.
  const going = useRef(false)
  const at = Math.max(
    0,
    things.findIndex((thing) => keyOf(thing) === chosen),
  )
  const now = things[at]
  useEffect(() => {
    if (list.current === document.activeElement) list.current?.querySelector('[aria-selected="true"]')?.scrollIntoView({ block: 'nearest' })
  }, [at])
  if (!now) return null

  const toBench = (): void =>
    now.of !== 'reference' ? goTo({ room: 'Bench', ...(now.clip === null ? {} : { clip: now.clip, frame: now.frame }) }) : undefined
  const toPlaces = (): void => {
    const first = places.current?.querySelector<HTMLButtonElement>('button.place:enabled')
    going.current = !first
    first?.focus()
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    going.current = false
    if (event.ctrlKey || event.metaKey || event.altKey) return
    const by = event.key === 'ArrowDown' ? 1 : event.key === 'ArrowUp' ? -1 : 0
    const next = things[at + by]
    if (by !== 0 && next) setChosen(keyOf(next))
    else if (event.key === 'Home') setChosen('')
    else if (event.key === 'End') setChosen(keyOf(things.at(-1) ?? now))
    else if (event.key === 'ArrowRight' || event.key === 'Enter') toPlaces()
    else if (event.key.toLowerCase() === 'b') toBench()
    else if (by === 0) return
    event.preventDefault()
  }
  const back = (event: KeyboardEvent): void => {
    if (event.key !== 'ArrowLeft' && event.key !== 'Escape') return
    list.current?.focus()
    event.preventDefault()
  }
  return (
    <section aria-labelledby="where-used" className="where-used">
      <h2 id="where-used">Where it is used</h2>
      <div className="where-used-columns">
        <div
          ref={list}
          role="listbox"
          tabIndex={0}
          className="used-things"
          aria-labelledby="where-used"
          aria-activedescendant={`used-${at}`}
          onKeyDown={onKeyDown}
        >
          {(['measure', 'event', 'reference'] as const).map((of) => {
            const own = things.flatMap((thing, i) => (thing.of === of ? [{ thing, i }] : []))
            return own.length === 0 ? null : (
              <div key={of} role="group" aria-labelledby={`used-${of}`}>
                <p id={`used-${of}`} role="presentation" className="quiet">
                  {HEADINGS[of]}
                </p>
                {own.map(({ thing, i }) => (
                  <div
                    key={thing.id}
                    id={`used-${i}`}
                    role="option"
                    aria-selected={i === at}
                    className="used-thing"
                    onClick={() => {
                      setChosen(keyOf(thing))
                      list.current?.focus()
                    }}
                  >
                    <b>
                      <bdi>{thing.name}</bdi>
                    </b>{' '}
                    <span className="quiet">
                      <bdi>{thing.note}</bdi>
                    </span>
                  </div>
                ))}
              </div>
            )
          })}
        </div>
        <div ref={places} className="used-places" onKeyDown={back}>
          <Used of={now.of} id={now.id} name={now.name} onFound={() => going.current && toPlaces()} />
          {now.of !== 'reference' && now.clip !== null && (
            <p className="actions">
              <button type="button" title="B" onClick={toBench}>
                Show it on the Bench
              </button>
            </p>
          )}
        </div>
      </div>
    </section>
  )
}

function Used({
  of,
  id,
  name,
  onFound,
}: {
  readonly of: UsedKind
  readonly id: string
  readonly name: string
  readonly onFound: () => void
}) {
  const { breakdown } = useShown()
  const asked = useAnswer('uses.find', { of, id })
  const answer = asked.value
  const found = useRef(onFound)
  useEffect(() => {
    found.current = onFound
  })
  useEffect(() => {
    if (answer) found.current()
  }, [answer])
  const unanswered = <NotAnswered what="Where it is used" of={asked} />
  if (!answer) return asked.refused === null ? <p className="quiet">Looking …</p> : unanswered
  return (
    <>
      {unanswered}
      <h3>In the film as it stands</h3>
      {answer.uses.length === 0 ? <p className="quiet">used nowhere</p> : <UsePlaces uses={answer.uses} label={`Where ${name} is used`} />}
      {answer.published.map(({ release, film, version, date, said }) => {
        const record = breakdown?.releases?.find((each) => each.id === release)
        return (
          record && (
            <div key={release}>
              <h3>
                Version {version}, {date}
                {film === breakdown?.title ? '' : `, “${film}”`}
              </h3>
              <SaidPlaces said={said} release={record} label={`Where version ${version} used ${name}`} />
            </div>
          )
        )
      })}
    </>
  )
}

const keyOf = ({ of, id }: Thing): string => `${of}/${id}`

function thingsOf({ breakdown, readings }: Shown, cited: ReadonlyMap<string, { readonly text: string }>): Thing[] {
  if (!breakdown) return []
  const names = recordNames(breakdown, readings)
  return [
    ...(breakdown.measures ?? []).map((measure): Thing => {
      const reading = readings.get(measure.id)
      return {
        of: 'measure',
        id: measure.id,
        name: reading?.plate.value || names.measure(measure.id),
        note: reading?.plate.value ? names.measure(measure.id) : '',
        clip: measure.clip ?? null,
        frame: 'frame' in measure ? measure.frame : null,
      }
    }),
    ...(breakdown.events ?? []).map((event): Thing => ({
      of: 'event',
      id: event.id,
      name: event.name,
      note: `${names.clip(event.clip)}, ${event.earliest === event.latest ? `frame ${event.earliest}` : `frames ${event.earliest} to ${event.latest}`}`,
      clip: event.clip,
      frame: event.earliest,
    })),
    ...(breakdown.references ?? []).map(({ id }): Thing => ({
      of: 'reference',
      id,
      name: names.reference(id),
      note: cited.get(id)?.text ?? '',
      clip: null,
      frame: null,
    })),
  ]
}
