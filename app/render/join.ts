import type { Rational } from '../time/rational'
import { trackTimescale } from './encoding'
import { AAC_ARGUMENTS } from './sound-mix'

/// Joining finished segments into the film: pictures are copied untouched, the sound is one continuous
/// track.

/// The list for ffmpeg's concat reader. Each piece's exact length is stated: without it every join
/// after the first is off by rounding.
export function concatList(pieces: readonly { file: string; frames: number }[], rate: Rational): string {
  const lines = ['ffconcat version 1.0']
  for (const { file, frames } of pieces) {
    lines.push(`file '${file.replaceAll("'", "'\\''")}'`, `duration ${secondsText(frames, rate)}`)
  }
  return lines.join('\n') + '\n'
}

/// Frames as seconds with microseconds, the finest that the reader takes.
const secondsText = (frames: number, rate: Rational): string => ((frames * rate.d) / rate.n).toFixed(6)

/// Written into every film that is rendered, so that it is known again: only such a film gives way to a newer one.
export const OWN_FILM = 'made by Claimframe'

/// Arguments for the join of the pieces in `list` with the sound track.
export function joinArguments(list: string, sound: string, rate: Rational, title: string, out: string): string[] {
  return [
    '-y',
    '-f',
    'concat',
    '-safe',
    '0',
    '-i',
    list,
    '-i',
    sound,
    '-map',
    '0:v:0',
    '-map',
    '1:a:0',
    '-c:v',
    'copy',
    ...AAC_ARGUMENTS,
    '-video_track_timescale',
    String(trackTimescale(rate)),
    '-map_metadata',
    '-1',
    '-metadata',
    `title=${title}`,
    '-metadata',
    `comment=${OWN_FILM}`,
    '-fflags',
    '+bitexact',
    '-movflags',
    '+faststart',
    '-f',
    'mp4',
    out,
  ]
}
