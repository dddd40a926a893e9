import { describe, expect, it } from 'vitest'
import { readBreakdown } from '../../../app/exchange/breakdown-reading'
import { validDocument } from '../../valid-document'

interface Tree {
  [key: string]: Tree
  [index: number]: Tree
}
type Change = (d: Tree) => void

const answerAfter = (change: Change) => {
  const document: unknown = validDocument()
  change(document as Tree)
  return readBreakdown(JSON.stringify(document), 'a.json')
}
function problemsAfter(change: Change): string[] {
  const answer = answerAfter(change)
  if (answer.ok) return []
  const { problems } = answer.error.parameters as unknown as { problems: { place: string; problem: string }[] }
  return problems.map((p) => `${p.place}: ${p.problem}`)
}
const put = (value: unknown): Tree => value as Tree
const push = (list: Tree | undefined, value: unknown): void => void (list as unknown as unknown[]).push(value)

/// Every promise of `checkBreakdown`, broken once.
const broken: readonly (readonly [string, Change, string])[] = [
  ['ids of one table', (d) => push(d.clips, { ...d.clips![0]!, capture: 'unknown' }), 'clips[2].id: "c1" is taken by an earlier entry'],
  ['ids of paragraphs', (d) => push(d.script, { id: 'p1', text: [] }), 'script[2].id: "p1" is taken by an earlier paragraph'],
  [
    'a landmark given twice',
    (d) => push(d.landmarks, d.landmarks![0]),
    'landmarks[1].point: knee.left of s1 in c1 is given by landmarks[0] already',
  ],
  ['footage', (d) => (d.clips![0]!.footage = put('f9')), 'clips[0].footage: footage "f9" is not in the document'],
  ['an empty clip', (d) => (d.clips![1]!.to = put(0)), 'clips[1].to: 0 is not after from, 0'],
  ['a view of nobody', (d) => (d.views![0]!.subject = put('s9')), 'views[0].subject: subject "s9" is not in the document'],
  ['a view past its clip', (d) => (d.views![0]!.to = put(831)), 'views[0].to: 831 is outside clip c1 (400–830)'],
  [
    'views that cross',
    (d) => push(d.views, { clip: 'c1', subject: 's1', from: 500, to: 600 }),
    'views[1]: its span 500–600 crosses that of views[0], 400–830',
  ],
  ['an event in no clip', (d) => (d.events![0]!.clip = put('c9')), 'events[0].clip: clip "c9" is not in the document'],
  ['an event past its clip', (d) => (d.events![2]!.latest = put(100)), 'events[2].latest: 100 is outside clip c2 (0–100)'],
  ['an event upside down', (d) => (d.events![1]!.latest = put(459)), 'events[1].latest: 459 is before earliest, 460'],
  [
    'a sample past its clip',
    (d) => (d.landmarks![0]!.samples![0]!.frame = put(830)),
    'landmarks[0].samples[0].frame: 830 is outside clip c1 (400–830)',
  ],
  [
    'samples out of order',
    (d) => push(d.landmarks![0]!.samples, { frame: 459, at: [1, 2] }),
    'landmarks[0].samples[1].frame: 459 stands after 460; samples go in the order of their frames',
  ],
  ['a measure of no clip', (d) => (d.measures![0]!.clip = put('c9')), 'measures[0].clip: clip "c9" is not in the document'],
  [
    'a measure of another clip’s event',
    (d) => (d.measures![1]!.to = put('e2')),
    'measures[1].to: event "e2" belongs to clip c2, not to c1',
  ],
  [
    'a live value of nothing',
    (d) => (d.script![1]!.text![1]!.value = put('m9')),
    'script[1].text[1].value: measure "m9" is not in the document',
  ],
  ['a cue of nothing', (d) => (d.script![1]!.text![3]!.cue = put('e9')), 'script[1].text[3].cue: event "e9" is not in the document'],
  ['a run past its clip', (d) => (d.script![1]!.shots![0]!.to = put(831)), 'script[1].shots[0].to: 831 is outside clip c1 (400–830)'],
  ['an empty run', (d) => (d.script![1]!.shots![0]!.to = put(430)), 'script[1].shots[0].to: 430 is not after from, 430'],
  [
    'a pair on another clip’s event',
    (d) => (d.script![1]!.shots![2]!.pair![0]!.event = put('e2')),
    'script[1].shots[2].pair[0].event: event "e2" belongs to clip c2, not to c1',
  ],
  [
    'a pair laid over without points',
    (d) => (d.script![1]!.shots![2]!.layout = put('over')),
    'script[1].shots[2].over: is missing; layout "over" needs two landmarks to lie on each other',
  ],
  [
    'a mark of nothing',
    (d) => (d.script![1]!.shots![1]!.marks![0] = put('m9')),
    'script[1].shots[1].marks[0]: measure "m9" is not in the document',
  ],
  [
    'a mark on no event',
    (d) => (d.script![1]!.shots![1]!.marks![1]!.on = put('e9')),
    'script[1].shots[1].marks[1].on: event "e9" is not in the document',
  ],
  [
    'a mark in a picture that is not there',
    (d) => (d.script![1]!.shots![1]!.marks![1]!.panel = put(1)),
    "script[1].shots[1].marks[1].panel: 1 is not one of the shot's 1 pictures (0 first)",
  ],
  [
    'a mark on nobody',
    (d) => (d.script![1]!.shots![1]!.marks![1]!.arrow![0] = put({ subject: 's9', point: 'knee.left' })),
    'script[1].shots[1].marks[1].arrow[0].subject: subject "s9" is not in the document',
  ],
  [
    'a cue time of no paragraph',
    (d) => (d.cueTimes = put([{ paragraph: 'p9', event: 'e1', seconds: 1, u: 0 }])),
    'cueTimes[0].paragraph: paragraph "p9" is not in the document',
  ],
  [
    'a film outside the folder',
    (d) => (d.footage![0]!.file = put('../a.mp4')),
    'footage[0].file: "../a.mp4" lies outside the document’s folder',
  ],
  [
    'a take outside the folder',
    (d) => (d.script![1]!.take = put('/a.wav')),
    'script[1].take: "/a.wav" is not relative to the document’s folder',
  ],
  [
    'room tone outside the folder',
    (d) => (d.sound = put({ roomTone: 'x/../../a.wav' })),
    'sound.roomTone: "x/../../a.wav" lies outside the document’s folder',
  ],
]

describe('the promises between records', () => {
  it.each(broken)('should name %s', (_, change, wanted) => {
    expect(problemsAfter(change)).toContain(wanted)
  })

  it('should refuse measures that build on each other in a ring, and name both', () => {
    const compare = (id: string, a: string, b: string): object => ({ id, kind: 'comparison', measures: [a, b] })
    expect(problemsAfter((d) => (push(d.measures, compare('x', 'y', 'm1')), push(d.measures, compare('y', 'x', 'm1'))))).toEqual([
      'measures[2]: measure "x" builds on itself',
      'measures[3]: measure "y" builds on itself',
    ])
    expect(problemsAfter((d) => push(d.measures, compare('x', 'x', 'm1')))).toEqual(['measures[2]: measure "x" builds on itself'])
    expect(problemsAfter((d) => push(d.measures, compare('x', 'm1', 'm9')))).toEqual([
      'measures[2].measures[1]: measure "m9" is not in the document',
    ])
  })

  it('should hold the clip and the events that a capture factor comes from', () => {
    const link =
      (clip: string, shared: string, pairs: string[][]): Change =>
      (d) => {
        const at = clip === 'c1' ? 0 : 1
        d.clips![at]!.capture = put({ factor: '4', u: 0.1, link: { shared, pairs } })
      }
    expect(
      problemsAfter(
        link('c2', 'c1', [
          ['e2', 'e1'],
          ['e2', 'e0'],
        ]),
      ),
    ).toEqual([])
    expect(
      problemsAfter(
        link('c2', 'c9', [
          ['e2', 'e1'],
          ['e2', 'e0'],
        ]),
      ),
    ).toEqual(['clips[1].capture.link.shared: clip "c9" is not in the document'])
    expect(
      problemsAfter(
        link('c2', 'c1', [
          ['e1', 'e1'],
          ['e2', 'e9'],
        ]),
      ),
    ).toEqual([
      'clips[1].capture.link.pairs[0][0]: event "e1" belongs to clip c1, not to c2',
      'clips[1].capture.link.pairs[1][1]: event "e9" is not in the document',
    ])
    const ring = problemsAfter((d) => {
      link('c1', 'c2', [
        ['e0', 'e2'],
        ['e1', 'e2'],
      ])(d)
      link('c2', 'c1', [
        ['e2', 'e0'],
        ['e2', 'e1'],
      ])(d)
    })
    expect(ring).toEqual([
      'clips[0].capture.link: the factor of "c1" comes from itself',
      'clips[1].capture.link: the factor of "c2" comes from itself',
    ])
  })

  it('should list every problem, the first 50 one by one', () => {
    const many = problemsAfter((d) => {
      for (let i = 0; i < 70; i++) push(d.events, { id: `n${i}`, clip: 'c9', name: '', earliest: 0, latest: 0 })
    })
    expect(many).toHaveLength(51)
    expect(many[50]).toBe('document: 20 more problems')
  })

  it('should let the script’s dangling values, cues and marks pass when asked to, and nothing else', () => {
    const document = validDocument()
    const dangling = { ...document, measures: [], events: document.events.filter((e) => e.id !== 'e1') }
    expect(readBreakdown(JSON.stringify(dangling), 'a.json').ok).toBe(false)
    expect(readBreakdown(JSON.stringify(dangling), 'a.json', { dangling: 'keep' }).ok).toBe(true)
    expect(readBreakdown(JSON.stringify({ ...dangling, footage: [] }), 'a.json', { dangling: 'keep' }).ok).toBe(false)
  })
})

describe('documents that mean harm', () => {
  const refusal = (text: string): string => {
    const answer = readBreakdown(text, 'a.json')
    return answer.ok ? 'read' : answer.error.message
  }
  const withTitle = (json: string): string => JSON.stringify(validDocument()).replace('"Two right hands"', json)

  it('should be answered when they are nested 100,000 deep, as lists or objects, alone or inside', () => {
    for (const [open, close] of [
      ['[', ']'],
      ['{"a":', '}'],
    ] as const) {
      const deep = `${open.repeat(100_000)}1${close.repeat(100_000)}`
      expect(refusal(deep)).toContain('nested deeper than 40')
      expect(refusal(withTitle(deep))).toContain('nested deeper than 40')
      expect(refusal(open.repeat(100_000))).toContain('is not JSON')
    }
  })

  it('should be answered for numbers that no frame or pixel is', () => {
    for (const number of ['1e999', '-1e999']) expect(refusal(withTitle(number))).toContain('title: is too large a number')
    expect(problemsAfter((d) => (d.clips![0]!.to = put(1e17)))[0]).toContain('clips[0].to: must be at most')
    expect(problemsAfter((d) => (d.clips![0]!.to = put(500.5)))[0]).toContain('clips[0].to: must be a whole number')
    expect(problemsAfter((d) => (d.output!.rate = put('1/0')))[0]).toContain('output.rate: a fraction')
  })

  it('should be answered for text that nothing can keep', () => {
    expect(refusal(withTitle('"a\\u0000b"'))).toContain('title: holds a NUL character')
    expect(refusal(withTitle('"a\\ud800b"'))).toContain('title: holds half a character')
    expect(refusal(withTitle('"a\\nb"'))).toContain('title: one line of text without control characters')
    expect(problemsAfter((d) => (d.subjects![0]!.name = put('Nela\nVarga')))[0]).toContain('subjects[0].name')
  })

  it('should be answered for ids and keys that objects have of themselves', () => {
    expect(refusal(JSON.stringify(validDocument()).replaceAll('"c1"', '"__proto__"'))).toContain('an id is letters')
    const named = JSON.stringify(validDocument())
      .replaceAll('"c1"', '"constructor"')
      .replaceAll('"s1"', '"toString"')
      .replaceAll('"m1"', '"hasOwnProperty"')
    expect(refusal(named)).toBe('read')
    expect(refusal(JSON.stringify(validDocument()).replace('"shots":[{', '"shots":[{"__proto__":{"run":"c1"},'))).toContain(
      'script[1].shots[0].__proto__: is not a known key',
    )
  })

  it('should cut what it quotes short, on one line', () => {
    const message = refusal(JSON.stringify(validDocument()).replace('"f1","file"', `"f1","${'x'.repeat(1e6)}\\n":1,"file"`))
    expect(message.length).toBeLessThan(300)
    expect(message.split('\n')).toHaveLength(2)
  })

  it('should read minus zero as zero', () => {
    const answer = readBreakdown(JSON.stringify(validDocument()).replace('"roll":{"deg":0', '"roll":{"deg":-0'), 'a.json')
    expect(answer.ok && Object.is(answer.value.clips[0]!.roll!.deg, 0)).toBe(true)
  })
})

it('should read 400,000 samples in a few seconds', () => {
  const document = validDocument()
  const samples = Array.from({ length: 20_000 }, (_, frame) => ({ frame, at: [frame / 7, 300.25], sigma: 3, seen: 'seen' }))
  const large = {
    ...document,
    clips: [{ ...document.clips[0]!, from: 0, to: 20_000 }, document.clips[1]],
    landmarks: Array.from({ length: 20 }, (_, i) => ({ clip: 'c1', subject: 's1', point: `p${i}`, samples })),
  }
  const text = JSON.stringify(large)
  const began = performance.now()
  const answer = readBreakdown(text, 'a.json')
  const took = performance.now() - began
  expect(answer.ok).toBe(true)
  console.info(`${(text.length / 1e6).toFixed(0)} MB read and checked in ${took.toFixed(0)} ms`)
  expect(took).toBeLessThan(15_000)
}, 60_000)
