import { describe, expect, it } from 'vitest'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import { writeBreakdown } from '../../../app/exchange/breakdown-writing'

const valid = () => ({
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Two right hands',
  output: { width: 1920, height: 1080, rate: '60/1' },
  footage: [{ id: 'f1', file: 'bout-a.mp4' }, { id: 'f2', file: 'films/50%: it\'s -i.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [
    { id: 'c1', footage: 'f1', from: 400, to: 830, capture: { factor: '1', u: 0 }, mirrored: false, roll: { deg: 0, u: 1 } },
    { id: 'c2', footage: 'f2', from: 0, to: 100, capture: 'unknown' },
  ],
  views: [{ clip: 'c1', subject: 's1', from: 400, to: 830, lead: 'left', yaw: { deg: 0, u: 5 }, elevation: { deg: 5, u: 3 } }],
  events: [
    { id: 'e0', clip: 'c1', name: 'plant', earliest: 440, latest: 441 },
    { id: 'e1', clip: 'c1', name: 'contact', earliest: 460, latest: 461 },
    { id: 'e2', clip: 'c2', name: 'contact', earliest: 50, latest: 50 },
  ],
  landmarks: [{ clip: 'c1', subject: 's1', point: 'knee.left', samples: [{ frame: 460, at: [612.4, 388.0], sigma: 4, seen: 'seen' }] }],
  measures: [
    { id: 'm1', kind: 'joint-angle', clip: 'c1', subject: 's1', frame: 460, points: ['hip.left', 'knee.left', 'ankle.left'] },
    { id: 'm2', kind: 'time-between', clip: 'c1', from: 'e0', to: 'e1' },
  ],
  script: [
    { chapter: 'The load' },
    {
      id: 'p1',
      text: ['The lead knee is at ', { value: 'm1' }, ' at ', { cue: 'e1', word: 'contact' }, '.'],
      shots: [
        { run: 'c1', from: 430, to: 460, speed: '1/4', frame: [0, 0, 1280, 720] },
        { hold: 'c1', at: 460, seconds: '2', marks: ['m1', { arrow: [[300, 200], [600, 380]], on: 'e1' }] },
        { pair: [{ clip: 'c1', event: 'e1' }, { clip: 'c2', event: 'e2' }], before: '1/2', after: '3/10', speed: '1/8', layout: 'beside' },
        { card: 'caution' },
      ],
      take: 'p1.wav',
    },
  ],
})

type Tree = { [key: string]: Tree } & Tree[]

/// The refusals of the valid document after one change.
function problemsAfter(change: (d: Tree) => void): string[] {
  const document: unknown = valid()
  change(document as Tree)
  const answer = readBreakdown(JSON.stringify(document), 'a.json')
  if (answer.ok) return []
  expect(answer.error.code).toBe('document-invalid')
  const parameters = answer.error.parameters as { problems: { place: string; problem: string }[] }
  return parameters.problems.map((p) => `${p.place}: ${p.problem}`)
}
const put = (value: unknown) => value as Tree

describe('readBreakdown', () => {
  it('reads the document of the description and writes it back, nothing added, nothing lost', () => {
    const text = JSON.stringify(valid())
    const answer = readBreakdown(text, 'a.json')
    if (!answer.ok) throw answer.error
    expect(JSON.parse(writeBreakdown(answer.value))).toEqual(JSON.parse(text))
  })

  it('names the frame that lies outside its clip', () => {
    expect(problemsAfter((d) => { d.script![1]!.shots![1]!.at = put(900) })).toEqual(['script[1].shots[1].at: 900 is outside clip c1 (400–830)'])
    expect(problemsAfter((d) => { d.measures![0]!.frame = put(12) })).toEqual(['measures[0].frame: 12 is outside clip c1 (400–830)'])
  })

  it('speaks of the wrong field of a shot, an inline or a mark, not of a union', () => {
    expect(problemsAfter((d) => { d.script![1]!.shots![0]!.from = put('x') })).toEqual(['script[1].shots[0].from: must be a number, is the text "x"'])
    expect(problemsAfter((d) => { d.script![1]!.shots![0]!.sped = put(1) })).toEqual(['script[1].shots[0].sped: is not a known key'])
    expect(problemsAfter((d) => { d.script![1]!.text![1]!.form = put('big') })).toEqual(['script[1].text[1].form: must be "label" or "spoken" or "value", is the text "big"'])
    expect(problemsAfter((d) => { d.script![1]!.shots![1]!.marks![1]!.arrow![0]![1] = put('up') })).toEqual(['script[1].shots[1].marks[1].arrow[0][1]: must be a number, is the text "up"'])
    expect(problemsAfter((d) => { d.clips![0]!.capture = put('fast') })).toEqual(['clips[0].capture: must be "unknown", is the text "fast"'])
    expect(problemsAfter((d) => { d.clips![0]!.capture = put({ factor: '1' }) })).toEqual(['clips[0].capture.u: is missing'])
  })
})
