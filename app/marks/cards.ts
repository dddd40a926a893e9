import { overlayOf } from '../measure/curve-beside'
import { overFrames } from '../measure/registry'
import type { Card, CurveCard, WordCard } from '../project/picture'
import type { Measure } from '../project/question'
import { CAUTION_DRAFT, CAUTION_SECONDS, cautionText, readingSeconds } from '../script/caution-text'
import { drawCurve } from './curve-drawing'
import { curveFigure } from './curve-figure'
import { filmPage } from './curve-page'
import type { DrawContext } from './draw-context'
import { drawnText } from './drawn-text'
import { letteringOf } from './lettering'
import { palette } from './palette'
import { shortened, textShape, wrapAtMost, wrapText } from './set-text'
import type { Colour, Shape } from './shape'
import { boxRing } from './stroke'
import type { Typeface, Weight } from './typeface'

/// One page of a card: shapes that cover the whole canvas, and how long it takes to read.
export interface CardPage {
  readonly shapes: readonly Shape[]
  readonly seconds: number
}

export interface CardProject {
  readonly title: string
  readonly question?: string | undefined
  /// How long a curve stands depends on what its measure is.
  readonly measures?: readonly Measure[] | undefined
}

export interface CardSize {
  readonly width: number
  readonly height: number
}

interface Block {
  readonly label: string
  readonly text: string
}

interface CardContent {
  readonly heading: string
  readonly blocks: readonly Block[]
  readonly draft: boolean
  readonly least: number
}

/// A card as pages: what does not fit one page in type of 4 % of the height goes on to the next, broken between sentences.
/// A caution carries the start notice; the end card carries the notices on health, practice and estimates (app/release/notices.ts);
/// a card's own `lines` take a notice's place. Both are marked as drafts until a clinician approves them.
export function cardPages(card: WordCard, project: CardProject, typeface: Typeface, size: CardSize): readonly CardPage[] {
  const content = contentOf(card, project)
  const page = pageFor(typeface, size)
  const pages = paginate(content, page)
  return pages.map((blocks) => {
    const words = [content.heading, ...blocks.flatMap((b) => [b.label, b.text])].join(' ')
    return { shapes: drawPage(content, blocks, page), seconds: Math.max(content.least / pages.length, readingSeconds(words)) }
  })
}

/// Seconds that a card needs to be read, all its pages together.
export const cardSeconds = (card: Card, project: CardProject, typeface: Typeface, size: CardSize): number =>
  card.card === 'curve'
    ? curveSeconds(
        card,
        project.measures?.find(({ id }) => id === card.measure),
      )
    : cardPages(card, project, typeface, size).reduce((sum, page) => sum + page.seconds, 0)

/// A curve stands this long where nothing else is said, seconds: title, axes and names are read in it (`readingSeconds`
/// of about thirty-five words), and the line is followed once.
export const CURVE_SECONDS = 12
/// With another curve laid over it, which is followed as well, and what may be said of the two.
export const TWO_CURVES_SECONDS = 16
/// Longer by this where an instant is told on it, with its bracket.
export const INSTANT_SECONDS = 7
const curveSeconds = (card: CurveCard, measure: Measure | null | undefined): number =>
  (card.beside === undefined ? CURVE_SECONDS : TWO_CURVES_SECONDS) + (measure && overFrames(measure)?.instant ? INSTANT_SECONDS : 0)

/// A measure's curve on one page; where it has none, why.
function curvePage(card: CurveCard, context: DrawContext): CardPage {
  const { measures, readings, typeface } = context
  const measure = measures.measure(card.measure)
  const figure = measure && curveFigure(measure, measures, readings.get(measure.id), { overlay: overlayOf(measure, card, measures) })
  const heading = drawnText(card.lines?.[0] ?? '')
  if (figure)
    return {
      shapes: drawCurve(figure, typeface, filmPage(context.width, context.height), heading || figure.title),
      seconds: curveSeconds(card, measure),
    }
  const why = measure ? 'No curve: the measure has a value on fewer than three frames.' : 'No curve: its measure is not there any more.'
  const [page] = cardPages({ card: 'text', lines: [heading || 'A curve', why] }, measures.breakdown, typeface, context)
  return { shapes: page?.shapes ?? [], seconds: curveSeconds(card, measure) }
}

/// The page of a card shown at frame `at` of its shot's `frames`: each page has its share of the shot.
export function cardPageAt(pages: readonly CardPage[], at: number, frames: number): number {
  const whole = pages.reduce((sum, page) => sum + page.seconds, 0)
  let until = 0
  for (const [i, page] of pages.entries()) {
    until += page.seconds
    if (at < Math.round((until / whole) * frames)) return i
  }
  return pages.length - 1
}

function contentOf(card: WordCard, { title, question }: CardProject): CardContent {
  const lines = (card.lines ?? []).map(drawnText).filter(Boolean)
  const own = lines.map((text) => ({ label: '', text }))
  switch (card.card) {
    case 'title':
      return { heading: title, blocks: own.length > 0 ? own : question ? [{ label: '', text: question }] : [], draft: false, least: 3 }
    case 'caution':
      return {
        heading: 'Before you watch',
        blocks: own.length > 0 ? own : [{ label: '', text: cautionText.start }],
        draft: true,
        least: CAUTION_SECONDS,
      }
    case 'end':
      return {
        heading: 'Please keep in mind',
        blocks:
          own.length > 0
            ? own
            : [
                { label: 'Practice', text: cautionText.practice },
                { label: 'What the values are', text: cautionText.estimates },
                { label: 'Health', text: cautionText.health },
              ],
        draft: true,
        least: CAUTION_SECONDS,
      }
    case 'text':
      return { heading: lines[0] ?? '', blocks: own.slice(1), draft: false, least: 2 }
  }
}

interface Page {
  readonly typeface: Typeface
  readonly size: CardSize
  readonly left: number
  readonly top: number
  readonly foot: number
  readonly column: number
  readonly heading: number
  readonly body: number
  readonly unit: number
}

function pageFor(typeface: Typeface, size: CardSize): Page {
  const { small, heading, unit, captionTop } = letteringOf(size.width, size.height)
  const tall = size.height > size.width
  const left = (tall ? 0.08 : 0.12) * size.width
  return {
    typeface,
    size,
    left,
    top: 0.09 * size.height,
    // What is said while a card stands has its captions beneath it.
    foot: captionTop,
    /// About 60 characters to a line at most: longer ones are hard to follow (common practice, no source).
    column: Math.min(size.width - 2 * left, 30 * small),
    heading: Math.max(heading, 1.2 * small),
    body: small,
    unit,
  }
}

const LINE = 1.36

const headingLines = (heading: string, page: Page): string[] =>
  heading ? wrapAtMost(page.typeface, shortened(heading, 160), page.heading, 700, page.column, 4) : []
const bodyLines = (text: string, page: Page, weight: Weight = 400): string[] =>
  wrapText(page.typeface, text, page.body, weight, page.column)
const headingHeight = (heading: string, page: Page): number => headingLines(heading, page).length * 1.14 * page.heading + 0.9 * page.body
const blockHeight = (block: Block, page: Page): number =>
  ((block.label ? bodyLines(block.label, page, 700).length : 0) + (block.text ? bodyLines(block.text, page).length : 0)) *
    LINE *
    page.body +
  0.7 * page.body

/// What the line at a draft's foot takes, with the room above it.
const draftHeight = (page: Page): number => (bodyLines(CAUTION_DRAFT, page).length * LINE + 0.84) * page.body

/// Blocks on as few pages as hold them, and these filled as evenly as they come.
function paginate({ heading, blocks, draft }: CardContent, page: Page): Block[][] {
  const room = page.foot - page.top - headingHeight(heading, page) - (draft ? draftHeight(page) : 0)
  const best = fillPages(blocks, page, room)
  for (let share = 0.3; share < 1 && best.length < 8; share += 0.05) {
    const even = fillPages(blocks, page, share * room)
    const fits = even.every((blocks) => blocks.reduce((sum, b) => sum + blockHeight(b, page), 0) <= room)
    if (even.length === best.length && fits) return even
  }
  return best
}

function fillPages(blocks: readonly Block[], page: Page, room: number): Block[][] {
  const pages: Block[][] = [[]]
  const last = (): Block[] => pages.at(-1) as Block[]
  const used = (): number => last().reduce((sum, b) => sum + blockHeight(b, page), 0)
  for (const block of blocks) {
    const height = blockHeight(block, page)
    if (used() > 0 && used() + height > room && (height <= room || used() > room / 2)) pages.push([])
    if (used() + height <= room) {
      last().push(block)
      continue
    }
    const continued = block.label && `${block.label}, continued`
    let rest: Block = { label: block.label, text: '' }
    for (const piece of piecesOf(block.text, (text) => blockHeight({ label: continued, text }, page) <= room)) {
      const longer: Block = { label: rest.label, text: rest.text ? `${rest.text} ${piece}` : piece }
      if (rest.text && used() + blockHeight(longer, page) > room) {
        last().push(rest)
        pages.push([])
        rest = { label: continued, text: piece }
      } else rest = longer
    }
    last().push(rest)
  }
  return pages
}

/// A text's sentences; one that does not fit a page in parts at its commas, those, if need be, in words,
/// and an endless word in pieces.
function piecesOf(text: string, fits: (piece: string) => boolean): string[] {
  const parts = (pieces: readonly string[], at: RegExp): string[] => pieces.flatMap((piece) => (fits(piece) ? [piece] : piece.split(at)))
  const words = parts(parts(text.split(/(?<=[.!?:])\s+/u), /(?<=[,;])\s+/u), /\s+/u)
  return words.flatMap((word) => (fits(word) ? [word] : (word.match(/.{1,20}/gsu) ?? [])))
}

function drawPage({ heading, draft }: CardContent, blocks: readonly Block[], page: Page): Shape[] {
  const { typeface, size, left, body, unit } = page
  const height =
    headingHeight(heading, page) + blocks.reduce((sum, b) => sum + blockHeight(b, page), 0) - (blocks.length > 0 ? 0.7 : 0.9) * body
  let y = page.top + Math.max(0, (page.foot - page.top - (draft ? draftHeight(page) : 0) - height) * 0.42)
  const shapes: Shape[] = [
    { kind: 'fill', rings: [boxRing(0, 0, size.width, size.height)], colour: palette.card, opacity: 1 },
    { kind: 'fill', rings: [boxRing(left, y - 0.55 * page.heading, 72 * unit, 6 * unit)], colour: palette.accent, opacity: 1 },
  ]
  const put = (text: string, em: number, weight: Weight, colour: Colour, line: number): void => {
    shapes.push(textShape(text, [left, y + typeface.capHeight * em], em, weight, colour))
    y += line
  }
  for (const line of headingLines(heading, page)) put(line, page.heading, 700, palette.text, 1.14 * page.heading)
  y += 0.9 * body
  for (const block of blocks) {
    if (block.label) for (const line of bodyLines(block.label, page, 700)) put(line, body, 700, palette.accent, LINE * body)
    if (block.text) for (const line of bodyLines(block.text, page)) put(line, body, 400, palette.lighter, LINE * body)
    y += 0.7 * body
  }
  if (draft) {
    y = page.foot - bodyLines(CAUTION_DRAFT, page).length * LINE * body
    for (const line of bodyLines(CAUTION_DRAFT, page)) put(line, body, 400, palette.amber, LINE * body)
  }
  return shapes
}

const kept = new WeakMap<DrawContext, Map<Card, readonly CardPage[]>>()

/// The pages of a card in a film, set once.
export function pagesOf(card: Card, context: DrawContext): readonly CardPage[] {
  const cards = kept.get(context) ?? new Map<Card, readonly CardPage[]>()
  kept.set(context, cards)
  const pages =
    cards.get(card) ??
    (card.card === 'curve' ? [curvePage(card, context)] : cardPages(card, context.measures.breakdown, context.typeface, context))
  cards.set(card, pages)
  return pages
}
