import type { Reference } from '../project/reference'

/// "Okafor and Lind 2019", "Okafor et al. 2019": authors and year, whichever are there, else the id.
export function shortName({ id, csl }: Reference): string {
  const fields = csl as Record<string, unknown>
  const names = [fields['author'], fields['editor']].map(namesOf).find((list) => list.length > 0) ?? []
  const who = names.length > 2 ? `${names[0]} et al.` : names.join(' and ')
  return [who, yearOf(fields['issued'])].filter((part) => part !== '').join(' ') || id
}

/// What the work is called; null where its item does not say.
export function titleOf({ csl }: Reference): string | null {
  const title = (csl as Record<string, unknown>)['title']
  return typeof title === 'string' && title.trim() !== '' ? single(title) : null
}

function namesOf(list: unknown): string[] {
  if (!Array.isArray(list)) return []
  return list.flatMap((name: unknown) => {
    if (typeof name !== 'object' || name === null) return []
    const { family, literal, given, 'non-dropping-particle': particle } = name as Record<string, unknown>
    const told = [family, literal, given].find((part): part is string => typeof part === 'string' && part.trim() !== '')
    return told === undefined ? [] : [single(told === family && typeof particle === 'string' ? `${particle} ${told}` : told)]
  })
}

/// A date's year, as CSL-JSON gives it: `date-parts`, `raw` or `literal`.
function yearOf(date: unknown): string {
  if (typeof date !== 'object' || date === null) return ''
  const { 'date-parts': parts, raw, literal } = date as Record<string, unknown>
  const year: unknown = Array.isArray(parts) && Array.isArray(parts[0]) ? parts[0][0] : undefined
  if (typeof year === 'number' || (typeof year === 'string' && /^-?\d{1,4}$/.test(year))) return String(year)
  for (const text of [raw, literal]) if (typeof text === 'string') return /\b\d{4}\b/.exec(text)?.[0] ?? single(text)
  return ''
}

const single = (text: string): string => text.replace(/\s+/gu, ' ').trim().slice(0, 200)
