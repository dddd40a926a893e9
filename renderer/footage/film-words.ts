import type { FilmFacts } from '../../app/contract/footage-calls'
import type { Clip } from '../../app/project/film'

/// What is known of a film, in words.
export function filmFacts(film: FilmFacts): string {
  if (film.state === 'reading') return 'its frames are being read'
  const rate = film.rate ? `${Number((film.rate.n / film.rate.d).toFixed(3))} frames a second` : film.variable ? 'a variable rate' : ''
  const parts = [film.width !== null && film.height !== null ? `${film.width} × ${film.height}` : '', film.frames !== null ? `${film.frames} frames` : '', rate, film.duration_s === null ? '' : `${film.duration_s.toFixed(1)} s`, film.sound ? 'with sound' : 'no sound']
  return parts.filter(Boolean).join(' · ')
}

/// What is known of a clip, in words.
export function clipFacts(clip: Clip): string {
  const speed = clip.capture === 'unknown' ? 'speed not known: frame counts only' : clip.capture.factor === '1' ? 'as fast as it happened' : `${clip.capture.factor} times slower than it happened`
  return [`frames ${clip.from} to ${clip.to - 1}`, clip.picture ?? '', speed, clip.mirrored ? 'mirrored' : ''].filter(Boolean).join(' · ')
}
