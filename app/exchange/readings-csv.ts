import type { Reading } from '../measure/reading'

/// Readings as comma-separated values (RFC 4180): one row a reading, units in the header. Angles,
/// times, speeds and lengths stand in columns of their own, so that no column mixes units; lengths in
/// body units name the unit beside them.

const COLUMNS = [
  { title: 'value (°)', unit: '°' },
  { title: 'value (s)', unit: 's' },
  { title: 'value (frames)', unit: 'frames' },
  { title: 'value (m)', unit: 'm' },
  { title: 'value (m/s)', unit: 'm/s' },
  { title: 'value (°/s)', unit: '°/s' },
] as const

/// A text as one cell of comma-separated values; what a spreadsheet would take for a formula is told to be text.
export const quotedIfNeeded = (text: string): string => {
  // A leading =, +, - or @ would be a formula to a spreadsheet; numbers are written elsewhere.
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}

const number = (x: number | null): string => (x === null ? '' : String(Number(x.toPrecision(10))))

/// The whole table, its last row ended as well. Lines end in CRLF, as the standard has it.
export function readingsCsv(readings: readonly Reading[]): string {
  const header = [
    'id',
    'kind',
    'clip',
    'frame',
    ...COLUMNS.map((c) => c.title),
    'value (other unit)',
    'other unit',
    'u, 1 σ (same unit)',
    'U, 95 % (same unit)',
    'low, 95 % (same unit)',
    'high, 95 % (same unit)',
    'plane',
    'verdict',
    'reasons',
    'label',
  ]
  const rows = readings.map((r) => {
    const own = COLUMNS.some((c) => c.unit === r.unit)
    return [
      quotedIfNeeded(r.id),
      r.kind,
      quotedIfNeeded(r.clip ?? ''),
      number(r.frame),
      ...COLUMNS.map((c) => (c.unit === r.unit ? number(r.value) : '')),
      own ? '' : number(r.value),
      own ? '' : quotedIfNeeded(r.unit),
      number(r.u),
      number(r.U),
      number(r.low),
      number(r.high),
      r.plane,
      r.verdict,
      r.reasons.join(' '),
      quotedIfNeeded(r.label),
    ]
  })
  return [header.map(quotedIfNeeded), ...rows].map((row) => `${row.join(',')}\r\n`).join('')
}
