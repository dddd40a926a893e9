import { DOMSerializer, type Node } from 'prosemirror-model'
import { scriptSchema } from '../../app/script/schema'
import { freshId } from './paragraph-ids'

/// Words from elsewhere, without the looks they had there: headings and paragraphs, nothing else.

const HEADINGS = new Set(['H1', 'H2', 'H3', 'H4', 'H5', 'H6'])
const BLOCKS = new Set([...HEADINGS, 'P', 'DIV', 'LI', 'UL', 'OL', 'BLOCKQUOTE', 'PRE', 'TABLE', 'TBODY', 'TR', 'TD', 'TH', 'SECTION', 'ARTICLE', 'HEADER', 'FOOTER', 'MAIN', 'FIGURE', 'FIGCAPTION', 'DL', 'DT', 'DD', 'HR', 'BR', 'ADDRESS', 'BODY'])
const UNSEEN = new Set(['SCRIPT', 'STYLE', 'TEMPLATE', 'HEAD', 'TITLE', 'META', 'LINK', 'SVG', 'OBJECT', 'IFRAME', 'NOSCRIPT'])

/// The rows that a page of HTML says. Nothing of it is run or loaded.
export function rowsOfHtml(html: string): Node[] {
  const page = new DOMParser().parseFromString(html, 'text/html')
  const rows: Node[] = []
  let words = ''
  const end = (heading: boolean): void => {
    const text = tidy(words)
    words = ''
    if (text !== '') rows.push(heading ? scriptSchema.node('chapter', null, scriptSchema.text(text.slice(0, 2000))) : rowOf(text))
  }
  const walk = (node: globalThis.Node, heading: boolean): void => {
    if (node.nodeType === 3) words += node.nodeValue ?? ''
    if (!(node instanceof Element) || UNSEEN.has(node.tagName.toUpperCase())) return
    const block = BLOCKS.has(node.tagName)
    const within = heading || HEADINGS.has(node.tagName)
    if (block) end(heading)
    for (const child of node.childNodes) walk(child, within)
    if (block) end(within)
  }
  walk(page.body, false)
  end(false)
  return rows
}

/// The rows of plain text: a paragraph for each run of lines, blank lines between.
export const rowsOfText = (text: string): Node[] =>
  text
    .split(/(?:\r\n?|\n)(?:[^\S\n\r]*(?:\r\n?|\n))+/u)
    .map(tidy)
    .filter((words) => words !== '')
    .map(rowOf)

const rowOf = (words: string): Node => scriptSchema.node('paragraph', { id: freshId() }, scriptSchema.text(words))

/// One space for any run of white space, and no characters that cannot be kept.
const tidy = (words: string): string => words.replaceAll(/[\0\u00AD\u200B\uFEFF]|\p{Surrogate}/gu, '').replaceAll(/[\s\u0085]+/gu, ' ').trim()

/// HTML from the clipboard as the editor may read it: our own as it is, other programs' cleaned.
export function cleanHtml(html: string): string {
  if (html.includes('data-pm-slice')) return html
  const holder = document.createElement('div')
  for (const row of rowsOfHtml(html)) holder.append(DOMSerializer.fromSchema(scriptSchema).serializeNode(row))
  return holder.innerHTML
}
