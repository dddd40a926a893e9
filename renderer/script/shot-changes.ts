import type { RecordDiff } from '../../app/edit/edit'
import type { ProjectState } from '../../app/edit/project-state'
import type { ParagraphRecord } from '../../app/edit/records'
import type { Breakdown } from '../../app/project/breakdown'
import { clipsOfShot } from '../../app/project/clips-of-shot'
import type { Mark, Shot } from '../../app/project/picture'
import type { EditChange } from '../state/project'

/// Changes of what a paragraph shows, as the one gate takes them. Each is null where there is nothing to do.

/// What a shot becomes: as it was made on the shot that was seen, or a verb that is done to the shot of then, which is of one kind
/// with what was seen.
export type NextShot = Shot | ((now: Shot) => Shot)

export type ShotKind = 'run' | 'hold' | 'pair' | 'card'

const kindOf = (shot: Shot): ShotKind => (['run', 'hold', 'pair'] as const).find((kind) => kind in shot) ?? 'card'

/// The changes that make a paragraph's record this one.
function recordDiffs(state: ProjectState, to: ParagraphRecord): RecordDiff[] {
  const from = state.tables.paragraphs.get(to.id)
  const says = Object.keys(to).length > 1
  if (from && says) return [{ table: 'paragraphs', key: to.id, change: 'updated', from, to }]
  if (from) return [{ table: 'paragraphs', key: to.id, change: 'removed', record: from, after: null }]
  return says ? [{ table: 'paragraphs', key: to.id, change: 'added', record: to, after: null }] : []
}

/// Changes a paragraph's shots by a verb.
export function changeShots(
  state: ProjectState,
  paragraph: string,
  label: string,
  change: (shots: readonly Shot[]) => readonly Shot[],
): EditChange | null {
  const from = state.tables.paragraphs.get(paragraph)
  const before = from?.shots ?? []
  const shots = [...change(before)]
  if (shots.length === before.length && shots.every((shot, i) => shot === before[i])) return null
  const { shots: _shots, ...rest } = from ?? { id: paragraph }
  return { label, steps: [], diffs: recordDiffs(state, { ...rest, ...(shots.length > 0 ? { shots } : {}) }) }
}

/// Puts others in the place of one shot. What a person saw of it may have changed since; null once another stands there.
export function changeShot(
  state: ProjectState,
  paragraph: string,
  label: string,
  index: number,
  seen: Shot,
  change: (now: Shot) => readonly Shot[],
): EditChange | null {
  return changeShots(state, paragraph, label, (all) => {
    const now = all[index]
    return now && kindOf(now) === kindOf(seen) ? all.toSpliced(index, 1, ...change(now)) : all
  })
}

/// Puts one shot before or after others of its paragraph; null once another stands in its place.
export function moveShot(state: ProjectState, paragraph: string, index: number, seen: Shot, to: number): EditChange | null {
  return changeShots(state, paragraph, 'Move the shot', (all) => {
    const now = all[index]
    return now && kindOf(now) === kindOf(seen) ? all.toSpliced(index, 1).toSpliced(to, 0, now) : all
  })
}

/// Takes a shot out of one paragraph and puts it last (or first) in another. Null once another than the one that was `seen`
/// stands there.
export function moveShotTo(state: ProjectState, from: string, index: number, to: string, first: boolean, seen?: Shot): EditChange | null {
  const shot = state.tables.paragraphs.get(from)?.shots?.[index]
  if (!shot || from === to || (seen && kindOf(seen) !== kindOf(shot))) return null
  const away = changeShots(state, from, '', (shots) => shots.toSpliced(index, 1))
  const there = changeShots(state, to, '', (shots) => (first ? [shot, ...shots] : [...shots, shot]))
  return away && there && { label: 'Move the shot to another paragraph', steps: [], diffs: [...away.diffs, ...there.diffs] }
}

export function setTitle(state: ProjectState, paragraph: string, name: string, line: string): EditChange | null {
  const { title: before, ...rest } = state.tables.paragraphs.get(paragraph) ?? { id: paragraph }
  if ((before?.name ?? '') === name && (before?.line ?? '') === line) return null
  const title = { name, ...(line === '' ? {} : { line }) }
  return {
    label: name === '' ? 'Take the names away' : 'Set the names',
    steps: [],
    diffs: recordDiffs(state, { ...rest, ...(name === '' ? {} : { title }) }),
  }
}

/// What a new shot of a kind is before anything is set; null where the project has nothing for it to show.
export function newShot(kind: ShotKind, breakdown: Breakdown, like: Shot | undefined): Shot | null {
  if (kind === 'card') return { card: 'text', lines: ['Words on a card'], seconds: '4' }
  const liked = like && clipsOfShot(like)[0]
  const clip =
    breakdown.clips.find(({ id, use }) => id === liked && use?.state !== 'rejected') ??
    breakdown.clips.find(({ use }) => use?.state !== 'rejected')
  if (!clip) return null
  const events = (breakdown.events ?? []).filter((event) => event.clip === clip.id)
  if (kind === 'run') return { run: clip.id, from: clip.from, to: clip.to, speed: '1' }
  if (kind === 'hold')
    return {
      hold: clip.id,
      at: like && 'run' in like && like.run === clip.id ? like.to - 1 : (events[0]?.earliest ?? clip.from),
      seconds: '3',
    }
  for (const event of events) {
    const other = (breakdown.events ?? []).find(({ name, clip: at }) => name === event.name && at !== clip.id)
    if (other)
      return {
        pair: [
          { clip: clip.id, event: event.id },
          { clip: other.clip, event: other.id },
        ],
        before: '1/2',
        after: '1/2',
        speed: '1/4',
        layout: 'beside',
        still: '2',
      }
  }
  return null
}

/// A shot with other marks; a card has none.
export function withMarks(shot: Shot, change: (marks: readonly Mark[]) => readonly Mark[]): Shot {
  if ('card' in shot) return shot
  const { marks: before, ...rest } = shot
  const marks = [...change(before ?? [])]
  return (marks.length > 0 ? { ...rest, marks } : rest) as Shot
}

/// A change that was made on the shot as it was `seen`, done to the shot as it is `now`: what the change left alone stays as
/// it has become meanwhile, and marks that were put behind the others come behind those of now.
export function redone(seen: Shot, next: Shot, now: Shot): Shot {
  if (seen === now) return next
  const [from, to, made] = [seen, next, { ...now }] as unknown as [
    Record<string, unknown>,
    Record<string, unknown>,
    Record<string, unknown>,
  ]
  for (const key of new Set([...Object.keys(from), ...Object.keys(to)])) {
    const [before, after, here] = [from[key], to[key], made[key]]
    if (JSON.stringify(before) === JSON.stringify(after)) continue
    const added =
      key === 'marks' &&
      Array.isArray(after) &&
      JSON.stringify(after.slice(0, (Array.isArray(before) ? before : []).length)) === JSON.stringify(before ?? [])
    if (added)
      made[key] = [
        ...(Array.isArray(here) ? (here as unknown[]) : []),
        ...(after as unknown[]).slice((Array.isArray(before) ? before : []).length),
      ]
    else if (after === undefined) delete made[key]
    else made[key] = after
  }
  return made as unknown as Shot
}
