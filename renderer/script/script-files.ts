import type { Node } from 'prosemirror-model'
import { rowsOfHtml, rowsOfText } from './clean-paste'

/// Scripts written elsewhere, as rows. Readers are fetched when they are first wanted. Rejects what is no script: another
/// kind of file, or one that is none of its kind.
export async function rowsOfFile(file: File): Promise<Node[]> {
  if (file.size > MOST_BYTES) throw new Error('the file is larger than any script')
  const kind = /\.([^.]+)$/.exec(file.name)?.[1]?.toLowerCase() ?? 'txt'
  if (kind === 'docx') {
    const { default: mammoth } = await import('mammoth')
    const { value } = await mammoth.convertToHtml(
      { arrayBuffer: await file.arrayBuffer() },
      {
        styleMap: ["br[type='page'] => hr", "br[type='column'] => hr"],
        includeEmbeddedStyleMap: false,
        convertImage: mammoth.images.imgElement(() => Promise.resolve({ src: '' })),
      },
    )
    return rowsOfHtml(footnotesInPlace(value))
  }
  if (!KINDS.has(kind)) throw new Error('another kind of file')
  const text = decoded(new Uint8Array(await file.arrayBuffer()))
  if (kind !== 'md' && kind !== 'markdown') return rowsOfText(text)
  const { marked } = await import('marked')
  return rowsOfHtml(await marked.parse(withoutHead(text), { async: true, gfm: true }))
}

const KINDS = new Set(['txt', 'text', 'md', 'markdown'])
const MOST_BYTES = 50_000_000

/// Text by its byte order mark, else UTF-8, else as Windows wrote it in the West (WHATWG Encoding, section 6). Rejects bytes
/// that are no text.
function decoded(bytes: Uint8Array): string {
  const mark = bytes[0] === 0xff && bytes[1] === 0xfe ? 'utf-16le' : bytes[0] === 0xfe && bytes[1] === 0xff ? 'utf-16be' : null
  const text = mark === null ? utf8Or1252(bytes) : new TextDecoder(mark).decode(bytes)
  if (/\0|^\{\\rtf|^%PDF-/u.test(text)) throw new Error('no text')
  return text
}

function utf8Or1252(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return new TextDecoder('windows-1252').decode(bytes)
  }
}

/// Markdown without the facts that some programs put at its head, between two lines of dashes.
const withoutHead = (text: string): string =>
  text.replace(/^---[ \t]*\r?\n(?:[\w-]+:.*\r?\n|[ \t]+.*\r?\n|[ \t]*\r?\n)*---[ \t]*(?:\r?\n|$)/u, '')

/// The HTML of a .docx with each footnote where it is referred to, unspoken, in place of its number.
function footnotesInPlace(html: string): string {
  const page = new DOMParser().parseFromString(html, 'text/html')
  for (const link of page.querySelectorAll<HTMLElement>('a[id*="note-ref-"]')) {
    const note = page.getElementById((link.getAttribute('href') ?? '').slice(1))
    const span = page.createElement('span')
    span.setAttribute('data-note', '')
    span.textContent = note ? ` ${(note.textContent ?? '').replace(/\s*↑\s*$/u, '')}` : ''
    ;(link.closest('sup') ?? link).replaceWith(span)
  }
  for (const note of page.querySelectorAll('li[id^="footnote-"], li[id^="endnote-"]')) note.remove()
  return page.body.innerHTML
}
