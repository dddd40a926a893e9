import type { FilmFacts } from '../../app/contract/footage-calls'
import type { Clip, Footage } from '../../app/project/film'

/// What is known of a film, in words.
export function filmFacts(film: FilmFacts): string {
  if (film.state === 'reading') return 'its frames are being read'
  const rate = film.rate ? `${Number((film.rate.n / film.rate.d).toFixed(3))} frames a second` : film.variable ? 'a variable rate' : ''
  const parts = [
    film.width !== null && film.height !== null ? `${film.width} × ${film.height}` : '',
    film.frames !== null ? `${film.frames} frames` : '',
    rate,
    film.duration_s === null ? '' : `${film.duration_s.toFixed(1)} s`,
    film.sound ? 'with sound' : 'no sound',
  ]
  return parts.filter(Boolean).join(' · ')
}

/// What is known of a clip, in words.
export function clipFacts(clip: Clip): string {
  const speed =
    clip.capture === 'unknown'
      ? 'speed not known: frame counts only'
      : clip.capture.factor === '1'
        ? 'as fast as it happened'
        : `${clip.capture.factor} times slower than it happened`
  return [`frames ${clip.from} to ${clip.to - 1}`, clip.picture ?? '', speed, clip.mirrored ? 'mirrored' : ''].filter(Boolean).join(' · ')
}

/// Whether a film is held to show two instants a frame: by its file, or by its pictures once they were looked at.
export const isInterlaced = (film: FilmFacts): boolean =>
  film.warnings.some(({ code, weight }) => code === 'interlaced' && weight === 'warn')

/// What a film of fields is.
export const fieldsWords = ({ file, first }: NonNullable<Footage['fields']>): string =>
  `Made of the fields of ${file}, one picture each at its own time, ${first === 'top' ? 'upper' : 'lower'} lines first; a line between two of them is their mean.`

/// Which field of the interlaced film a picture of its fields is.
export const fieldWords = ({ file, first }: NonNullable<Footage['fields']>, frame: number): string =>
  `${file.slice(file.lastIndexOf('/') + 1)} frame ${Math.floor(frame / 2)}, ${frame % 2 === 0 ? 'first' : 'second'} field (${(first === 'top') === (frame % 2 === 0) ? 'upper' : 'lower'} lines)`
