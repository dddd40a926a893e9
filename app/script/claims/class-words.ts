import type { ClaimClass, Evidence } from '../../project/claim'
import type { RecordNames } from './record-names'
import type { ChangedByHand } from './stated-claim'

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

/// "changed by hand: the rules suggest intent, stated as observed (the analyst, 2026-03-01)".
export function byHandInWords({ suggested, by, when }: ChangedByHand, stated: readonly ClaimClass[]): string {
  const who = [by, when.slice(0, 10)].filter(Boolean).join(', ')
  return `changed by hand: the rules suggest ${classesInWords(suggested)}, stated as ${classesInWords(stated)}${who === '' ? '' : ` (${who})`}`
}

/// A piece of evidence in a few words, by what the records are called that it names.
export function evidenceInWords(evidence: Evidence, names: RecordNames): string {
  if (evidence === 'opinion') return 'opinion'
  if ('frame' in evidence) return `frame ${evidence.frame} of ${names.clip(evidence.clip)}`
  if ('reading' in evidence) return `reading ${names.measure(evidence.reading)}`
  if ('readings' in evidence) return `two readings: ${evidence.readings.map(names.measure).join(' and ')}`
  if ('events' in evidence) return `${evidence.events.length === 1 ? 'event' : 'events'} ${evidence.events.map(names.event).join(', ')}`
  if ('count' in evidence) return `count ${names.measure(evidence.count)}`
  if ('reference' in evidence)
    return `reference ${names.reference(evidence.reference)}${evidence.at === undefined ? '' : `, ${evidence.at}`}`
  return `earlier film ${evidence.film}, ${evidence.at}`
}
