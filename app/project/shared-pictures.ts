import { z } from 'zod'
import type { Breakdown } from './breakdown'
import type { Clip } from './film'
import { Frame, Id } from './fields'

/// A stretch of a film that an earlier one of the project seems to show as well, by how its pictures look: the same film
/// uploaded twice, whole or in part. Found by the engine, a guess for a person to judge; part of no document.
/// `from` included, `to` excluded, both ends in each film's own frames.
export const SharedPictures = z.strictObject({
  /// The earlier film.
  footage: Id,
  from: Frame,
  to: Frame,
  otherFrom: Frame,
  otherTo: Frame,
  /// One of the two is the other as in a mirror.
  mirrored: z.boolean(),
})
export type SharedPictures = z.infer<typeof SharedPictures>

/// What films share with earlier ones, by the later film's id.
export type SharedByFilm = ReadonlyMap<string, readonly SharedPictures[]>

/// Whether a person has looked at the two and said that they are not the same.
export const saidUnlike = (breakdown: Pick<Breakdown, 'footage'>, film: string, other: string): boolean =>
  breakdown.footage.some(({ id, unlike }) => (id === film && unlike?.includes(other)) || (id === other && unlike?.includes(film)))

/// Whether two clips seem to show the same pictures: half of the shorter one or more of it, in films that nobody has said to
/// be unlike.
export function clipsShare(a: Clip, b: Clip, shared: SharedByFilm, breakdown: Pick<Breakdown, 'footage'>): boolean {
  if (a.footage === b.footage || saidUnlike(breakdown, a.footage, b.footage)) return false
  const laid = (later: Clip, earlier: Clip): boolean =>
    (shared.get(later.footage) ?? []).some((stretch) => {
      if (stretch.footage !== earlier.footage) return false
      const there = (frame: number): number =>
        stretch.otherFrom + ((frame - stretch.from) * (stretch.otherTo - stretch.otherFrom)) / (stretch.to - stretch.from)
      const [from, to] = [Math.max(later.from, stretch.from), Math.min(later.to, stretch.to)]
      const both = Math.min(there(to), earlier.to) - Math.max(there(from), earlier.from)
      const inEarlier = both / (earlier.to - earlier.from)
      const inLater = both / (there(later.to) - there(later.from))
      return to > from && Math.max(inEarlier, inLater) >= 0.5
    })
  return laid(a, b) || laid(b, a)
}
