import { describe, expect, it } from 'vitest'
import { beginGuide, nextTurn, placedAt, placingWords, turnBefore, turnOf, type Guide } from '../../../../renderer/bench/guide'

const on = { clip: 'c1', subject: 's1', frame: 12 }

describe('a guided placing', () => {
  it('should go through all points three times, round by round', () => {
    const said: string[] = []
    for (let guide: Guide | null = beginGuide(on, ['hip.left', 'knee.left'], () => 0); guide; guide = nextTurn(placedAt(guide, [1, 2]))) said.push(`${turnOf(guide).point}, ${placingWords(turnOf(guide))}`)
    expect(said).toEqual(['first', 'second', 'third'].flatMap((n) => [`hip.left, ${n} placing of three`, `knee.left, ${n} placing of three`]))
  })

  it('should ask only for what was not placed three times already', () => {
    const guide = beginGuide(on, ['hip.left', 'knee.left'], (point) => (point === 'hip.left' ? 3 : 1))
    expect(guide?.turns).toEqual([{ point: 'knee.left', placing: 2 }, { point: 'knee.left', placing: 3 }])
    expect(beginGuide(on, ['hip.left'], () => 3)).toBeNull()
  })

  it('should hide a round when the next one begins', () => {
    const first = placedAt(beginGuide(on, ['hip.left', 'knee.left'], () => 0) as Guide, [10, 20])
    const second = nextTurn(first) as Guide
    expect(second.round.get('hip.left')).toEqual([10, 20])
    const nextRound = nextTurn(placedAt(second, [30, 40])) as Guide
    expect(nextRound.round.size).toBe(0)
    expect(turnBefore(nextRound)).toBe(nextRound)
  })

  it('should go back within a round to a point that stands placed', () => {
    const second = nextTurn(placedAt(beginGuide(on, ['hip.left', 'knee.left'], () => 0) as Guide, [10, 20])) as Guide
    const back = turnBefore(second)
    expect([turnOf(back).point, back.placed]).toEqual(['hip.left', true])
  })
})
