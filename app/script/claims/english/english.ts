import type { ClaimLanguage } from '../language'
import { analyseEnglish } from './analyse'
import { lists } from './lists'
import { guards, rules } from './rules'

/// English: the language of the rules so far. Another is another value of this shape.
export const english: ClaimLanguage = { language: 'en', lists, rules, guards, analyse: analyseEnglish }
