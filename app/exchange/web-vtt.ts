import type { Ticks } from '../time/ticks'
import { withoutDirections } from '../script/direction-marks'
import { captionMilliseconds, clockText } from './caption-time'

/// What the writers need of a caption.
export interface WrittenCaption {
  readonly from: Ticks
  readonly to: Ticks
  readonly lines: readonly string[]
}

/// Text of a cue: `&`, `<` and `>` as references (so no tag and no arrow can arise), bidirectional marks
/// by name, what turns the direction of a line taken out, NUL replaced, and no line break inside a line.
const escapeText = (line: string): string =>
  withoutDirections(line)
    .replace(/\0/g, '\uFFFD')
    .replace(/[\r\n\f\u2028\u2029]+/g, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('\u200E', '&lrm;')
    .replaceAll('\u200F', '&rlm;')

/// WebVTT (W3C, "WebVTT: The Web Video Text Tracks Format", §4 syntax): UTF-8 text without a byte
/// order mark, cues numbered from 1. Empty lines, which would end a cue, are left out; so is a
/// caption without any text.
export function writeWebVtt(captions: readonly WrittenCaption[]): string {
  const cues = captions
    .map((caption) => ({ times: captionMilliseconds(caption), lines: caption.lines.map(escapeText).filter((line) => line.trim() !== '') }))
    .filter((cue) => cue.lines.length > 0)
  return (
    'WEBVTT\n' +
    cues
      .map(({ times: [from, to], lines }, i) => `\n${i + 1}\n${clockText(from, '.')} --> ${clockText(to, '.')}\n${lines.join('\n')}\n`)
      .join('')
  )
}
