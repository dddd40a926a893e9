import { describe, expect, it } from 'vitest'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import { writeBreakdown } from '../../../app/exchange/breakdown-writing'
import { validDocument } from '../../valid-document'

interface Tree {
  [key: string]: Tree
  [index: number]: Tree
}

/// The refusals of the valid document after one change.
function problemsAfter(change: (d: Tree) => void): string[] {
  const document: unknown = validDocument()
  change(document as Tree)
  const answer = readBreakdown(JSON.stringify(document), 'a.json')
  if (answer.ok) return []
  expect(answer.error.code).toBe('document-invalid')
  const parameters = answer.error.parameters as unknown as { problems: { place: string; problem: string }[] }
  return parameters.problems.map((p) => `${p.place}: ${p.problem}`)
}
const put = (value: unknown) => value as Tree

describe('readBreakdown', () => {
  it('reads the document of the description and writes it back, nothing added, nothing lost', () => {
    const text = JSON.stringify(validDocument())
    const answer = readBreakdown(text, 'a.json')
    if (!answer.ok) throw answer.error
    expect(JSON.parse(writeBreakdown(answer.value))).toEqual(JSON.parse(text))
  })

  it('names the frame that lies outside its clip', () => {
    expect(
      problemsAfter((d) => {
        d.script![1]!.shots![1]!.at = put(900)
      }),
    ).toEqual(['script[1].shots[1].at: 900 is outside clip c1 (400–830)'])
    expect(
      problemsAfter((d) => {
        d.measures![0]!.frame = put(12)
      }),
    ).toEqual(['measures[0].frame: 12 is outside clip c1 (400–830)'])
  })

  it('speaks of the wrong field of a shot, an inline or a mark, not of a union', () => {
    expect(
      problemsAfter((d) => {
        d.script![1]!.shots![0]!.from = put('x')
      }),
    ).toEqual(['script[1].shots[0].from: must be a number, is the text "x"'])
    expect(
      problemsAfter((d) => {
        d.script![1]!.shots![0]!.sped = put(1)
      }),
    ).toEqual(['script[1].shots[0].sped: is not a known key'])
    expect(
      problemsAfter((d) => {
        d.script![1]!.text![1]!.form = put('big')
      }),
    ).toEqual(['script[1].text[1].form: must be "label" or "spoken" or "value" or "about" or "range", is the text "big"'])
    expect(
      problemsAfter((d) => {
        d.script![1]!.shots![1]!.marks![1]!.arrow![0]![1] = put('up')
      }),
    ).toEqual(['script[1].shots[1].marks[1].arrow[0][1]: must be a number, is the text "up"'])
    expect(
      problemsAfter((d) => {
        d.clips![0]!.capture = put('fast')
      }),
    ).toEqual(['clips[0].capture: must be "unknown", is the text "fast"'])
    expect(
      problemsAfter((d) => {
        d.clips![0]!.capture = put({ factor: '1' })
      }),
    ).toEqual(['clips[0].capture.u: is missing'])
  })
})
