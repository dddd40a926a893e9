import { createHash } from 'node:crypto'

/// Names that the delivery's own files have (`checks.json`, `evidence.html`, `manifest.json`), and those that a file may
/// not have on Windows, whatever its ending (Microsoft, "Naming Files, Paths, and Namespaces"; from memory).
const TAKEN = /^(checks|evidence|manifest|con|prn|aux|nul|com\d|lpt\d)$/

/// A title as the beginning of file names: plain letters, digits and hyphens, and none of the delivery's own names.
export function fileStem(title: string): string {
  const stem = title
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60)
  if (TAKEN.test(stem)) return `film-${stem}`
  return stem || `film-${createHash('sha256').update(title).digest('hex').slice(0, 8)}`
}
