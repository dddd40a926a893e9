import type { Claim } from '../../app/project/claim'

/// What the demo's author has confirmed of its sentences: where the suggestion was not what is meant, and what is compared.
export const claims: readonly Claim[] = [
  {
    id: 'claim1',
    on: { part: 'sentence', paragraph: 'p6', words: 'Matched on contact, {m1} and {m2} at the lead knee: at this precision I cannot tell them apart.' },
    classes: ['E', 'B'],
    evidence: [{ reading: 'm14' }],
    state: 'confirmed',
  },
  { id: 'claim2', on: { part: 'sentence', paragraph: 'p2', words: 'Ruta Selmane, late show: again the lead right hand.' }, classes: ['A'], evidence: [], state: 'confirmed' },
  { id: 'claim3', on: { part: 'sentence', paragraph: 'p2', words: 'Her clip is mirrored.' }, classes: ['L'], evidence: [], state: 'confirmed' },
  { id: 'claim4', on: { part: 'sentence', paragraph: 'p7', words: 'Laid over each other: again in a second clip, the lead knee is close to straight at contact.' }, classes: ['B'], evidence: [{ reading: 'm1' }, { reading: 'm2' }], state: 'confirmed' },
  { id: 'claim5', on: { part: 'sentence', paragraph: 'p9', words: 'Two clips are few, and no habit.' }, classes: ['L'], evidence: [], state: 'confirmed' },
]
