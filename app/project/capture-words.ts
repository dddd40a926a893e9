import { toNumber } from '../time/rational'
import { exact } from './fields'
import type { Capture } from './film'

/// How fast a clip plays against what happened, in words: "played 4 times slower, ± 0.1" (95 %: twice the factor's u);
/// factor 1 is "played as fast as it happened".
export function captureWords(capture: Capture): string {
  if (capture === 'unknown') return 'how fast it was shot is not known'
  const factor = toNumber(exact(capture.factor))
  const times = factor > 1 ? factor : 1 / factor
  // What u is on the factor is in proportion the same on its inverse.
  const U = (2 * capture.u * times) / factor
  const speed =
    factor === 1 ? 'played as fast as it happened' : `played ${Number(times.toFixed(3))} times ${factor > 1 ? 'slower' : 'faster'}`
  return U === 0 ? speed : `${speed}, ± ${Number(U.toPrecision(2))}`
}
