import type { Node } from 'prosemirror-model'
import { rowsOfHtml, rowsOfText } from './clean-paste'

/// Scripts written elsewhere, as rows. Readers are fetched when they are first wanted.
export async function rowsOfFile(file: File): Promise<Node[]> {
  const kind = /\.([^.]+)$/.exec(file.name)?.[1]?.toLowerCase()
  if (kind === 'docx') {
    const { default: mammoth } = await import('mammoth')
    const { value } = await mammoth.convertToHtml({ arrayBuffer: await file.arrayBuffer() })
    return rowsOfHtml(value)
  }
  const text = await file.text()
  if (kind !== 'md' && kind !== 'markdown') return rowsOfText(text)
  const { marked } = await import('marked')
  return rowsOfHtml(await marked.parse(text, { async: true, gfm: true }))
}
