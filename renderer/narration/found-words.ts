import type { TakeWords } from '../../app/align/take-words'

/// What is told once a take's words were looked for: what was not found, said twice or said besides.
export function foundWords({ words, leftOut, repeated, other, by }: TakeWords): string {
  const placed = words.some(({ onset }) => onset !== null)
  const parts = [
    ...(placed ? [] : ['no word could be found by the program here; choose a cue and press the wave where its word begins']),
    ...leftOut.map((missing) => `“${missing}” was not heard`),
    ...repeated.map(({ words: said, again }) => `“${said}” was said twice; the copy at ${again.toFixed(1)} s counts`),
    ...(other ? ['something else than the script was said'] : []),
    ...(by === 'reference' && placed ? ['no recogniser is installed: the words are less exact'] : []),
  ]
  return parts.length > 0 ? parts.join('; ') : 'every word was found'
}
