import { expect, it } from 'vitest'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import type { Reading } from '../../../app/measure/reading'
import type { Breakdown } from '../../../app/project/breakdown'
import { usesOfMeasure } from '../../../app/release/where-used'
import { findingsOf } from '../../../app/script/claims/findings'
import { sayingsOf } from '../../../app/script/claims/saying'
import { nodeToScript, scriptToNode } from '../../../app/script/conversion'
import { headingText, headingValues } from '../../../app/script/heading-text'
import { validDocument } from '../../valid-document'

/// Headings of the script with live values in them.

const heading = {
  chapter: ['The knee at ', { value: 'm1' }, ', held'] as Exclude<Breakdown['script'][number], { text: unknown }>['chapter'],
}
const document = (chapter: unknown): string =>
  JSON.stringify({ ...validDocument(), script: [{ chapter }, ...(validDocument() as unknown as Breakdown).script.slice(1)] })
const read = (chapter: unknown): Breakdown => {
  const result = readBreakdown(document(chapter), 'heading')
  if (!result.ok) throw result.error
  return result.value
}
const reading = {
  id: 'm1',
  kind: 'joint-angle',
  clip: 'c1',
  frame: 460,
  value: 142,
  u: 6,
  U: 12,
  low: 130,
  high: 154,
  unit: '°',
  plane: 'image',
  verdict: 'good',
  reasons: [],
  parts: [],
  label: 'knee 142°',
  plate: { value: '142° ± 12°', what: 'knee' },
  spoken: 'about 142 degrees',
} as Reading
const readings = new Map([['m1', reading]])

it('should show a live value as it is now, and say so where there is none', () => {
  expect(headingText(heading, readings)).toBe('The knee at 142° ± 12°, held')
  expect(headingText({ chapter: [{ value: 'm1', form: 'about' }] }, new Map())).toBe('[no value]')
  expect([headingValues(heading), headingValues({ chapter: 'Plain' }), headingText({ chapter: '' }, readings)]).toEqual([['m1'], [], ''])
})

it('should come back from the script document and from the breakdown document as it was', () => {
  const of = read(heading.chapter)
  expect(of.script[0]).toEqual(heading)
  expect(nodeToScript(scriptToNode(of.script))[0]).toEqual(heading)
  expect(scriptToNode(of.script).firstChild!.childCount).toBe(3)
})

it('should be refused where one heading could be written in two ways, or names a measure that is not there', () => {
  const problem = (chapter: unknown): string => {
    const result = readBreakdown(document(chapter), 'heading')
    return result.ok ? 'read' : result.error.message
  }
  expect(problem(['only words'])).toContain('a heading without a live value is a text')
  expect(problem(['two ', 'texts ', { value: 'm1' }])).toContain('words that follow words are one text')
  expect(problem([{ cue: 'e1', word: 'contact' }])).toContain('must be words or a live value')
  expect(problem([{ value: 'none' }])).toContain('none')
})

it('should be a place where its value is used, quoted with the value in it, and named when the value is not there', () => {
  const of = read(heading.chapter)
  expect(sayingsOf(of, readings).find(({ on }) => on.part === 'chapter')).toMatchObject({
    on: { words: 'The knee at {m1}, held' },
    shown: 'The knee at 142° ± 12°, held',
    values: ['m1'],
  })
  expect(usesOfMeasure('m1', of, readings).filter(({ as }) => as === 'chapter')).toEqual([
    { as: 'chapter', place: 'script[0].chapter', paragraph: 'p1', words: 'The knee at 142° ± 12°, held' },
  ])
  const gone = { ...of, measures: of.measures!.filter(({ id }) => id !== 'm1') }
  expect(
    findingsOf(gone, new Map()).some(({ code, place, holds }) => code === 'value-missing' && place === 'script[0].chapter' && holds),
  ).toBe(true)
})
