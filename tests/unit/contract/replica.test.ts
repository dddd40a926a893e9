import { describe, expect, it } from 'vitest'
import { Replica, replicaOf, stateOfReplica } from '../../../app/contract/replica'
import { breakdownOf, stateOf } from '../../../app/edit/project-state'
import { Breakdown } from '../../../app/project/breakdown'
import { validDocument } from '../../valid-document'

describe('a replica', () => {
  const breakdown = Breakdown.parse(validDocument())

  it('leads to the state it was made from, samples left behind', () => {
    const wire = Replica.parse(JSON.parse(JSON.stringify(replicaOf(stateOf(breakdown)))))
    const state = stateOfReplica(wire)
    expect(breakdownOf(state, () => [])).toEqual({ ...breakdown, landmarks: breakdown.landmarks?.map((l) => ({ ...l, samples: [] })) })
    expect(state.tables.packs.keys).toEqual(stateOf(breakdown).tables.packs.keys)
    expect(JSON.stringify(wire)).not.toContain('"samples"')
  })
})
