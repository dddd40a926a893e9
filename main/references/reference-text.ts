import { Driver } from '@citeproc-rs/wasm'
import type { Reference } from '../../app/project/reference'
import { STYLE } from './style'

/// A reference as it is printed in full, and as it is named in a text.
export interface ReferenceText {
  readonly id: string
  readonly text: string
  readonly short: string
}

/// References as text by a citation processor (citeproc-rs, MPL-2.0, as it comes). Plain text: whatever markup
/// an item holds is dropped or shown, never obeyed. An item that the processor cannot read is given by its title.
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
    const { allClusters, bibEntries } = driver.fullRender() as { allClusters: Map<string, string> | Record<string, string>; bibEntries: readonly { value: string }[] }
    const short = allClusters instanceof Map ? allClusters.get('cite') : allClusters['cite']
    const text = oneLine(bibEntries[0]?.value ?? '')
    return text === '' ? null : { id, text, short: oneLine(short ?? '') || `(${id})` }
  } catch {
    return null
  } finally {
    driver?.free()
  }
}

/// Only plain fields, names and dates: the rest of an item is kept in the project and means nothing here.
const readable = (csl: Reference['csl']): Record<string, unknown> =>
  Object.fromEntries(Object.entries(csl).filter(([, value]) => typeof value === 'string' || typeof value === 'number' || isNames(value) || isDate(value)))

const isNames = (value: unknown): boolean => Array.isArray(value) && value.every((name) => typeof name === 'object' && name !== null && ('family' in name || 'literal' in name || 'given' in name))
const isDate = (value: unknown): boolean => typeof value === 'object' && value !== null && ('date-parts' in value || 'raw' in value || 'literal' in value)

function bare({ id, csl }: Reference): ReferenceText {
  const title: unknown = (csl as Record<string, unknown>)['title']
  return { id, text: oneLine(typeof title === 'string' && title.trim() !== '' ? title : `${csl.type} ${id}`), short: `(${id})` }
}

const oneLine = (text: string): string => text.replace(/\s+/gu, ' ').trim()
