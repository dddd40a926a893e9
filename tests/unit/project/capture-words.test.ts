import { expect, it } from 'vitest'
import { captureWords } from '../../../app/project/capture-words'

it.each([
  [{ factor: '1', u: 0 }, 'played as fast as it happened'],
  [{ factor: '4', u: 0 }, 'played 4 times slower'],
  [{ factor: '1/2', u: 0 }, 'played 2 times faster'],
  // A u of 0.1 on 4 is 2.5 %, 5 % with 95 %: 0.2 of 4, 0.1 of 2.
  [{ factor: '4', u: 0.1 }, 'played 4 times slower, ± 0.2'],
  [{ factor: '1/2', u: 0.0125 }, 'played 2 times faster, ± 0.1'],
  ['unknown', 'how fast it was shot is not known'],
] as const)('should say of %o “%s”', (capture, words) => expect(captureWords(capture)).toBe(words))
