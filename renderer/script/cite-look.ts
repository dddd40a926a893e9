import type { Reference } from '../../app/project/reference'
import { shortName, titleOf } from '../../app/script/reference-name'

/// How a cite stands among words: authors and year as far as its reference has them, else the reference's id.

export interface CiteLook {
  readonly className: string
  readonly words: string
  readonly title: string
}

export function citeLook(reference: Reference | undefined, id: string, at: string | null): CiteLook {
  const place = at === null ? '' : `, ${at}`
  if (!reference) return { className: 'cite cite-missing', words: `◌ ${id}${place}`, title: 'There is no such reference.' }
  const name = shortName(reference)
  return {
    className: 'cite',
    words: `${name}${place}`,
    title: `${titleOf(reference) ?? id}. Listed with the film; neither said nor in captions.`,
  }
}
