import { withoutDirections } from '../script/direction-marks'
import { captionMilliseconds, clockText } from './caption-time'
import type { WrittenCaption } from './web-vtt'

const JOINER = '\u2060'

/// SubRip has no escapes and readers take `<i>` and `{\an8}` for styling: an invisible word joiner
/// behind the bracket keeps them text. An arrow in the text is set as one sign, and what turns a line's direction is taken out.
const guardText = (line: string): string =>
  withoutDirections(line)
    .replace(/[\0\r\n\f\u2028\u2029]+/g, ' ')
    .replaceAll('-->', '→')
    .replace(/</g, `<${JOINER}`)
    .replace(/\{(?=[\\\p{L}])/gu, `{${JOINER}`)

/// SubRip: counter from 1, `HH:MM:SS,mmm --> HH:MM:SS,mmm`, text, blank line; UTF-8. No standards
/// body describes it (rules from memory, checked against ffmpeg's reader).
export function writeSubRip(captions: readonly WrittenCaption[]): string {
  const cues = captions
    .map((caption) => ({ times: captionMilliseconds(caption), lines: caption.lines.map(guardText).filter((line) => line.trim() !== '') }))
    .filter((cue) => cue.lines.length > 0)
  return cues
    .map(({ times: [from, to], lines }, i) => `${i + 1}\n${clockText(from, ',')} --> ${clockText(to, ',')}\n${lines.join('\n')}\n\n`)
    .join('')
}
