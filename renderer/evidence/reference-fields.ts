import type { Reference } from '../../app/project/reference'

/// What a person types of a cited work, and its item of CSL-JSON: into fields and back. A field that was not touched leaves
/// its part of the item as it was given, with all that the fields do not show of it.

type Csl = Reference['csl']

/// Kinds of work that are offered, by their types in CSL 1.0.2.
export const WORK_KINDS = {
  'article-journal': 'article',
  book: 'book',
  chapter: 'chapter of a book',
  webpage: 'web page',
  'paper-conference': 'paper at a meeting',
  thesis: 'thesis',
  report: 'report',
} as const

/// The fields, in the order in which they are asked, each with what it is called; `container` has a name for each kind.
const FIELDS = [
  'author',
  'year',
  'title',
  'editor',
  'container-title',
  'volume',
  'issue',
  'page',
  'edition',
  'genre',
  'publisher',
  'DOI',
  'URL',
  'accessed',
] as const
export type FieldName = (typeof FIELDS)[number]
export type FieldTexts = Readonly<Partial<Record<FieldName, string>>>

const ASKED: Readonly<Record<keyof typeof WORK_KINDS, readonly FieldName[]>> = {
  'article-journal': ['author', 'year', 'title', 'container-title', 'volume', 'issue', 'page', 'DOI'],
  book: ['author', 'editor', 'year', 'title', 'edition', 'volume', 'publisher', 'DOI'],
  chapter: ['author', 'year', 'title', 'editor', 'container-title', 'edition', 'page', 'publisher', 'DOI'],
  webpage: ['author', 'year', 'title', 'container-title', 'publisher', 'URL', 'accessed'],
  'paper-conference': ['author', 'year', 'title', 'editor', 'container-title', 'page', 'publisher', 'DOI', 'URL'],
  thesis: ['author', 'year', 'title', 'genre', 'publisher', 'DOI', 'URL'],
  report: ['author', 'year', 'title', 'genre', 'publisher', 'DOI', 'URL'],
}

const LABELS: Readonly<Record<FieldName, string>> = {
  author: 'authors (family, given; …)',
  year: 'year',
  title: 'title',
  editor: 'editors (family, given; …)',
  'container-title': 'where it stands',
  volume: 'volume',
  issue: 'issue',
  page: 'pages',
  edition: 'edition',
  genre: 'what it is',
  publisher: 'publisher',
  DOI: 'DOI',
  URL: 'address',
  accessed: 'seen on (2026-11-20)',
}
const CONTAINERS: Readonly<Record<string, string>> = {
  'article-journal': 'journal',
  chapter: 'book',
  webpage: 'site',
  'paper-conference': 'proceedings',
}
const PUBLISHERS: Readonly<Record<string, string>> = { thesis: 'university', report: 'institution' }

export const fieldLabel = (field: FieldName, kind: string): string =>
  (field === 'container-title' ? CONTAINERS[kind] : field === 'publisher' ? PUBLISHERS[kind] : undefined) ?? LABELS[field]

/// The fields that a kind of work is asked for; of a kind that is not offered, all.
export const fieldsOf = (kind: string): readonly FieldName[] => (kind in ASKED ? ASKED[kind as keyof typeof ASKED] : FIELDS)

/// Each field as it reads now.
export function textsOf(csl: Csl): Record<FieldName, string> {
  return Object.fromEntries(FIELDS.map((field) => [field, textOf(csl, field)])) as Record<FieldName, string>
}

function textOf(csl: Csl, field: FieldName): string {
  const item = csl as Record<string, unknown>
  if (field === 'author' || field === 'editor') return namesText(item[field])
  if (field === 'year') return String(datePartsOf(item['issued'])[0] ?? rawYear(item['issued']))
  if (field === 'accessed')
    return datePartsOf(item['accessed'])
      .map((part, i) => (i === 0 ? String(part) : String(part).padStart(2, '0')))
      .join('-')
  const value = item[field]
  return typeof value === 'string' || typeof value === 'number' ? String(value) : ''
}

/// The item with a kind and fields as they were typed. Null where a year or a day is none.
export function correctedItem(csl: Csl, kind: string, texts: FieldTexts): Csl | null {
  const item: Record<string, unknown> = { ...csl, type: kind }
  for (const field of FIELDS) {
    const text = texts[field]?.trim()
    if (text === undefined || text === textOf(csl, field)) continue
    if (field === 'year' || field === 'accessed') {
      const parts = field === 'year' ? yearParts(text) : dayParts(text)
      if (text !== '' && parts === null) return null
      put(item, field === 'year' ? 'issued' : 'accessed', text === '' ? undefined : { 'date-parts': [parts] })
    } else if (field === 'author' || field === 'editor') put(item, field, text === '' ? undefined : namesOf(text, item[field]))
    else put(item, field, text === '' ? undefined : text)
  }
  return item as Csl
}

function put(item: Record<string, unknown>, field: string, value: unknown): void {
  if (value === undefined) delete item[field]
  else item[field] = value
}

/// "Okafor, Ada; Lind, B.; World Sport Body": a name without a comma stands as it is.
function namesText(names: unknown): string {
  if (!Array.isArray(names)) return ''
  return names
    .map(nameText)
    .filter((name) => name !== '')
    .join('; ')
}

function nameText(name: unknown): string {
  if (typeof name !== 'object' || name === null) return ''
  const { family, given, literal, 'non-dropping-particle': particle } = name as Record<string, unknown>
  const told = (part: unknown): string => (typeof part === 'string' ? part.trim() : '')
  const last = [told(particle), told(family)].filter(Boolean).join(' ')
  return last !== '' && told(given) !== '' ? `${last}, ${told(given)}` : last || told(literal) || told(given)
}

/// Names as typed; one that reads as before is kept as it was given, particles and all.
function namesOf(text: string, before: unknown): object[] {
  const known = new Map((Array.isArray(before) ? before : []).map((name: unknown) => [nameText(name), name as object]))
  return text
    .split(';')
    .map((name) => name.trim())
    .filter((name) => name !== '')
    .map((name) => {
      const [family = '', given = ''] = name.split(/,(.*)/u).map((part) => part.trim())
      return known.get(name) ?? (given === '' ? { literal: family } : { family, given })
    })
}

function datePartsOf(date: unknown): (string | number)[] {
  const parts = typeof date === 'object' && date !== null ? (date as Record<string, unknown>)['date-parts'] : undefined
  const first: unknown = Array.isArray(parts) ? parts[0] : undefined
  return Array.isArray(first) ? first.filter((part): part is string | number => typeof part === 'number' || typeof part === 'string') : []
}

function rawYear(date: unknown): string {
  if (typeof date !== 'object' || date === null) return ''
  const { raw, literal } = date as Record<string, unknown>
  return [raw, literal].find((text): text is string => typeof text === 'string') ?? ''
}

const yearParts = (text: string): number[] | null => (/^\d{1,4}$/.test(text) && Number(text) > 0 ? [Number(text)] : null)

function dayParts(text: string): number[] | null {
  const [, year, month, day] = /^(\d{4})(?:-(\d{1,2})(?:-(\d{1,2}))?)?$/.exec(text) ?? []
  if (year === undefined) return null
  const parts = [year, month, day].flatMap((part) => (part === undefined ? [] : [Number(part)]))
  return (parts[1] ?? 1) >= 1 && (parts[1] ?? 1) <= 12 && (parts[2] ?? 1) >= 1 && (parts[2] ?? 1) <= 31 ? parts : null
}
