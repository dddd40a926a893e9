import { Driver } from '@citeproc-rs/wasm'
import type { Reference } from '../../app/project/reference'
import { runsText, type TextRun } from '../../app/release/text-run'
import { fromProcessor, toProcessor } from './rich-field'
import { STYLE } from './style'

/// A reference as it is printed in full, and as it is named in a text. `runs` is the full one with the styles that its
/// fields have; `text` the same in plain characters.
export interface ReferenceText {
  readonly id: string
  readonly text: string
  readonly short: string
  readonly runs: readonly TextRun[]
}

/// References as text by a citation processor (citeproc-rs, MPL-2.0, as it comes). Markup that CSL allows in a field is
/// shown as the style that it stands for, any other as the text that it is; none is obeyed. An item that the processor
/// cannot read is given by its title.
export function referenceTexts(references: readonly Reference[]): ReferenceText[] {
  return references.map((reference) => printed(reference) ?? bare(reference))
}

/// One driver an item: what is wrong with one spoils no other.
function printed({ id, csl }: Reference): ReferenceText | null {
  let driver: Driver | undefined
  try {
    driver = new Driver({ style: STYLE, format: 'plain' })
    driver.insertReference({ ...readable(csl), id: 'item' } as { id: string; type: string })
    driver.includeUncited('All')
    driver.insertCluster({ id: 'cite', cites: [{ id: 'item' }] })
    driver.setClusterOrder([{ id: 'cite' }])
    const { allClusters, bibEntries } = driver.fullRender() as {
      allClusters: Map<string, string> | Record<string, string>
      bibEntries: readonly { value: string }[]
    }
    const short = allClusters instanceof Map ? allClusters.get('cite') : allClusters['cite']
    const runs = inOneLine(fromProcessor(bibEntries[0]?.value ?? ''))
    return runs.length === 0
      ? null
      : { id, text: runsText(runs), short: runsText(inOneLine(fromProcessor(short ?? ''))) || `(${id})`, runs }
  } catch {
    return null
  } finally {
    driver?.free()
  }
}

/// Only plain fields, names and dates: the rest of an item is kept in the project and means nothing here.
const readable = (csl: Reference['csl']): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries(csl).flatMap(([field, value]) => {
      if (typeof value === 'string') return [[field, toProcessor(value, true)]]
      if (typeof value === 'number' || isDate(value)) return [[field, value]]
      return isNames(value) ? [[field, value.map(plainName)]] : []
    }),
  )

const isNames = (value: unknown): value is object[] =>
  Array.isArray(value) &&
  value.every((name) => typeof name === 'object' && name !== null && ('family' in name || 'literal' in name || 'given' in name))
const isDate = (value: unknown): boolean =>
  typeof value === 'object' && value !== null && ('date-parts' in value || 'raw' in value || 'literal' in value)
/// Names hold no markup.
const plainName = (name: object): object =>
  Object.fromEntries(
    Object.entries(name).map(([part, value]: [string, unknown]) => [part, typeof value === 'string' ? toProcessor(value, false) : value]),
  )

function bare({ id, csl }: Reference): ReferenceText {
  const title: unknown = (csl as Record<string, unknown>)['title']
  const runs = inOneLine(
    typeof title === 'string' && title.trim() !== '' ? fromProcessor(toProcessor(title, true)) : [{ text: `${csl.type} ${id}`, as: [] }],
  )
  return { id, text: runsText(runs), short: `(${id})`, runs }
}

/// Runs of one line: spaces single, none at either end.
function inOneLine(runs: readonly TextRun[]): TextRun[] {
  let before = ' '
  const single = runs.map(({ text, as }): TextRun => {
    const clean = text.replace(/\s+/gu, ' ')
    const kept = before.endsWith(' ') ? clean.trimStart() : clean
    before = kept === '' ? before : kept
    return { text: kept, as }
  })
  const last = single.findLastIndex(({ text }) => text.trim() !== '')
  return single
    .slice(0, last + 1)
    .map((run, i) => (i === last ? { ...run, text: run.text.trimEnd() } : run))
    .filter(({ text }) => text !== '')
}
