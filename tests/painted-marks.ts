import type { Page } from 'playwright-core'
import type { OutlineStep, Typeface, Weight } from '../app/marks/typeface'
import type { Point } from '../app/project/fields'

/// What was really painted on a picture, as outlines in canvas pixels: out of the script that the renderer is given, and out
/// of the calls that the window makes on its canvas. Text is read back out of the outlines, by the letters of the face.

/// One filled outline, contour by contour; or a line that was left to the machine's own faces.
export type Painted = { readonly contours: readonly (readonly Point[])[] } | { readonly text: string; readonly at: Point }

/// What an ASS script draws on frame `n`, in its order. Its clock has frame n at n · 100 ms; drawings are in 1/16 px (`\p5`).
export function paintedByScript(ass: string | null, n: number): Painted[] {
  return (ass ?? '').split('\n').flatMap((line): Painted[] => {
    const event = /^Dialogue: 0,([^,]+),([^,]+),Mark,,0,0,0,,\{([^}]*)\}(.*)$/.exec(line)
    if (!event) return []
    const [, from, to, tags, body] = event as unknown as [string, string, string, string, string]
    if (n * 10 < centiseconds(from) || n * 10 >= centiseconds(to)) return []
    if (!tags.includes('\\p5')) {
      const [, x, y] = /\\pos\(([-\d.]+),([-\d.]+)\)/.exec(tags) ?? []
      return [{ text: body, at: [Number(x), Number(y)] }]
    }
    if (!tags.includes('\\pos(0,0)')) throw new Error(`a drawing that is not laid on the canvas's origin: ${tags}`)
    return [{ contours: contoursOf(body.replace(/\{\\p0\}$/, '')) }]
  })
}

function contoursOf(steps: string): Point[][] {
  const contours: Point[][] = []
  const words = steps.trim().split(/\s+/)
  for (let i = 0; i < words.length;) {
    if (words[i] === 'm') contours.push([])
    if (/^[a-z]$/.test(words[i] ?? '')) i++
    else contours.at(-1)!.push([Number(words[i++]) / 16, Number(words[i++]) / 16])
  }
  return contours.filter((contour) => contour.length > 2)
}

function centiseconds(clock: string): number {
  const [hours = 0, minutes = 0, seconds = 0] = clock.split(':').map(Number)
  return Math.round((hours * 3600 + minutes * 60 + seconds) * 100)
}

/// From now on, the page notes what it fills on the sheet that its player hands over.
export async function notePainting(page: Page): Promise<void> {
  await page.evaluate(() => {
    const noted: Painted[] = []
    let contours: Point[][] = []
    const { prototype } = OffscreenCanvasRenderingContext2D
    const before = (
      name: 'beginPath' | 'moveTo' | 'lineTo' | 'bezierCurveTo' | 'fill' | 'fillText' | 'fillRect',
      note: (...numbers: never[]) => void,
    ): void => {
      const own = prototype[name] as (...all: unknown[]) => unknown
      Object.assign(prototype, {
        [name](this: unknown, ...all: unknown[]) {
          note(...(all as never[]))
          return own.apply(this, all)
        },
      })
    }
    // A picture begins with its ground.
    before('fillRect', () => void noted.splice(0))
    before('beginPath', () => void (contours = []))
    before('moveTo', (x: number, y: number) => void contours.push([[x, y]]))
    before('lineTo', (x: number, y: number) => void contours.at(-1)?.push([x, y]))
    before('bezierCurveTo', (...all: number[]) => void contours.at(-1)?.push([all[0]!, all[1]!], [all[2]!, all[3]!], [all[4]!, all[5]!]))
    before('fill', () => void noted.push({ contours: contours.filter((contour) => contour.length > 2) }))
    before('fillText', (text: string, x: number, y: number) => void noted.push({ text, at: [x, y] }))
    const handOver = OffscreenCanvas.prototype.transferToImageBitmap
    OffscreenCanvas.prototype.transferToImageBitmap = function () {
      globalThis.paintedMarks = [...noted]
      return handOver.call(this)
    }
  })
}

declare global {
  var paintedMarks: Painted[] | undefined
}

/// What the page has painted on the picture that stands there.
export const paintedByPage = (page: Page): Promise<Painted[]> => page.evaluate(() => globalThis.paintedMarks ?? [])

/// How far two paintings' points lie apart at most, px; infinite where one has an outline, or a point, that the other has not.
export function apart(a: readonly Painted[], b: readonly Painted[]): number {
  if (a.length !== b.length) return Infinity
  return Math.max(0, ...a.map((one, i) => between(one, b[i] as Painted)))
}

function between(a: Painted, b: Painted): number {
  // Text that the machine's own faces set has no ends of its own; its baseline is not where the renderer lays it.
  if ('text' in a || 'text' in b) return 'text' in a && 'text' in b ? Math.abs(a.at[0] - b.at[0]) : Infinity
  if (a.contours.length !== b.contours.length) return Infinity
  return Math.max(
    0,
    ...a.contours.map((contour, i) => {
      const other = b.contours[i] as readonly Point[]
      return contour.length === other.length
        ? Math.max(...contour.map(([x, y], k) => Math.hypot(x - other[k]![0], y - other[k]![1])))
        : Infinity
    }),
  )
}

const LETTERS = [...Array.from({ length: 94 }, (_, i) => String.fromCharCode(33 + i)), ...'°±−–—…·’‘“”¼½¾⅛×≈éöüäß', 'ffi', 'ff', 'fi', 'fl']
/// A letter's points lie this near to the face's own, px: both are whole sixteenths at worst.
const NEAR = 0.15

/// The text that an outline shows, by the face's letters at this size; "�" for a contour that is no letter's. A gap between
/// letters that kerning does not account for is a space.
export function readText(painted: Painted, size: number, weight: Weight, typeface: Typeface): string {
  if ('text' in painted) return painted.text
  const { contours } = painted
  const letters = LETTERS.flatMap((letter) => {
    const outline = typeface.outline(letter, size, weight)
    return outline ? [{ letter, contours: ownContours(outline), advance: typeface.advance(letter, size, weight) }] : []
  })
  const spaces = typeface.advance('a b', size, weight) - typeface.advance('ab', size, weight)
  let text = ''
  let pen: number | null = null
  let baseline: number | null = null
  for (let at = 0; at < contours.length;) {
    const found = letters
      .flatMap((each) => {
        const shift = fits(each.contours, contours, at)
        return shift && (baseline === null || Math.abs(shift[1] - baseline) < NEAR) ? [{ ...each, shift }] : []
      })
      .sort((a, b) => b.contours.length - a.contours.length)[0]
    if (!found) {
      text += '\ufffd'
      at++
      continue
    }
    const [left, y] = found.shift
    if (pen !== null && left - pen > spaces / 2) text += ' '
    text += found.letter
    pen = left + found.advance
    baseline ??= y
    at += found.contours.length
  }
  return text
}

/// How a letter is shifted that lies on the contours from `at` on; null where it does not.
function fits(letter: readonly (readonly Point[])[], contours: readonly (readonly Point[])[], at: number): Point | null {
  const [first, own] = [contours[at]?.[0], letter[0]?.[0]]
  if (!first || !own) return null
  const shift: Point = [first[0] - own[0], first[1] - own[1]]
  const same = letter.every((contour, i) => {
    const other = contours[at + i]
    return (
      other !== undefined &&
      other.length === contour.length &&
      contour.every(([x, y], k) => Math.hypot(x + shift[0] - other[k]![0], y + shift[1] - other[k]![1]) < NEAR)
    )
  })
  return same ? shift : null
}

function ownContours(outline: readonly OutlineStep[]): Point[][] {
  const contours: Point[][] = []
  for (const step of outline) {
    if (step.to === 'move') contours.push([step.at])
    else contours.at(-1)!.push(...(step.to === 'curve' ? [step.first, step.second, step.at] : [step.at]))
  }
  return contours.filter((contour) => contour.length > 2)
}
