import type { Breakdown } from '../../project/breakdown'
import { exact } from '../../project/fields'
import type { Shot } from '../../project/picture'
import type { FindingDraft } from './finding'

const slower = (speed: string): boolean => {
  const { n, d } = exact(speed)
  return n < d
}

/// Whether a paragraph's pictures run slower than they were shot, or at a speed that is not known.
export function isSlow(breakdown: Breakdown, paragraph: string): boolean {
  const unknown = new Set(breakdown.clips.filter((clip) => clip.capture === 'unknown').map((clip) => clip.id))
  return breakdown.script.some((row) => 'text' in row && row.id === paragraph && (row.shots ?? []).some((shot) => ('speed' in shot && slower(shot.speed)) || ('run' in shot && unknown.has(shot.run))))
}

/// What the pictures' speeds take away: an action that is never seen at full speed, and clips side by
/// side whose real speeds are not known to be the same.
export function speedFindings(breakdown: Breakdown): FindingDraft[] {
  const clips = new Map(breakdown.clips.map((clip) => [clip.id, clip]))
  const actionOf = (clip: string): string => clips.get(clip)?.bout ?? `clip ${clip}`
  const shots = breakdown.script.flatMap((row, i) => ('text' in row ? (row.shots ?? []).map((shot, j) => ({ shot, paragraph: row.id, place: `script[${i}].shots[${j}]` })) : []))
  const known = (clip: string): boolean => clips.get(clip)?.capture !== 'unknown'
  const full = new Set(shots.flatMap(({ shot }) => clipsOf(shot).filter((clip) => known(clip) && 'speed' in shot && !slower(shot.speed)).map(actionOf)))
  const found: FindingDraft[] = []
  const told = new Set<string>()
  for (const { shot, paragraph, place } of shots) {
    const at = { place, paragraph, sentence: '', on: null }
    if ('pair' in shot && shot.pair.some((member) => !known(member.clip)) && new Set(shot.pair.map((member) => member.clip)).size > 1)
      found.push({ ...at, code: 'speeds-differ', problem: 'clips run side by side, and how fast one of them was shot is not known', wayOut: 'Link the replay by two shared events, or stand the frames still beside each other.' })
    if (!('speed' in shot) || 'pair' in shot || !slower(shot.speed)) continue
    for (const action of clipsOf(shot).map(actionOf)) {
      if (full.has(action) || told.has(action)) continue
      told.add(action)
      found.push({ ...at, code: 'no-full-speed', problem: `${action} is shown slowed and never at full speed`, wayOut: 'Add a run at speed 1 of the action.' })
    }
  }
  return found
}

const clipsOf = (shot: Shot): string[] => ('run' in shot ? [shot.run] : 'pair' in shot ? shot.pair.map((member) => member.clip) : [])
