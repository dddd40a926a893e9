import type { Breakdown } from '../../project/breakdown'
import type { Quoted } from '../../project/claim'
import type { Inline } from '../../project/picture'
import { cautionText } from '../caution-text'
import { headingPieces, headingText, headingValues } from '../heading-text'
import { sentencesOf } from '../sentences'
import { shownValue, type Readings, type ValueInline } from '../spoken-form'

/// One thing that a film says: a sentence, a line of a card, a name on screen, a word drawn on the
/// picture, a chapter, the title, the question. Captions show the sentences and no other words.
export interface Saying {
  readonly on: Quoted
  /// Where, as the document has it: "script[3].text".
  readonly place: string
  /// The paragraph it belongs to, "" where it belongs to none; its chapter's row otherwise.
  readonly paragraph: string
  /// As captions show it.
  readonly shown: string
  /// Live values stand as one character each, `VALUE`.
  readonly bare: string
  readonly values: readonly string[]
  readonly cues: readonly string[]
  /// References cited in it or right behind it.
  readonly cites: readonly string[]
}

/// Stands for a live value.
export const VALUE = '\uFFFC'

const single = (text: string): string => text.replace(/[\s\u0085]+/gu, ' ').trim()

/// The notices claim nothing, sentence by sentence; what a card says in other words is read like any card.
const noticeSentences = new Set(Object.values(cautionText).flatMap((notice) => sentencesOf(notice).map(({ text }) => single(text))))

/// Everything that the film says, in the script's order, the title first.
export function sayingsOf(breakdown: Breakdown, readings: Readings): Saying[] {
  const said = new Numbering()
  const plain = (part: Quoted['part'], text: string, place: string, paragraph = ''): Saying[] =>
    single(text) === ''
      ? []
      : [
          said.saying(
            { part, ...(paragraph === '' ? {} : { paragraph }), words: single(text) },
            { place, paragraph, shown: single(text), bare: text, values: [], cues: [], cites: [] },
          ),
        ]
  const rows = breakdown.script.flatMap((row, i): Saying[] => {
    if ('chapter' in row) {
      const pieces = headingPieces(row)
      const filled = (of: (inline: ValueInline) => string): string =>
        single(pieces.map((piece) => (typeof piece === 'string' ? piece : of(piece))).join(''))
      const shown = single(headingText(row, readings))
      const words = filled(({ value }) => `{${value}}`)
      return words === ''
        ? []
        : [
            said.saying(
              { part: 'chapter', words },
              {
                place: `script[${i}].chapter`,
                paragraph: '',
                shown,
                bare: pieces.map((piece) => (typeof piece === 'string' ? piece : VALUE)).join(''),
                values: headingValues(row),
                cues: [],
                cites: [],
              },
            ),
          ]
    }
    return [
      ...sentencesIn(row.text).flatMap((sentence) => {
        const { inlines, ...parts } = sentence
        const fill = (of: (inline: ValueInline, before: string) => string): string => {
          let next = 0
          return single(
            sentence.bare.replaceAll(VALUE, (_value, at: number) => of(inlines[next++] ?? { value: '' }, sentence.bare.slice(0, at))),
          )
        }
        const words = fill(({ value }) => `{${value}}`)
        if (words === '') return []
        return [
          said.saying(
            { part: 'sentence', paragraph: row.id, words },
            {
              place: `script[${i}].text`,
              paragraph: row.id,
              shown: fill((inline, before) => shownValue(inline, readings, before)),
              ...parts,
              values: inlines.map(({ value }) => value),
            },
          ),
        ]
      }),
      ...(row.title ? [row.title.name, row.title.line ?? ''].flatMap((text) => plain('name', text, `script[${i}].title`, row.id)) : []),
      ...(row.shots ?? []).flatMap((shot, j) => {
        if ('card' in shot)
          return (shot.lines ?? []).flatMap((line) =>
            sentencesOf(line).flatMap(({ text }) =>
              noticeSentences.has(single(text)) ? [] : plain('card', text, `script[${i}].shots[${j}]`, row.id),
            ),
          )
        return (shot.marks ?? []).flatMap((mark) =>
          typeof mark === 'object' && 'word' in mark ? plain('mark', mark.word, `script[${i}].shots[${j}]`, row.id) : [],
        )
      }),
    ]
  })
  return [
    ...plain('title', breakdown.title, 'title'),
    ...(breakdown.question === undefined ? [] : sentencesOf(breakdown.question).flatMap(({ text }) => plain('question', text, 'question'))),
    ...rows,
  ]
}

class Numbering {
  private readonly met = new Map<string, number>()

  saying(on: Quoted, rest: Omit<Saying, 'on'>): Saying {
    const key = `${on.part}/${on.paragraph ?? ''}/${on.words}`
    const nth = this.met.get(key) ?? 0
    this.met.set(key, nth + 1)
    return { ...rest, on: nth === 0 ? on : { ...on, nth } }
  }
}

function sentencesIn(inlines: readonly Inline[]): { bare: string; inlines: ValueInline[]; cues: string[]; cites: string[] }[] {
  let bare = ''
  const values: { at: number; inline: ValueInline }[] = []
  const cues: { at: number; id: string }[] = []
  const cites: { at: number; id: string }[] = []
  for (const inline of inlines) {
    if (typeof inline === 'string') bare += inline
    else if ('value' in inline) {
      values.push({ at: bare.length, inline })
      bare += VALUE
    } else if ('cue' in inline) {
      cues.push({ at: bare.length, id: inline.cue })
      bare += inline.word
    } else if ('cite' in inline) cites.push({ at: bare.length, id: inline.cite })
  }
  return sentencesOf(bare).map(({ from, to, text }) => {
    const within = (list: readonly { at: number; id: string }[]): string[] =>
      list.filter(({ at }) => at >= from && at < to).map(({ id }) => id)
    // A cite stands at or behind the end of what it speaks for.
    return {
      bare: text,
      inlines: values.filter(({ at }) => at >= from && at < to).map(({ inline }) => inline),
      cues: within(cues),
      cites: cites.filter(({ at }) => at > from && at <= to).map(({ id }) => id),
    }
  })
}
