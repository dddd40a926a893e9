import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { Measure } from '../../../../app/project/question'
import { findingsOf } from '../../../../app/script/claims/findings'
import { sentencesOf } from '../../../../app/script/sentences'
import { reading } from '../sample-script'

/// The labelled sentences that may be read (tests/data/claims), each resting on one order of two events or one comparison, whichever
/// way round it was measured. Two name what it is of, and say it the other way round where it was measured so; nothing is found on another.

const labelled = (name: string): string[] =>
  (JSON.parse(readFileSync(new URL(`../../../data/claims/${name}`, import.meta.url), 'utf8')) as { text: string }[]).map(({ text }) => text)
const texts = [...new Set([...labelled('seen.json'), ...labelled('further.json')])]
const NAMES = ['hip turn', 'shoulder turn', 'lead foot plant', 'hand contact'] as const
const KINDS: readonly object[] = [
  { kind: 'joint-angle', points: ['hip.lead', 'knee.lead', 'ankle.lead'] },
  { kind: 'line-lean', points: ['hip.mid', 'shoulder.mid'] },
  {
    kind: 'distance',
    points: ['ankle.left', 'ankle.right'],
    unit: { points: ['hip.mid', 'shoulder.mid'], frame: 10, name: 'trunk lengths' },
  },
  { kind: 'speed', points: ['wrist.rear'] },
]

function film(measures: Measure[], rests: string): Breakdown {
  return {
    format: 'claimframe-breakdown',
    version: 1,
    title: 'T',
    output: { width: 640, height: 360, rate: '30/1' },
    footage: [{ id: 'f1', file: 'a.mp4' }],
    subjects: [
      { id: 's1', name: 'Nela Varga' },
      { id: 's2', name: 'Ruta Selmane' },
    ],
    clips: ['Varga, ringside', 'Selmane, far side'].map((name, i) => ({
      id: `c${i + 1}`,
      footage: 'f1',
      from: 0,
      to: 200,
      name,
      capture: 'unknown' as const,
    })),
    events: NAMES.map((name, i) => ({ id: `e${i}`, clip: 'c1', name, earliest: 10 * i, latest: 10 * i + 1 })),
    measures,
    script: texts.map((text, i) => ({ id: `p${i}`, text: [text] })),
    claims: texts.flatMap((text, i) =>
      sentencesOf(text).map((sentence, j) => ({
        id: `a${i}-${j}`,
        on: { part: 'sentence' as const, paragraph: `p${i}`, words: sentence.text.trim() },
        classes: ['C' as const, 'E' as const],
        evidence: [{ reading: rests }],
        state: 'confirmed' as const,
      })),
    ),
  }
}

it('of the labelled sentences only those that name what was measured are found to say it the other way round', () => {
  const orders = NAMES.flatMap((_, i) =>
    NAMES.slice(i + 1).map((_each, j): Measure => ({
      id: `o${i}-${i + 1 + j}`,
      kind: 'order',
      clip: 'c1',
      from: `e${i}`,
      to: `e${i + 1 + j}`,
    })),
  )
  const pairs = KINDS.flatMap((kind, i) =>
    [1, 2].map((n) => ({ id: `m${i}-${n}`, clip: `c${n}`, subject: `s${n}`, frame: 100, ...kind }) as Measure),
  )
  const comparisons = KINDS.map((_, i): Measure => ({ id: `d${i}`, kind: 'comparison', measures: [`m${i}-1`, `m${i}-2`] }))
  const measures = [...orders, ...pairs, ...comparisons]
  const measured = (way: 1 | -1) =>
    new Map(
      measures.map((measure) => {
        const value =
          measure.kind === 'order' ? way : measure.kind === 'comparison' ? way * 10 : 30 + way * (measure.id.endsWith('-1') ? 5 : -5)
        return [
          measure.id,
          reading(measure.id, String(value), String(value), {
            kind: measure.kind,
            value,
            low: value - 1,
            high: value + 1,
            verdict: 'good',
            reasons: measure.kind === 'comparison' ? ['differs'] : [],
          }),
        ]
      }),
    )
  const found = ([1, -1] as const).flatMap((way) =>
    [...orders, ...comparisons].flatMap(({ id }) =>
      findingsOf(film(measures, id), measured(way))
        .filter(({ code }) => code.endsWith('-reversed'))
        .map(({ sentence }) => `${sentence} ${id} ${way}`),
    ),
  )
  expect(found).toEqual(['The second is quicker. d3 1', 'The hips turn before the shoulders. o0-1 -1'])
}, 60_000)
