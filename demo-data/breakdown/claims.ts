import type { Claim, Override } from '../../app/project/claim'
import { CAUTION, CLOSING } from './script'

/// What the demo's author has confirmed of its sentences: where the suggestion was not what is meant, and what is compared.
export const claims: readonly Claim[] = [
  {
    id: 'claim1',
    on: {
      part: 'sentence',
      paragraph: 'p6',
      words: 'Matched on contact, {m1} and {m2} at the lead knee: at this precision I cannot tell them apart.',
    },
    classes: ['E', 'B'],
    evidence: [{ reading: 'm14' }],
    state: 'confirmed',
  },
  {
    id: 'claim2',
    on: { part: 'sentence', paragraph: 'p2', words: 'Ruta Selmane, late show: again the lead right hand.' },
    classes: ['A'],
    evidence: [],
    state: 'confirmed',
  },
  {
    id: 'claim3',
    on: { part: 'sentence', paragraph: 'p2', words: 'Her clip is mirrored.' },
    classes: ['L'],
    evidence: [],
    state: 'confirmed',
  },
  {
    id: 'claim4',
    on: {
      part: 'sentence',
      paragraph: 'p7',
      words: 'Laid over each other: again in a second clip, the lead knee is close to straight at contact.',
    },
    classes: ['B'],
    evidence: [{ reading: 'm1' }, { reading: 'm2' }],
    state: 'confirmed',
  },
  {
    id: 'claim5',
    on: { part: 'sentence', paragraph: 'p9', words: 'Two clips are few, and no habit.' },
    classes: ['L'],
    evidence: [],
    state: 'confirmed',
  },
]

/// What the demo lets stand: its cards say the notices in words of their own.
export const overrides: readonly Override[] = [
  {
    id: 'override1',
    finding: 'start-card-reworded',
    problem: `the start card says “${CAUTION.join(' ')}” in place of the notice on hard blows and estimates`,
    reason: 'Both clips show a heavy bag: nobody is hit, and nobody is knocked out.',
    by: 'the author',
    when: '2026-11-26',
  },
  {
    id: 'override2',
    finding: 'end-card-reworded',
    problem: `the end card says “${CLOSING.join(' ')}” in place of the notices on health, practice and estimates`,
    reason: 'The card is kept short for a short film; the description carries the notices in full.',
    by: 'the author',
    when: '2026-11-26',
  },
]
