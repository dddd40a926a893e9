import type { Point } from '../project/fields'
import { drawnText } from './drawn-text'
import { paintedColour, type Matrix } from './painted-colour'
import type { Colour, Shape } from './shape'
import type { Span } from './span'
import type { Typeface } from './typeface'

/// Writes marks as an Advanced SubStation Alpha v4.00+ script for the renderer's `ass` filter.
///
/// The filter must run on a virtual clock on which frame n stands at n · 100 ms
/// (`settb=1/1000,setpts=N*100`), because ASS times are centiseconds: a span [from, to) is written from
/// from · 100 − 50 ms to to · 100 − 50 ms, so that each frame's instant lies in the middle of its events.

export interface AssScript {
  readonly width: number
  readonly height: number
  /// Output frames of the film that it is drawn over; spans are cut to it.
  readonly frames: number
  readonly typeface: Typeface
  /// How the film that is drawn on codes colour; absent: BT.709, as our films are coded.
  readonly matrix?: Matrix
}

/// Drawing units per pixel: `\p5` divides by 2^4. A point is at most 1/32 px off.
const DRAWING_SCALE = 5
const UNITS = 2 ** (DRAWING_SCALE - 1)

/// Lines of text are drawn as the face's own outlines, so that every renderer, with or without a
/// shaping engine and whatever fonts it finds, sets them alike, and no text can act as an override. Only a line
/// with characters that the face lacks is written as text, for the machine's other fonts.
export function writeAss(spans: readonly Span[], script: AssScript): string {
  const lines: string[] = []
  for (const span of spans) {
    const from = Math.max(0, span.from)
    const to = Math.min(script.frames, span.to)
    if (from >= to) continue
    const times = `${clock(from * 10 - 5)},${clock(to * 10 - 5)}`
    for (const drawn of span.shapes) {
      const shape = { ...drawn, colour: paintedColour(drawn.colour, script.matrix ?? 'bt709') }
      const text = shape.kind === 'fill' ? drawRings(shape) : drawText(shape, script.typeface)
      if (text) lines.push(`Dialogue: 0,${times},Mark,,0,0,0,,${text}`)
    }
  }
  return head(script) + lines.map((line) => line + '\n').join('')
}

function head({ width, height, typeface }: AssScript): string {
  return `[Script Info]
ScriptType: v4.00+
PlayResX: ${width}
PlayResY: ${height}
WrapStyle: 2
ScaledBorderAndShadow: yes
Kerning: yes
YCbCr Matrix: None

[V4+ Styles]
Format: Name, Fontname, Fontsize, PrimaryColour, SecondaryColour, OutlineColour, BackColour, Bold, Italic, Underline, StrikeOut, ScaleX, ScaleY, Spacing, Angle, BorderStyle, Outline, Shadow, Alignment, MarginL, MarginR, MarginV, Encoding
Style: Mark,${typeface.family},40,&H00FFFFFF,&H00FFFFFF,&H00000000,&H00000000,0,0,0,0,100,100,0,0,1,0,0,7,0,0,0,1

[Events]
Format: Layer, Start, End, Style, Name, MarginL, MarginR, MarginV, Effect, Text
`
}

/// Centiseconds as H:MM:SS.CC; before the start is the start.
function clock(centiseconds: number): string {
  const t = Math.max(0, centiseconds)
  const two = (n: number): string => String(n).padStart(2, '0')
  return `${Math.floor(t / 360_000)}:${two(Math.floor(t / 6000) % 60)}:${two(Math.floor(t / 100) % 60)}.${two(t % 100)}`
}

const paint = (colour: Colour, opacity: number): string => {
  const hex = colour.slice(1).toUpperCase()
  const alpha = Math.round(255 * (1 - Math.min(1, Math.max(0, opacity))))
  return `\\1c&H${hex.slice(4, 6)}${hex.slice(2, 4)}${hex.slice(0, 2)}&\\1a&H${alpha.toString(16).toUpperCase().padStart(2, '0')}&`
}

/// A drawing laid with its own origin on the canvas's: every `\an` but 7 moves a drawing by its extent.
const drawing = (shape: Shape, steps: string): string =>
  `{\\an7\\pos(0,0)\\bord0\\shad0${paint(shape.colour, shape.opacity)}\\p${DRAWING_SCALE}}${steps}{\\p0}`

const units = (at: Point): string => `${Math.round(at[0] * UNITS)} ${Math.round(at[1] * UNITS)}`

function drawRings(shape: Extract<Shape, { kind: 'fill' }>): string | null {
  const rings = shape.rings.filter((ring) => ring.length > 2)
  if (rings.length === 0 || shape.opacity <= 0) return null
  const steps = rings.map((ring) => `m ${units(ring[0] as Point)} l ${ring.slice(1).map(units).join(' ')}`)
  return drawing(shape, steps.join(' '))
}

function drawText(shape: Extract<Shape, { kind: 'text' }>, typeface: Typeface): string | null {
  const text = drawnText(shape.text)
  if (!text || shape.opacity <= 0) return null
  const width = typeface.advance(text, shape.size, shape.weight)
  const left = shape.at[0] - (shape.align === 'left' ? 0 : shape.align === 'middle' ? width / 2 : width)
  const outline = typeface.outline(text, shape.size, shape.weight)
  if (!outline) return writtenText(text, [left, shape.at[1]], shape, typeface)
  const place = ([x, y]: Point): string => units([x + left, y + shape.at[1]])
  let before = ''
  const steps = outline.map((step) => {
    const letter = step.to === 'move' ? 'm' : step.to === 'line' ? 'l' : 'b'
    const points = step.to === 'curve' ? `${place(step.first)} ${place(step.second)} ${place(step.at)}` : place(step.at)
    const written = letter === before && letter !== 'm' ? points : `${letter} ${points}`
    before = letter
    return written
  })
  return steps.length > 0 ? drawing(shape, steps.join(' ')) : null
}

/// A line set by the renderer itself. Its size in ASS is the height of the face's cell; the cell's
/// foot is laid a descent under the baseline.
function writtenText(text: string, [x, baseline]: Point, shape: Extract<Shape, { kind: 'text' }>, typeface: Typeface): string {
  const size = shape.size * (typeface.ascent + typeface.descent)
  const foot = baseline + typeface.descent * shape.size
  const bold = shape.weight === 700 ? 1 : 0
  return `{\\an1\\pos(${x.toFixed(3)},${foot.toFixed(3)})\\bord0\\shad0${paint(shape.colour, shape.opacity)}\\fs${size.toFixed(3)}\\b${bold}\\q2}${escapeText(text)}`
}

/// Text that the renderer can only draw: braces are escaped, a backslash is parted from the letter
/// after it by an invisible joiner (ASS has no escape for it), and spaces do not break or fall away at the ends.
export const escapeText = (text: string): string =>
  drawnText(text).replace(/\\/g, '\\\u2060').replace(/\{/g, '\\{').replace(/\}/g, '\\}').replace(/ /g, '\u00a0')
