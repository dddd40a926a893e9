import { expect, it } from 'vitest'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import { writeBreakdown } from '../../../app/exchange/breakdown-writing'
import type { Breakdown } from '../../../app/project/breakdown'
import { validDocument } from '../../valid-document'

const breakdown = (): Breakdown => {
  const read = readBreakdown(JSON.stringify(validDocument()), 'a.json')
  if (!read.ok) throw read.error
  return read.value
}
const linesThatDiffer = (a: string, b: string): number => {
  const known = new Set(a.split('\n'))
  return b.split('\n').filter((line) => !known.has(line)).length
}

it('should write the same text whatever the order of the keys it was given', () => {
  const turned = (value: unknown): unknown => {
    if (Array.isArray(value)) return value.map(turned)
    if (typeof value !== 'object' || value === null) return value
    return Object.fromEntries(
      Object.entries(value)
        .reverse()
        .map(([key, v]) => [key, turned(v)]),
    )
  }
  expect(writeBreakdown(turned(breakdown()) as Breakdown)).toBe(writeBreakdown(breakdown()))
})

it('should be what it writes when it is read and written again, and end in one newline', () => {
  const text = writeBreakdown(breakdown())
  const again = readBreakdown(text, 'a.json')
  expect(again.ok && writeBreakdown(again.value)).toBe(text)
  expect(text).toMatch(/[^\n]\n$/)
})

it('should show a moved point, a changed cue and a new mark as one line each', () => {
  const b = breakdown()
  const landmark = b.landmarks![0]!
  b.landmarks = [
    {
      ...landmark,
      samples: Array.from({ length: 300 }, (_, i) => ({
        frame: 400 + i,
        at: [i * 1.5, 388.25] as [number, number],
        sigma: 4,
        seen: 'seen' as const,
      })),
    },
  ]
  const before = writeBreakdown(b)
  const moved = structuredClone(b)
  moved.landmarks![0]!.samples[17]!.at = [1, 2]
  expect(linesThatDiffer(before, writeBreakdown(moved))).toBe(1)
  const cue = structuredClone(b)
  const paragraph = cue.script[1]!
  if (!('text' in paragraph)) throw new Error('no paragraph')
  paragraph.text[3] = { cue: 'e1', word: 'impact' }
  expect(linesThatDiffer(before, writeBreakdown(cue))).toBe(1)
  expect(before.split('\n').every((line) => line.length < 240)).toBe(true)
})

it('should keep fractions and texts as they were written, however odd', () => {
  const b = { ...breakdown(), title: '"\\ <b>{\\an5}‮ 😀', output: { width: 1920, height: 1080, rate: '120/2' } }
  const read = readBreakdown(writeBreakdown(b), 'a.json')
  expect(read.ok && read.value).toEqual(b)
})

it('should throw for what is no breakdown', () => {
  expect(() => writeBreakdown({ ...breakdown(), title: 7 as unknown as string })).toThrow()
})
