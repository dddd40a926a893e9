import { reasons, type ReasonCode } from '../measure/reason'
import type { Reading, Verdict } from '../measure/reading'
import type { Point } from '../project/fields'
import type { Lettering } from './lettering'
import { palette } from './palette'
import { cutLines, shortened, textShape, wrapEvenly } from './set-text'
import type { Colour, Shape } from './shape'
import { circleRings, discRing, roundedBoxRing, strokeRings, type Ring } from './stroke'
import type { Typeface } from './typeface'

/// What a plate says: the value first and large, what it is beneath, and, where it is not simply
/// good, a sign with the word that says so.
export interface PlateContent {
  /// The value, and its "± …" apart from it; the error is empty where there is none.
  readonly value: string
  readonly error: string
  readonly what: string
  /// The instant that the value is of ("at contact"), where the picture around it is of another; else empty.
  readonly instant: string
  readonly verdict: Verdict
  /// The reason in words, empty for a good value.
  readonly reason: string
  /// Said on a programme's first plate only; else empty.
  readonly note: string
}

/// A plate set in type, not yet placed.
export interface SetPlate {
  readonly width: number
  readonly height: number
  /// Shapes with the plate's top left corner at `at`.
  draw(at: Point): Shape[]
}

const ERROR_NOTE = '±\u00a0=\u00a0our 95\u00a0%\u00a0estimate'

export function plateContent(reading: Reading, instant: string, explainsError: boolean): PlateContent {
  const { value, error } = splitValue(reading.plate.value)
  return {
    value: shortened(value, MOST_CHARACTERS),
    error,
    what: shortened(reading.plate.what, MOST_CHARACTERS),
    instant: shortened(instant, MOST_CHARACTERS),
    verdict: reading.verdict,
    reason: reasonOf(reading),
    note: explainsError && reading.verdict !== 'refused' ? ERROR_NOTE : '',
  }
}

/// "145° ± 12°" is "145°" and "± 12°".
export function splitValue(text: string): { value: string; error: string } {
  const at = text.indexOf(' ± ')
  return at < 0 ? { value: text, error: '' } : { value: text.slice(0, at), error: text.slice(at + 1) }
}

function reasonOf(reading: Reading): string {
  const code = reading.reasons[0]
  const wording = code !== undefined && code in reasons ? reasons[code as ReasonCode].wording : ''
  if (reading.verdict === 'good') return ''
  if (reading.verdict === 'range') return wording && !wording.includes('range') ? `range\u00a0only: ${wording}` : 'range\u00a0only'
  return wording || (reading.verdict === 'refused' ? 'not measured' : 'with care')
}

/// The narrowest that a plate can be set without breaking a word.
export function leastPlateWidth(content: PlateContent, typeface: Typeface, { value, small, padding }: Lettering): number {
  const widestWord = (text: string, size: number, weight: 400 | 700, indent = 0): number =>
    indent + Math.max(0, ...text.split(' ').map((word) => typeface.advance(word, size, weight)))
  return (
    1 +
    2 * padding +
    Math.max(
      widestWord(content.value, value, 700),
      typeface.advance(content.error, value, 400),
      widestWord(content.what, small, 400),
      widestWord(content.instant, small, 400),
      widestWord(content.reason, small, content.verdict === 'range' ? 700 : 400, signWidth(small)),
      widestWord(content.note, small, 400),
    )
  )
}

/// No text of a plate takes more; what a longer one says is cut.
const MOST_CHARACTERS = 120
const MOST_LINES = 6

interface Row {
  readonly text: string
  readonly size: number
  readonly weight: 400 | 700
  readonly colour: Colour
  /// Set beside the row before it rather than under it, after a space.
  readonly beside?: boolean
  readonly sign?: Verdict
}

/// Sets a plate whose text is at most `width` wide, plate and padding included; words wrap, nothing overflows.
export function setPlate(content: PlateContent, typeface: Typeface, lettering: Lettering, width: number): SetPlate {
  const { value, small, padding, corner, unit } = lettering
  const inner = Math.max(small, width - 2 * padding)
  const rows: Row[] = []
  const lines = (text: string, size: number, weight: 400 | 700, colour: Colour, room = inner): Row[] =>
    cutLines(typeface, wrapEvenly(typeface, text, size, weight, room), size, weight, room, MOST_LINES).map((line) => ({
      text: line,
      size,
      weight,
      colour,
    }))

  const refused = content.verdict === 'refused'
  const values = lines(content.value, value, 700, palette.text)
  rows.push(...values)
  if (content.error) {
    const last = values.at(-1) as Row
    const beside = typeface.advance(last.text, value, 700) + 0.26 * value + typeface.advance(content.error, value, 400) <= inner
    const errors = beside
      ? [{ text: content.error, size: value, weight: 400 as const, colour: palette.lighter }]
      : lines(content.error, value, 400, palette.lighter)
    rows.push(...errors.map((row, i) => (i === 0 && beside ? { ...row, beside: true } : row)))
  }
  const named = [content.what, content.instant].filter(Boolean).join(', ')
  const together = content.instant && wrapEvenly(typeface, named, small, 400, inner).length === 1
  for (const text of together ? [named] : [content.what, content.instant]) if (text) rows.push(...lines(text, small, 400, palette.text))
  if (content.reason) {
    const colour = content.verdict === 'range' ? palette.amber : palette.lighter
    const indent = signWidth(small)
    rows.push(
      ...lines(content.reason, small, content.verdict === 'range' ? 700 : 400, colour, inner - indent).map((row, i) => ({
        ...row,
        sign: i === 0 ? content.verdict : ('good' as const),
      })),
    )
  }
  if (content.note) rows.push(...lines(content.note, small, 400, palette.lighter))

  /// Baselines, the first row's capitals `padding` under the plate's edge.
  const placed: { row: Row; x: number; y: number }[] = []
  let y = padding
  let right = 0
  rows.forEach((row, i) => {
    const before = placed.at(-1)
    const indent = row.sign ? signWidth(row.size) : 0
    let x = padding + indent
    if (row.beside && before) x = before.x + typeface.advance(before.row.text, before.row.size, before.row.weight) + 0.26 * row.size
    else if (i === 0) y += typeface.capHeight * row.size
    else y += leading(before?.row, row)
    placed.push({ row, x, y })
    right = Math.max(right, x + typeface.advance(row.text, row.size, row.weight))
  })
  const height = y + padding
  const full = right + padding
  const ground = content.verdict === 'range' ? palette.rangePlate : palette.plate
  const edge = content.verdict === 'range' ? palette.amber : refused ? palette.lighter : null

  return {
    width: full,
    height,
    draw: ([left, top]) => [
      { kind: 'fill', rings: [roundedBoxRing(left, top, full, height, corner)], colour: ground, opacity: 0.94 },
      ...(edge
        ? [{ kind: 'fill', rings: [roundedBoxRing(left, top, 5 * unit, height, 2.5 * unit)], colour: edge, opacity: 1 } as const]
        : []),
      ...placed.flatMap(({ row, x, y: baseline }): Shape[] => [
        ...(row.sign && row.sign !== 'good'
          ? [drawSign(row.sign, [left + x - signWidth(row.size), top + baseline], row.size, typeface, row.colour)]
          : []),
        textShape(row.text, [left + x, top + baseline], row.size, row.weight, row.colour),
      ]),
    ],
  }
}

/// From one baseline to the next.
const leading = (before: Row | undefined, row: Row): number => (before && before.size > row.size ? 1.22 * row.size : 1.18 * row.size)

const signWidth = (size: number): number => 0.95 * size

/// The verdict's sign, standing on a baseline: half-filled for "with care", a double arrow for a range, a
/// struck circle for a refusal. They are shapes, since the face has no such characters.
function drawSign(verdict: Verdict, [x, baseline]: Point, size: number, typeface: Typeface, colour: Colour): Shape {
  const radius = 0.32 * size
  const centre: Point = [x + radius + (verdict === 'range' ? 0.06 * size : 0), baseline - (typeface.capHeight * size) / 2]
  const width = 0.085 * size
  const rings: Ring[] = []
  if (verdict === 'range') {
    const [left, right] = [centre[0] - radius, centre[0] + radius * 1.1]
    const head = 0.17 * size
    rings.push(
      ...strokeRings(
        [
          [left, centre[1]],
          [right, centre[1]],
        ],
        { width, cap: 'butt' },
      ),
    )
    for (const [tip, back] of [
      [left, head],
      [right, -head],
    ] as const)
      rings.push(
        ...strokeRings(
          [
            [tip + back, centre[1] - head],
            [tip, centre[1]],
            [tip + back, centre[1] + head],
          ],
          { width, cap: 'round' },
        ),
      )
  } else {
    rings.push(...circleRings(centre, radius, width))
    if (verdict === 'refused') {
      const reach = radius * Math.SQRT1_2
      rings.push(
        ...strokeRings(
          [
            [centre[0] + reach, centre[1] - reach],
            [centre[0] - reach, centre[1] + reach],
          ],
          { width, cap: 'butt' },
        ),
      )
    } else rings.push(discRing(centre, radius).filter(([px]) => px <= centre[0] + 1e-6))
  }
  return { kind: 'fill', rings, colour, opacity: 1 }
}
