import type { ClaimClass, Evidence } from '../../project/claim'

/// What each class is called where people read it.
export const CLASS_NAMES: Readonly<Record<ClaimClass, string>> = {
  A: 'observed',
  B: 'measured',
  C: 'timed, in order',
  D: 'counted',
  E: 'compared',
  F: 'cited',
  G: 'cause',
  H: 'opinion',
  I: 'intent',
  J: 'medical',
  K: 'earlier film',
  L: 'about the film',
  M: 'advice',
}

/// A claim's classes in words: "measured, and cause".
export function classesInWords(classes: readonly ClaimClass[]): string {
  const names = classes.map((letter) => CLASS_NAMES[letter])
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')}, and ${names.at(-1) ?? ''}`
}

/// A piece of evidence in a few words, by the ids it names.
export function evidenceInWords(evidence: Evidence): string {
  if (evidence === 'opinion') return 'opinion'
  if ('frame' in evidence) return `frame ${evidence.frame} of ${evidence.clip}`
  if ('reading' in evidence) return `reading ${evidence.reading}`
  if ('readings' in evidence) return `readings ${evidence.readings.join(' and ')}`
  if ('events' in evidence) return `events ${evidence.events.join(', ')}`
  if ('count' in evidence) return `count ${evidence.count}`
  if ('reference' in evidence) return `reference ${evidence.reference}${evidence.at === undefined ? '' : `, ${evidence.at}`}`
  return `earlier film ${evidence.film}, ${evidence.at}`
}
