// eslint-disable-next-line @typescript-eslint/triple-slash-reference -- every program that imports this file needs the types
/// <reference path="./citation-js.d.ts" />
import { plugins } from '@citation-js/core'
import '@citation-js/plugin-bibtex'
import { CodedError } from '../../app/errors/coded-error'
import { Reference } from '../../app/project/reference'
import { ok, refused, type Result } from '../../app/result'

/// The longest text of references that is read.
const LONGEST = 2_000_000

/// References written as CSL-JSON (an item or a list) or BibTeX (read by citation-js, MIT; by BibLaTeX's names, which
/// hold BibTeX's own and know web pages and the day they were seen besides). The kind of text is told
/// to the library, so that nothing in it is ever taken for an address and fetched. Ids are made of the
/// items' own where they can be; `taken` are those in use. Refused with 'document-invalid'.
export function readReferences(text: string, taken: ReadonlySet<string>): Result<Reference[], CodedError> {
  const refuse = (problem: string): Result<never, CodedError> =>
    refused(new CodedError('document-invalid', { file: 'references', problems: [{ place: '', problem }] }))
  if (text.length > LONGEST) return refuse('is longer than 2,000,000 characters')
  let items: readonly unknown[]
  try {
    items = /^\s*[[{]/u.test(text)
      ? [JSON.parse(text) as unknown].flat()
      : (plugins.input.chain(text, { forceType: '@biblatex/text', generateGraph: false }) as readonly unknown[])
  } catch (cause) {
    return refuse(cause instanceof Error ? cause.message.slice(0, 300) : 'cannot be read')
  }
  if (items.length === 0) return refuse('holds no reference')
  const ids = new Set(taken)
  const references: Reference[] = []
  for (const [i, item] of items.entries()) {
    const own: unknown = typeof item === 'object' && item !== null && 'id' in item ? item.id : undefined
    const id = freeName(typeof own === 'string' || typeof own === 'number' ? String(own) : '', ids)
    const parsed = Reference.safeParse({ id, csl: item })
    if (!parsed.success) return refuse(`item ${i + 1}: ${parsed.error.issues[0]?.message ?? 'is no CSL-JSON item'}`)
    ids.add(id)
    references.push(parsed.data)
  }
  return ok(references)
}

function freeName(wanted: string, taken: ReadonlySet<string>): string {
  const plain =
    wanted
      .replace(/[^\p{L}\p{N}._:-]+/gu, '-')
      .replace(/^[^\p{L}\p{N}]+/u, '')
      .slice(0, 60) || 'ref'
  if (!taken.has(plain)) return plain
  for (let n = 2; ; n++) if (!taken.has(`${plain}-${n}`)) return `${plain}-${n}`
}
