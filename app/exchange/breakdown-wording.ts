import type { z } from 'zod'
import { quoted } from './problem-list'

/// The record schemas' refusals in plain words.

const kinds: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a list',
  object: 'an object',
  record: 'an object',
}

function kindOf(value: unknown): string {
  if (value === null) return 'null'
  if (Array.isArray(value)) return 'a list'
  if (typeof value === 'number') return Number.isFinite(value) ? `${value}` : 'too large a number'
  if (typeof value === 'string') return `the text ${quoted(value)}`
  return kinds[typeof value] ?? typeof value
}

const size = (origin: string, bound: number | bigint): string =>
  origin === 'string' ? `${bound} characters` : origin === 'array' ? `${bound} entries` : `${bound}`

/// One issue's wording, without its place. Messages that the schemas give themselves win over it.
export function wordIssue(issue: z.core.$ZodRawIssue): string {
  if (issue.input === undefined) return 'is missing'
  switch (issue.code) {
    case 'invalid_type':
      return `must be ${kinds[issue.expected] ?? issue.expected}, is ${kindOf(issue.input)}`
    case 'too_big':
      return `must be ${issue.inclusive === false ? 'below' : 'at most'} ${size(issue.origin, issue.maximum)}`
    case 'too_small':
      return `must be ${issue.inclusive === false ? 'above' : 'at least'} ${size(issue.origin, issue.minimum)}`
    case 'not_multiple_of':
      return `must be a multiple of ${issue.divisor}`
    case 'invalid_value':
      return `must be ${issue.values.map((v) => JSON.stringify(v)).join(' or ')}, is ${kindOf(issue.input)}`
    case 'invalid_format':
      return 'has the wrong form'
    case 'invalid_union':
      return issue.discriminator === undefined ? 'has none of the known forms' : 'is of no known kind'
    default:
      return issue.message ?? 'is not valid'
  }
}
