import type { ClaimLanguage } from '../language'
import { analyseEnglish } from './analyse'
import { lists } from './lists'
import { guards, rules } from './rules'
import weights from './weights.json'

/// English: the language of the rules so far. Another is another value of this shape.
export const english = {
  language: 'en',
  lists,
  rules,
  guards,
  // A posture that is "always" so is a count, and nothing on film is proven.
  kept: [
    { class: 'D', when: '@always', over: ['A'] },
    { class: 'F', when: 'proven', over: ['A', 'H', 'K', 'L', 'M'] },
  ],
  weights,
  analyse: analyseEnglish,
} satisfies ClaimLanguage
