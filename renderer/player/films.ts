import type { FilmFacts, FilmTable } from '../../app/contract/footage-calls'
import { engine } from '../state/engine'
import type { Shown } from '../state/project'
import { FilmFrames } from './film-frames'
import { FrameCache } from './frame-cache'

/// The films that the window shows frames of, and the one cache that they share.
const cache = new FrameCache()
const opened = new Map<string, { readonly table: FilmTable; readonly frames: FilmFrames }>()
const asked = new Set<string>()

/// The frames of a film; null while its frame times are not known. The stand-in is asked for where there is none.
export function framesOf(footage: string, { films, tables }: Pick<Shown, 'films' | 'tables'>): FilmFrames | null {
  const [facts, table] = [films.get(footage), tables.get(footage)]
  if (!facts || !table || facts.state !== 'ready') return null
  const known = opened.get(footage)
  if (known && sameTimes(known.table, table)) {
    known.frames.learn(facts)
    return known.frames
  }
  known?.frames.close()
  const frames = new FilmFrames(facts, table, cache)
  opened.set(footage, { table, frames })
  askForStandIn(facts)
  return frames
}

/// A table that was read again, of the same frames.
const sameTimes = (a: FilmTable, b: FilmTable): boolean =>
  a === b || (a.pts.length === b.pts.length && a.end === b.end && a.base.n === b.base.n && a.base.d === b.base.d && a.picture.width === b.picture.width && a.picture.height === b.picture.height && a.pts.every((time, i) => time === b.pts[i]))

function askForStandIn({ id, file, proxy }: FilmFacts): void {
  const name = `${id} ${file}`
  if (proxy !== 'none' || asked.has(name)) return
  asked.add(name)
  void engine.call('footage.proxy', { footage: id })
}
