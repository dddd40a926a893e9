import type { Breakdown } from '../../project/breakdown'
import { exact } from '../../project/fields'
import type { Clip, Event } from '../../project/film'
import type { Shot } from '../../project/picture'
import type { FindingDraft } from './finding'

const slower = (speed: string): boolean => {
  const { n, d } = exact(speed)
  return n < d
}
const unknownClips = ({ clips }: Breakdown): ReadonlySet<string> =>
  new Set(clips.filter((clip) => clip.capture === 'unknown').map((clip) => clip.id))

/// Whether a shot runs slower than its pictures were shot, or at a speed that is not known.
const runsSlow = (shot: Shot, unknown: ReadonlySet<string>): boolean =>
  'speed' in shot && (slower(shot.speed) || clipsOf(shot).some((clip) => unknown.has(clip)))

/// Whether any of a paragraph's pictures does.
export function isSlow(breakdown: Breakdown, paragraph: string): boolean {
  const unknown = unknownClips(breakdown)
  return breakdown.script.some((row) => 'text' in row && row.id === paragraph && (row.shots ?? []).some((shot) => runsSlow(shot, unknown)))
}

/// Frames of a clip, `from` included, `to` excluded.
interface Span {
  readonly clip: string
  readonly from: number
  readonly to: number
}

/// What the pictures' speeds take away: an action that is never seen at full speed, and clips side by side whose real
/// speeds are not known to be the same. A slowed span counts as seen at full speed where its own frames run so, or, on
/// another clip of its bout, an event of the same name as one that lies in it does. A pair shows its event.
export function speedFindings(breakdown: Breakdown): FindingDraft[] {
  const clips = new Map(breakdown.clips.map((clip) => [clip.id, clip]))
  const events = new Map((breakdown.events ?? []).map((event) => [event.id, event]))
  const unknown = unknownClips(breakdown)
  const shots = breakdown.script.flatMap((row, i) =>
    'text' in row ? (row.shots ?? []).map((shot, j) => ({ shot, paragraph: row.id, place: `script[${i}].shots[${j}]` })) : [],
  )
  const full = shots.flatMap(({ shot }) =>
    'speed' in shot && !slower(shot.speed) ? spansOf(shot, events).filter(({ clip }) => !unknown.has(clip)) : [],
  )
  const found: FindingDraft[] = []
  const told = new Set<string>()
  for (const { shot, paragraph, place } of shots) {
    const at = { place, paragraph, sentence: '', on: null }
    if ('pair' in shot && shot.pair.some((member) => unknown.has(member.clip)) && new Set(shot.pair.map((member) => member.clip)).size > 1)
      found.push({
        ...at,
        code: 'speeds-differ',
        problem: 'clips run side by side, and how fast one of them was shot is not known',
        wayOut: 'Link the replay by two shared events, or stand the frames still beside each other.',
      })
    if (!('speed' in shot)) continue
    for (const span of spansOf(shot, events)) {
      if (!slower(shot.speed) && !unknown.has(span.clip)) continue
      const key = `${span.clip} ${span.from} ${span.to}`
      if (told.has(key) || isCovered(span, full, clips, [...events.values()])) continue
      told.add(key)
      const name = clips.get(span.clip)?.name ?? span.clip
      found.push({
        ...at,
        code: 'no-full-speed',
        problem: `${framesOf(span)} of “${name}” ${span.to - span.from === 1 ? 'is' : 'are'} shown slowed and never at full speed`,
        ...(span.to - span.from === 1
          ? { formerly: `frames ${span.from} to ${span.from} of “${name}” are shown slowed and never at full speed` }
          : {}),
        wayOut: 'Add a run at speed 1 of these frames, or of the same event on another clip of the bout.',
      })
    }
  }
  return found
}

const framesOf = ({ from, to }: Span): string => (to - from === 1 ? `frame ${from}` : `frames ${from} to ${to - 1}`)

function isCovered(span: Span, full: readonly Span[], clips: ReadonlyMap<string, Clip>, events: readonly Event[]): boolean {
  if (liesIn(span, full)) return true
  const bout = clips.get(span.clip)?.bout
  if (!bout) return false
  const within = events.filter(({ clip, earliest, latest }) => clip === span.clip && earliest >= span.from && latest < span.to)
  return events.some(
    (event) =>
      event.clip !== span.clip &&
      clips.get(event.clip)?.bout === bout &&
      within.some(({ name }) => name === event.name) &&
      liesIn(spanOf(event), full),
  )
}

/// Whether every frame of a span lies in one of the others.
function liesIn(span: Span, others: readonly Span[]): boolean {
  let at = span.from
  for (const { from, to } of others.filter(({ clip }) => clip === span.clip).sort((a, b) => a.from - b.from))
    if (from <= at) at = Math.max(at, to)
  return at >= span.to
}

const spanOf = ({ clip, earliest, latest }: Event): Span => ({ clip, from: earliest, to: latest + 1 })

function spansOf(shot: Shot, events: ReadonlyMap<string, Event>): Span[] {
  if ('run' in shot) return [{ clip: shot.run, from: shot.from, to: shot.to }]
  return 'pair' in shot ? shot.pair.flatMap(({ event }) => events.get(event) ?? []).map(spanOf) : []
}

const clipsOf = (shot: Shot): string[] => ('run' in shot ? [shot.run] : 'pair' in shot ? shot.pair.map((member) => member.clip) : [])
