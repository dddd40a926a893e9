import type { Capture, Clip, Event } from '../project/film'
import { captureFactor } from './capture-factor'
import type { MeasureContext } from './context'

/// A clip's capture factor from the events that it shares with another clip: which events those are, and what comes out.

export interface SharedEvent {
  readonly here: Event
  readonly there: Event
}

/// The events of two clips that are called alike, in the order of the other clip's frames. A name that either clip bears more
/// than once is left out: nobody could say which of them is meant. Case and outer blanks of a name do not count.
export function sharedEvents(context: MeasureContext, here: string, there: string): SharedEvent[] {
  const [ours, theirs] = [byName(context.eventsOf(here)), byName(context.eventsOf(there))]
  return [...ours]
    .flatMap(([name, [own, ...twins]]) => {
      const [other, ...others] = theirs.get(name) ?? []
      return own && other && twins.length === 0 && others.length === 0 ? [{ here: own, there: other }] : []
    })
    .sort((a, b) => a.there.earliest + a.there.latest - b.there.earliest - b.there.latest)
}

function byName(events: readonly Event[]): Map<string, Event[]> {
  const groups = new Map<string, Event[]>()
  for (const event of events) {
    const name = event.name.trim().toLowerCase()
    groups.set(name, [...(groups.get(name) ?? []), event])
  }
  return groups
}

/// The clips that a clip's factor may come from: of known factor, and not by way of this very clip.
export const linkableClips = (context: MeasureContext, clip: Pick<Clip, 'id'>): Clip[] =>
  context.breakdown.clips.filter((other) => other.id !== clip.id && other.capture !== 'unknown' && !leadsTo(context, other, clip.id))

function leadsTo(context: MeasureContext, from: Clip, id: string): boolean {
  const seen = new Set<string>()
  for (let at: Clip | null = from; at && !seen.has(at.id);) {
    seen.add(at.id)
    const next: string | undefined = at.capture === 'unknown' ? undefined : at.capture.link?.shared
    if (next === id) return true
    at = next === undefined ? null : context.clip(next)
  }
  return false
}

/// A clip linked to another by these events, before its factor has come out: 1 stands in.
export const linkedClip = (clip: Clip, shared: string, events: readonly SharedEvent[]): Clip => ({
  ...clip,
  capture: { factor: '1', u: 0, link: { shared, pairs: events.map(({ here, there }): [string, string] => [here.id, there.id]) } },
})

/// The clip's capture with the factor and u that its link gives now, six decimals; as it is where it has no link or the link
/// gives none (a ramp, fewer than two events, a film that has not been read).
export function recapture(context: MeasureContext, clip: Clip): Capture {
  if (clip.capture === 'unknown' || !clip.capture.link || clip.capture.link.pairs.length < 2) return clip.capture
  const found = captureFactor(context, clip)
  if (!found.ok) return clip.capture
  const rounded = (value: number): number => Number(value.toFixed(6))
  return { ...clip.capture, factor: String(rounded(found.value.k)), u: rounded(found.value.u) }
}
