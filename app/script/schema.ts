import { Schema, type Attrs, type Mark, type Node } from 'prosemirror-model'

/// The script as a ProseMirror document: chapters and paragraphs, one below the other.
/// - A paragraph is known by its `id`; its shots, take and title are a record of that id, not
///   part of the document, so that changing a picture is no change of the words.
/// - A live value is one atom: it shows a reading and can never be typed into. It stands among a paragraph's words or a
///   heading's.
/// - A cite is one atom: it names a reference, and is neither spoken nor shown in captions.
/// - A cue is a mark on the words that say it, an unspoken note a mark on its text, so that both
///   are edited like any other words.
/// - `piece` keeps a text apart from the one before it where a document wrote two in a row; it
///   has no look and no meaning of its own.
///
/// toDOM writes only names and ids; what a value shows is the window's to draw.
export const scriptSchema = new Schema({
  nodes: {
    doc: { content: '(chapter | paragraph)*' },
    chapter: {
      content: '(text | value)*',
      marks: '',
      defining: true,
      toDOM: () => ['h2', 0],
      parseDOM: [{ tag: 'h1' }, { tag: 'h2' }, { tag: 'h3' }],
    },
    paragraph: {
      content: '(text | value | cite)*',
      attrs: { id: { validate: 'string' } },
      whitespace: 'pre',
      toDOM: (node: Node) => ['p', { 'data-paragraph': String(node.attrs['id']) }, 0],
      parseDOM: [{ tag: 'p', getAttrs: (dom: ElementLike): Attrs => ({ id: dom.getAttribute('data-paragraph') ?? '' }) }],
    },
    text: {},
    value: {
      inline: true,
      atom: true,
      attrs: { measure: { validate: 'string' }, form: { default: null, validate: 'string|null' } },
      toDOM: (node: Node) => [
        'span',
        {
          'data-value': String(node.attrs['measure']),
          ...(node.attrs['form'] === null ? {} : { 'data-form': String(node.attrs['form']) }),
        },
      ],
      parseDOM: [
        {
          tag: 'span[data-value]',
          getAttrs: (dom: ElementLike): Attrs => ({ measure: dom.getAttribute('data-value') ?? '', form: dom.getAttribute('data-form') }),
        },
      ],
    },
    cite: {
      inline: true,
      atom: true,
      attrs: { reference: { validate: 'string' }, at: { default: null, validate: 'string|null' } },
      toDOM: (node: Node) => {
        const [reference, at] = [String(node.attrs['reference']), node.attrs['at'] as string | null]
        return ['span', { 'data-cite': reference, ...(at === null ? {} : { 'data-at': at }) }, `[${reference}]`]
      },
      parseDOM: [
        {
          tag: 'span[data-cite]',
          getAttrs: (dom: ElementLike): Attrs => ({ reference: dom.getAttribute('data-cite') ?? '', at: dom.getAttribute('data-at') }),
        },
      ],
    },
  },
  marks: {
    piece: { inclusive: true, toDOM: () => ['span', { 'data-piece': '' }, 0], parseDOM: [{ tag: 'span[data-piece]' }] },
    cue: {
      attrs: { event: { validate: 'string' } },
      inclusive: false,
      excludes: 'cue note',
      toDOM: (mark: Mark) => ['span', { 'data-cue': String(mark.attrs['event']) }, 0],
      parseDOM: [{ tag: 'span[data-cue]', getAttrs: (dom: ElementLike): Attrs => ({ event: dom.getAttribute('data-cue') ?? '' }) }],
    },
    note: { inclusive: true, excludes: 'cue note', toDOM: () => ['span', { 'data-note': '' }, 0], parseDOM: [{ tag: 'span[data-note]' }] },
  },
})

/// What this file needs of a DOM element; the core has no DOM.
interface ElementLike {
  getAttribute(name: string): string | null
}
