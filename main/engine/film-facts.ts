import type { FilmFacts } from '../../app/contract/footage-calls'
import type { Footage } from '../../app/project/film'
import { sourceFacts } from '../../app/render/source-facts'
import type { LibraryFilm } from '../media/film-library'
import type { PictureScan } from '../media/picture-scan'
import type { FilmHead } from '../media/probe'
import { filmFindings } from './film-pieces'

/// What is known of a film before anything of it has been read.
export const unknownFilm = ({ id, file }: Footage): FilmFacts => ({
  id,
  file,
  state: 'reading',
  refusal: null,
  job: null,
  width: null,
  height: null,
  frames: null,
  rate: null,
  variable: false,
  duration_s: null,
  codec: null,
  bytes: null,
  sound: false,
  coding: null,
  fields: null,
  captureRate: null,
  warnings: [],
  shared: [],
  proxy: 'none',
})

/// What its head says.
export const factsOfHead = (head: FilmHead): Partial<FilmFacts> => ({
  width: head.width,
  height: head.height,
  duration_s: head.duration_s,
  codec: head.codec,
  bytes: head.bytes,
  sound: head.sound !== null,
  fields: head.fieldOrder === 'top' || head.fieldOrder === 'bottom' ? head.fieldOrder : null,
  captureRate: head.captureRate,
})

/// What a person should know of it; `scan`: its pictures, where they were looked through.
export const warningsOf = (film: LibraryFilm, scan: PictureScan | null): FilmFacts['warnings'] =>
  filmFindings(film, scan).map(({ code, weight, text }) => ({ code, weight, text }))

/// What every frame of it having been read says.
export function factsOfFilm(film: LibraryFilm, has: Parameters<typeof sourceFacts>[1]): Partial<FilmFacts> {
  const { table, head } = film
  const { matrix, fullRange, prepare } = sourceFacts(film, has)
  return {
    coding: { matrix, fullRange, turn: head.rotation, prepared: prepare.length > 0 },
    frames: table.pts.length,
    rate: table.rate,
    variable: table.rate === null,
    duration_s: ((table.end - (table.pts[0] ?? 0)) * table.base.n) / table.base.d,
    warnings: warningsOf(film, null),
  }
}
