import type { FilmFacts, FilmTable } from '../../app/contract/footage-calls'
import { engine } from '../state/engine'
import type { Shown } from '../state/shown'
import { FilmFrames } from './film-frames'
import { FrameCache } from './frame-cache'

/// The films that the window shows frames of, and the one cache that they share.
const cache = new FrameCache()
const opened = new Map<
  string,
  { readonly file: string; readonly bytes: number | null; readonly table: FilmTable; readonly frames: FilmFrames }
>()
const asked = new Set<string>()

/// The frames of a film; null while its frame times are not known. The stand-in is asked for where there is none.
export function framesOf(footage: string, { films, tables }: Pick<Shown, 'films' | 'tables'>): FilmFrames | null {
  const [facts, table] = [films.get(footage), tables.get(footage)]
  if (!facts || !table || facts.state !== 'ready') return null
  const known = opened.get(footage)
  // An id is free again once its film was taken away; frames and size alike, another film may have it then.
  if (known && known.file === facts.file && known.bytes === facts.bytes && sameTimes(known.table, table)) {
    known.frames.learn(facts)
    return known.frames
  }
  known?.frames.close()
  const frames = new FilmFrames(facts, table, cache)
  opened.set(footage, { file: facts.file, bytes: facts.bytes, table, frames })
  askForStandIn(facts)
  return frames
}

/// Lets go of every film: those of another project have the same ids.
export function forgetFilms(): void {
  for (const { frames } of opened.values()) frames.close()
  opened.clear()
  asked.clear()
}

/// A table that was read again, of the same frames.
const sameTimes = (a: FilmTable, b: FilmTable): boolean =>
  a === b ||
  (a.pts.length === b.pts.length &&
    a.end === b.end &&
    a.base.n === b.base.n &&
    a.base.d === b.base.d &&
    a.picture.width === b.picture.width &&
    a.picture.height === b.picture.height &&
    a.pts.every((time, i) => time === b.pts[i]))

function askForStandIn({ id, file, proxy }: FilmFacts): void {
  const name = `${id} ${file}`
  if (proxy !== 'none' || asked.has(name)) return
  asked.add(name)
  void engine.call('footage.proxy', { footage: id })
}
