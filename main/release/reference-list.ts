import type { Breakdown } from '../../app/project/breakdown'
import type { Reference } from '../../app/project/reference'
import type { ReportedReference } from '../../app/release/evidence-report'

/// The references of a film in the order of the project, as they are printed.
export function referenceList(breakdown: Breakdown): ReportedReference[] {
  return (breakdown.references ?? []).map((reference) => ({
    id: reference.id,
    text: printed(reference),
    finding: reference.finding ?? '',
    population: reference.population ?? '',
    limits: reference.limits ?? '',
    setting: reference.setting ?? [],
  }))
}

/// Authors, year, title, where it stood: of CSL-JSON's fields those that are there.
function printed({ csl }: Reference): string {
  const item = csl as Readonly<Record<string, unknown>>
  const text = (key: string): string => (typeof item[key] === 'string' || typeof item[key] === 'number' ? String(item[key]) : '')
  const people = Array.isArray(item['author']) ? (item['author'] as readonly Readonly<Record<string, unknown>>[]) : []
  const names = people.map(({ family, given, literal }) => [literal ?? family, given].filter((part) => typeof part === 'string').join(', ')).filter(Boolean)
  const year = (item['issued'] as { 'date-parts'?: readonly (readonly unknown[])[] } | undefined)?.['date-parts']?.[0]?.[0]
  const doi = text('DOI')
  const place = [text('container-title') || text('publisher'), [text('volume'), text('issue') && `(${text('issue')})`].join(''), text('page')].filter(Boolean).join(', ')
  return [names.join('; '), year === undefined ? '' : `(${String(year)})`, text('title') || csl.type, place, doi && `doi:${doi}`].filter(Boolean).join('. ').replaceAll('. (', ' (')
}
