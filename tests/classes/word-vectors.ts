import { readFileSync } from 'node:fs'
import { join } from 'node:path'

/// Numbers a word.
export const LENGTH = 100
/// What a byte is divided by: so the labelled sentences' sums over the root of their words spread by 1.
const STEP = 33

let read: ReadonlyMap<string, Float64Array> | undefined

/// GloVe's vectors of 10,000 words; see tests/data/word-vectors.
export function wordVectors(): ReadonlyMap<string, Float64Array> {
  if (read) return read
  const folder = join(import.meta.dirname, '../data/word-vectors')
  const bytes = new Int8Array(readFileSync(join(folder, 'vectors.i8')))
  const words = readFileSync(join(folder, 'words.txt'), 'utf8').trimEnd().split('\n')
  read = new Map(words.map((word, at) => [word, Float64Array.from(bytes.subarray(at * LENGTH, (at + 1) * LENGTH), (byte) => byte / STEP)]))
  return read
}
