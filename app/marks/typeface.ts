// The package has no types of its own, and an ambient declaration reaches every layer only by reference.
// eslint-disable-next-line @typescript-eslint/triple-slash-reference
/// <reference path="./opentype.d.ts" />
import * as opentype from 'opentype.js'
import type { Font, Glyph } from 'opentype.js'
import type { Point } from '../project/fields'
import { drawnText } from './drawn-text'

export type Weight = 400 | 700

/// One step of a glyph's outline. Contours close themselves; fill by the non-zero rule.
export type OutlineStep =
  | { readonly to: 'move'; readonly at: Point }
  | { readonly to: 'line'; readonly at: Point }
  | { readonly to: 'curve'; readonly first: Point; readonly second: Point; readonly at: Point }

/// The face that films are lettered in, in two weights. Lengths are in em where no size is given.
export interface Typeface {
  /// Name under which a font file of this face is found.
  readonly family: string
  /// Height of the face's cell above and below the baseline. A size in ASS is that of the cell.
  readonly ascent: number
  readonly descent: number
  readonly capHeight: number
  /// Width of one line at em size `size`, kerning included, `drawnText` applied. A character that the
  /// face lacks counts as 1 em where it is written wide (Chinese, Japanese, Korean, emoji) and 0.7 em elsewhere, which is
  /// more than most faces need: such a line is set in whatever face the machine has.
  advance(text: string, size: number, weight: Weight): number
  /// The outlines of one line with its baseline's left end at (0, 0), y downwards; null when the face
  /// lacks a character of it.
  outline(text: string, size: number, weight: Weight): readonly OutlineStep[] | null
  /// The characters of a line that the face lacks, each once.
  lacking(text: string): readonly string[]
}

const { parse } = 'default' in opentype ? (opentype.default as typeof opentype) : opentype
const JOINERS = /[\u200c\u200d]/g
const WIDE =
  /[\u1100-\u11ff\u2e80-\u9fff\ua960-\ua97f\uac00-\ud7ff\uf900-\ufaff\ufe30-\ufe4f\uff00-\uff60\u{1f000}-\u{1faff}\u{20000}-\u{3ffff}]/u
/// Lines kept at hand; a film sets the same few again and again.
const KEPT_LINES = 4000

/// Reads the regular and the bold of one face (TrueType or OpenType bytes). Throws when they are not fonts.
export function readTypeface(regular: ArrayBuffer, bold: ArrayBuffer, family = 'Atkinson Hyperlegible'): Typeface {
  const fonts: Readonly<Record<Weight, Font>> = { 400: parse(regular), 700: parse(bold) }
  const plain = fonts[400]
  const advances = new Map<string, number>()
  const outlines = new Map<string, readonly OutlineStep[] | null>()

  const lacking = (text: string): string[] => [
    ...new Set([...drawnText(text).replace(JOINERS, '')].filter((c) => plain.charToGlyphIndex(c) === 0)),
  ]
  const once = <T>(kept: Map<string, T>, text: string, weight: Weight, set: (font: Font, text: string) => T): T => {
    const key = weight + text
    const known = kept.get(key)
    if (known !== undefined) return known
    if (kept.size >= KEPT_LINES) kept.clear()
    const line = set(fonts[weight], drawnText(text).replace(JOINERS, ''))
    kept.set(key, line)
    return line
  }

  const os2 = plain.tables.os2
  return {
    family,
    ascent: os2.usWinAscent / plain.unitsPerEm,
    descent: os2.usWinDescent / plain.unitsPerEm,
    capHeight: os2.sCapHeight / plain.unitsPerEm,
    advance: (text, size, weight) => once(advances, text, weight, advanceOf) * size,
    outline: (text, size, weight) => once(outlines, text, weight, outlineOf)?.map((step) => scaled(step, size)) ?? null,
    lacking,
  }
}

/// Width of a line at 1 em.
const advanceOf = (font: Font, text: string): number => runsOf(font, text).reduce((pen, run) => setRun(font, run, pen, () => undefined), 0)

/// Outlines of a line at 1 em; null when a character lacks.
function outlineOf(font: Font, text: string): readonly OutlineStep[] | null {
  const runs = runsOf(font, text)
  if (runs.some((run) => run.lacking)) return null
  const steps: OutlineStep[] = []
  runs.reduce((pen, run) => setRun(font, run, pen, (glyph, at) => addOutline(steps, glyph, at)), 0)
  return steps
}

/// Sets a run from `pen` on and returns where the pen then is. Runs that the face has are kerned; a character that it lacks
/// stands by itself.
function setRun(font: Font, run: Run, pen: number, put: (glyph: Glyph, at: number) => void): number {
  if (run.lacking) return pen + (WIDE.test(run.text) ? 1 : 0.7)
  const glyphs = font.stringToGlyphs(run.text)
  let at = pen
  glyphs.forEach((glyph, i) => {
    put(glyph, at)
    const next = glyphs[i + 1]
    at += (glyph.advanceWidth + (next ? font.getKerningValue(glyph, next) : 0)) / font.unitsPerEm
  })
  return at
}

function addOutline(steps: OutlineStep[], glyph: Glyph, pen: number): void {
  let start: Point | null = null
  for (const c of glyph.getPath(0, 0, 1).commands) {
    const at: Point = [pen + c.x, c.y]
    if (c.type === 'M') steps.push({ to: 'move', at: (start = at) })
    else if (c.type === 'L') steps.push({ to: 'line', at })
    else if (c.type === 'C') steps.push({ to: 'curve', first: [pen + c.x1, c.y1], second: [pen + c.x2, c.y2], at })
    else if (c.type === 'Q') {
      const from = (steps.at(-1) as OutlineStep).at
      const control: Point = [pen + c.x1, c.y1]
      steps.push({ to: 'curve', first: mix(from, control), second: mix(at, control), at })
    } else if (start) steps.push({ to: 'line', at: start })
  }
}

/// Two thirds of the way from an end to a quadratic's control: the cubic's control.
const mix = (end: Point, control: Point): Point => [end[0] + (2 / 3) * (control[0] - end[0]), end[1] + (2 / 3) * (control[1] - end[1])]

interface Run {
  text: string
  lacking: boolean
}

function runsOf(font: Font, text: string): Run[] {
  const runs: Run[] = []
  for (const character of text) {
    const lacking = font.charToGlyphIndex(character) === 0
    const last = runs.at(-1)
    if (last && !last.lacking && !lacking) last.text += character
    else runs.push({ text: character, lacking })
  }
  return runs
}

const times = ([x, y]: Point, k: number): Point => [x * k, y * k]
const scaled = (step: OutlineStep, k: number): OutlineStep =>
  step.to === 'curve'
    ? { to: 'curve', first: times(step.first, k), second: times(step.second, k), at: times(step.at, k) }
    : { ...step, at: times(step.at, k) }
