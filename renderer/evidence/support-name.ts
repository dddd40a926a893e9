import type { Support } from '../../app/release/support'
import type { RecordNames } from '../../app/script/claims/record-names'

/// What a support is called where it is spoken of.
export function nameOf({ of, id, evidence }: Support, names: RecordNames): string {
  if (of === 'view') return 'your view'
  if (of === 'film')
    return evidence !== null && evidence !== 'opinion' && 'film' in evidence ? `${evidence.film}, ${evidence.at}` : 'an earlier film'
  if (of === 'frame')
    return evidence !== null && evidence !== 'opinion' && 'frame' in evidence ? `frame ${evidence.frame} of ${names.clip(id)}` : id
  if (of === 'event') return names.event(id)
  return of === 'reference' ? names.reference(id) : names.measure(id)
}
