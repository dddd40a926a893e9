import fc from 'fast-check'
import { expect, it } from 'vitest'
import { CodedError } from '../../../app/errors/coded-error'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import { validDocument } from '../../valid-document'

/// A valid document with one value anywhere replaced, or one key anywhere added: the reader answers, and
/// never throws.

const poison = fc.oneof(
  fc.constantFrom<unknown>(
    null,
    true,
    -1,
    0,
    1e308,
    -1e308,
    1.5,
    2 ** 53,
    '',
    '../../etc/hostname',
    '/etc/hostname',
    'C:\\x',
    'CON',
    '-i',
    'a\u0000b',
    'a\nb',
    '{\\an5}',
    '1/0',
    '9'.repeat(40) + '/7',
    'Infinity',
    [],
    {},
    [[]],
    [null],
    { __proto__: null },
  ),
  fc.string({ unit: 'binary', maxLength: 40 }),
  fc.jsonValue({ maxDepth: 3 }),
)

type Place = readonly (string | number)[]
function placesOf(value: unknown, at: Place = []): Place[] {
  if (typeof value !== 'object' || value === null) return [at]
  return [at, ...Object.entries(value).flatMap(([key, inner]) => placesOf(inner, [...at, Array.isArray(value) ? Number(key) : key]))]
}
const places = placesOf(validDocument()).filter((place) => place.length > 0)

function put(document: unknown, place: Place, value: unknown): void {
  let holder = document as Record<string | number, unknown>
  for (const key of place.slice(0, -1)) holder = holder[key] as Record<string | number, unknown>
  holder[place.at(-1)!] = value
}

it('should answer whatever a document holds, and name a place inside it', () => {
  let refusals = 0
  fc.assert(
    fc.property(fc.constantFrom(...places), poison, fc.boolean(), (place, value, key) => {
      const document = validDocument()
      if (key) put(document, [...place.slice(0, -1), typeof place.at(-1) === 'number' ? place.at(-1)! : `x${String(place.at(-1))}`], value)
      else put(document, place, value)
      const read = readBreakdown(JSON.stringify(document), 'a.json')
      if (read.ok) return
      refusals++
      expect(read.error).toBeInstanceOf(CodedError)
      if (read.error.code !== 'document-invalid') return
      const { problems } = read.error.parameters as { problems: { place: string; problem: string }[] }
      expect(problems.length).toBeGreaterThan(0)
      for (const { place: where, problem } of problems) {
        expect(where.length).toBeGreaterThan(0)
        expect(problem.length).toBeGreaterThan(3)
      }
    }),
    { numRuns: 3000 },
  )
  expect(refusals).toBeGreaterThan(1500)
})

it('should answer any text at all', () => {
  fc.assert(
    fc.property(
      fc.oneof(fc.string({ unit: 'binary' }), fc.json(), fc.constantFrom('', '\uFEFF{}', '[[[[', '{"a":', '"' + 'x'.repeat(100_000))),
      (text) => void expect(readBreakdown(text, 'a.json').ok).toBe(false),
    ),
    { numRuns: 500 },
  )
})

it('should not be led astray by keys that objects have of themselves', () => {
  for (const key of ['__proto__', 'constructor', 'toString', 'hasOwnProperty']) {
    const text = JSON.stringify(validDocument()).replace('"format"', `"${key}":{"polluted":true},"format"`)
    expect(readBreakdown(text, 'a.json').ok).toBe(false)
  }
  expect(({} as { polluted?: boolean }).polluted).toBeUndefined()
})
