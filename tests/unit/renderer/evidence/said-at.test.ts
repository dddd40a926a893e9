import { expect, it } from 'vitest'
import { layOut } from '../../../../app/programme/lay-out'
import type { Breakdown } from '../../../../app/project/breakdown'
import { quotedKey } from '../../../../app/project/claim'
import { sayingsOf } from '../../../../app/script/claims/saying'
import { headingText } from '../../../../app/script/heading-text'
import { speakingTime } from '../../../../app/script/speaking-time'
import { evenFrameTable } from '../../../../app/time/frame-table'
import { rational } from '../../../../app/time/rational'
import { saidAt } from '../../../../renderer/evidence/said-at'

const table = evenFrameTable(300, rational(30))
const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'He plants.',
  output: { width: 640, height: 360, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }],
  subjects: [],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 300, capture: { factor: '1', u: 0 } }],
  measures: [{ id: 'm1', kind: 'frame-count', clip: 'c1', from: 'e0', to: 'e1' }],
  script: [
    { chapter: 'One' },
    {
      id: 'p1',
      text: ['He plants. It takes ', { value: 'm1' }, ' or so. He plants.'],
      shots: [{ run: 'c1', from: 0, to: 300, speed: '1' }],
    },
    { id: 'p2', text: ['He plants.'], shots: [{ card: 'text', lines: ['He plants.'], seconds: '3' }] },
  ],
}

it('should say of each sentence, as claims quote it, when the film says it, and of nothing else', () => {
  const programme = layOut(breakdown, {
    film: () => ({ table, width: 640, height: 360 }),
    cardSeconds: () => rational(4),
    takeSeconds: () => null,
    speakingSeconds: (paragraph) => speakingTime(paragraph, new Map()).sound,
    cueSeconds: () => null,
    chapterTitle: (chapter) => headingText(chapter, new Map()),
  })
  const times = saidAt(programme, breakdown, new Map())
  const sayings = sayingsOf(breakdown, new Map())
  const spoken = sayings.filter(({ on }) => on.part === 'sentence')
  expect([...times.keys()]).toEqual(spoken.map(({ on }) => quotedKey(on)))
  const from = spoken.map(({ on }) => times.get(quotedKey(on))!)
  expect(from).toHaveLength(4)
  // Behind the chapter's card of four seconds; then one behind the other; the second paragraph once the run of ten seconds is over.
  expect(from[0]).toBeCloseTo(4, 6)
  expect(from).toEqual([...from].sort((a, b) => a - b))
  expect(new Set(from).size).toBe(4)
  expect(from[3]).toBeGreaterThanOrEqual(14)
  for (const { on } of sayings.filter(({ on }) => on.part !== 'sentence')) expect(times.has(quotedKey(on))).toBe(false)
})
