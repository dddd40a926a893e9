import { DOMSerializer, type Node } from 'prosemirror-model'
import { scriptSchema } from '../../app/script/schema'
import { freshId } from './paragraph-ids'

/// Words from elsewhere, without the looks they had there: headings and paragraphs, and in them what is not spoken (words
/// that were struck out, footnotes at their place); nothing else.

const HEADINGS = new Set(['H1', 'H2', 'H3', 'H4', 'H5', 'H6'])
const BLOCKS = new Set([
  ...HEADINGS,
  'P',
  'DIV',
  'LI',
  'UL',
  'OL',
  'BLOCKQUOTE',
  'PRE',
  'TABLE',
  'TBODY',
  'THEAD',
  'TFOOT',
  'CAPTION',
  'TR',
  'TD',
  'TH',
  'SECTION',
  'ARTICLE',
  'ASIDE',
  'NAV',
  'HEADER',
  'FOOTER',
  'MAIN',
  'FIGURE',
  'FIGCAPTION',
  'DETAILS',
  'SUMMARY',
  'DL',
  'DT',
  'DD',
  'HR',
  'BR',
  'ADDRESS',
  'BODY',
])
const UNSEEN = new Set([
  'SCRIPT',
  'STYLE',
  'TEMPLATE',
  'HEAD',
  'TITLE',
  'META',
  'LINK',
  'SVG',
  'OBJECT',
  'EMBED',
  'IFRAME',
  'NOSCRIPT',
  'NOEMBED',
  'NOFRAMES',
  'TEXTAREA',
  'SELECT',
  'DATALIST',
  'BUTTON',
  'AUDIO',
  'VIDEO',
  'CANVAS',
  'RT',
  'RP',
])
const STRUCK = new Set(['DEL', 'S', 'STRIKE'])

/// Around what is not spoken, while words are gathered: two noncharacters, which no text may hold (Unicode, section 23.7).
const [NOTE, END_NOTE] = ['\uFDD0', '\uFDD1']

/// A heading's and a paragraph's longest text, characters; what is longer goes on in further paragraphs.
const HEADING_LENGTH = 2000
const PARAGRAPH_LENGTH = 20_000

/// The rows that a page of HTML says. Nothing of it is run or loaded. An element with `data-note` is not spoken.
export function rowsOfHtml(html: string): Node[] {
  const page = new DOMParser().parseFromString(html, 'text/html')
  const rows: Node[] = []
  let words = ''
  let notes = 0
  const end = (heading: boolean): void => {
    const text = tidy(words + (notes > 0 ? END_NOTE : ''))
    words = notes > 0 ? NOTE : ''
    if (!heading) return void rows.push(...rowsSaying(text))
    const said = tidy(text.replaceAll(/\uFDD0[^\uFDD1]*\uFDD1/gu, ''))
    if (said !== '') rows.push(scriptSchema.node('chapter', null, scriptSchema.text(cut(said, HEADING_LENGTH))))
  }
  const walk = (node: globalThis.Node, heading: boolean): void => {
    if (node.nodeType === 3) words += (node.nodeValue ?? '').replaceAll(/[\uFDD0\uFDD1]/gu, '')
    if (!(node instanceof Element) || UNSEEN.has(node.tagName.toUpperCase()) || isHidden(node)) return
    const block = BLOCKS.has(node.tagName)
    const within = heading || HEADINGS.has(node.tagName)
    const note = STRUCK.has(node.tagName) || node.hasAttribute('data-note')
    if (block) end(heading)
    if (note && notes++ === 0) words += NOTE
    for (const child of node.childNodes) walk(child, within)
    if (note && --notes === 0) words += END_NOTE
    if (block) end(within)
  }
  walk(page.body, false)
  end(false)
  return rows
}

/// The rows of plain text: a paragraph for each run of lines, blank lines between.
export const rowsOfText = (text: string): Node[] =>
  text
    .replaceAll(/[\uFDD0\uFDD1]/gu, '')
    .replaceAll(/\r\n?/gu, '\n')
    .split(/\n(?:[^\S\n]*\n)+/u)
    .map(tidy)
    .flatMap(rowsSaying)

/// Paragraphs that say these words; none where there are none.
function rowsSaying(words: string): Node[] {
  const rows: Node[] = []
  for (let rest = words; rest !== '';) {
    const piece = rest.length <= PARAGRAPH_LENGTH ? rest : cut(rest, PARAGRAPH_LENGTH)
    rest = rest.slice(piece.length).trim()
    // A note that is cut in two is one on both sides.
    if (piece.lastIndexOf(NOTE) > piece.lastIndexOf(END_NOTE)) rest = NOTE + rest
    const texts = [...piece.matchAll(/\uFDD0([^\uFDD1]*)\uFDD1?|[^\uFDD0]+/gu)].flatMap(([all, note]) => {
      const said = note ?? all
      return said === '' ? [] : [scriptSchema.text(said, note === undefined ? [] : [scriptSchema.mark('note')])]
    })
    if (texts.some(({ text }) => text?.trim() !== '')) rows.push(scriptSchema.node('paragraph', { id: freshId() }, texts))
  }
  return rows
}

/// The beginning of a text, up to so many characters, at a space where there is one; no character is cut in two.
function cut(text: string, length: number): string {
  if (text.length <= length) return text
  const space = text.lastIndexOf(' ', length)
  return text.slice(0, space > length / 2 ? space : length).replace(/\p{Surrogate}$/u, '')
}

/// Whether a page says of an element that nobody sees it, or Word that it is a list's number and not of the words.
const isHidden = (element: Element): boolean =>
  element.hasAttribute('hidden') ||
  /(?:^|[;\s])(?:display\s*:\s*none|visibility\s*:\s*hidden|mso-hide\s*:\s*all|mso-list\s*:\s*ignore)/iu.test(
    element.getAttribute('style') ?? '',
  )

/// One space for any run of white space, and no characters that cannot be kept, that nobody sees, or that turn others round.
const tidy = (words: string): string =>
  words
    .replaceAll(/[\s\u0085]+/gu, ' ')
    .replaceAll(/[\u00AD\u200B\uFEFF\u202A-\u202E\u2066-\u2069]|\p{Cc}|\p{Surrogate}/gu, '')
    .replaceAll(/ {2,}/gu, ' ')
    .trim()

/// HTML from the clipboard as the editor may read it: our own as it is, other programs' cleaned.
export function cleanHtml(html: string): string {
  if (isOwn(html)) return html
  const holder = document.createElement('div')
  for (const row of rowsOfHtml(html)) holder.append(DOMSerializer.fromSchema(scriptSchema).serializeNode(row))
  return holder.innerHTML
}

/// Whether a piece of the clipboard is what our own editor writes: other editors mark theirs in the same way, so every
/// element must be one of the script's.
function isOwn(html: string): boolean {
  if (!html.includes('data-pm-slice')) return false
  const { body } = new DOMParser().parseFromString(html, 'text/html')
  return (
    body.querySelector('[data-pm-slice]') !== null &&
    [...body.querySelectorAll('*')].every((element) =>
      element.matches('p[data-paragraph], h2, span:is([data-value], [data-cite], [data-cue], [data-note], [data-piece])'),
    )
  )
}
