import type { RunStyle, TextRun } from '../../app/release/text-run'

/// Rich text of a reference's fields on its way through the citation processor and back. The processor reads markup
/// loosely and drops what it does not know, so none is given to it: the markup that the Citation Style Language allows, and
/// every other sign of markup, goes through it as characters that stand for them, and comes back as style or as text.

/// Characters of Unicode's private use area that stand for signs of markup, and for where a style begins and ends.
const SIGNS: Readonly<Record<string, string>> = { '\uE0F0': '<', '\uE0F1': '>', '\uE0F2': '&' }
const STAND_INS: Readonly<Record<string, string>> = { '<': '\uE0F0', '>': '\uE0F1', '&': '\uE0F2' }
const BEGINS: Readonly<Record<string, RunStyle | null>> = {
  '\uE0E0': 'italic',
  '\uE0E1': 'bold',
  '\uE0E2': 'superscript',
  '\uE0E3': 'subscript',
  '\uE0E4': 'small-caps',
  '\uE0E5': null,
}
const ENDS = '\uE0EF'
const OURS = /[\uE0E0-\uE0F2]/g

/// What CSL 1.0.2 allows within a field ("Rich text markup within fields"): i, b, sup, sub, small capitals, and text whose
/// case is kept.
const OPENING: Readonly<Record<string, string>> = {
  i: '\uE0E0',
  b: '\uE0E1',
  sup: '\uE0E2',
  sub: '\uE0E3',
  'span style="font-variant:small-caps"': '\uE0E4',
  'span class="nocase"': '\uE0E5',
}
const TAG = /<(?:\/(i|b|sup|sub|span)|(i|b|sup|sub|span style="font-variant: ?small-caps;?"|span class="nocase"))>/g

/// A field as the processor may read it. `rich`: it may hold markup; only what is well nested is taken for such.
export function toProcessor(field: string, rich: boolean): string {
  const hidden = (text: string): string => text.replace(/[<>&]/g, (sign) => STAND_INS[sign] ?? '')
  const clean = field.replace(OURS, '')
  if (!rich) return hidden(clean)
  const open: { readonly name: string; readonly at: number; readonly sign: string }[] = []
  const kept = new Map<number, string>()
  const tags = [...clean.matchAll(TAG)]
  for (const { 1: closing, 2: opening = '', index } of tags) {
    if (closing === undefined)
      open.push({ name: opening.split(' ')[0] ?? '', at: index, sign: OPENING[opening.replace(': ', ':').replace(';"', '"')] ?? '' })
    else {
      const last = open.at(-1)
      if (last?.name !== closing) continue
      open.pop()
      kept.set(last.at, last.sign).set(index, ENDS)
    }
  }
  let at = 0
  let out = ''
  for (const { 0: tag, index } of tags) {
    const sign = kept.get(index)
    if (sign === undefined) continue
    out += hidden(clean.slice(at, index)) + sign
    at = index + tag.length
  }
  return out + hidden(clean.slice(at))
}

/// What the processor made of fields, as runs.
export function fromProcessor(text: string): TextRun[] {
  const runs: TextRun[] = []
  const open: (RunStyle | null)[] = []
  for (const [piece] of text.matchAll(/[\uE0E0-\uE0E5\uE0EF]|[^\uE0E0-\uE0E5\uE0EF]+/g)) {
    const begins = BEGINS[piece]
    if (begins !== undefined) open.push(begins)
    else if (piece === ENDS) open.pop()
    else
      runs.push({
        text: piece.replace(/[\uE0F0-\uE0F2]/g, (sign) => SIGNS[sign] ?? sign),
        as: [...new Set(open.flatMap((style) => style ?? []))],
      })
  }
  return runs
}
