import { describe, expect, it } from 'vitest'
import { applyEdit } from '../../../../app/edit/apply-edit'
import { breakdownOf, stateOf, type ProjectState } from '../../../../app/edit/project-state'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { Sample } from '../../../../app/project/film'
import {
  asStored,
  beginGuide,
  endWords,
  nextTurn,
  placedAt,
  placedOf,
  placingWords,
  seenAs,
  takenBack,
  turnBefore,
  turnOf,
  type Guide,
} from '../../../../renderer/bench/guide'
import { handsOn, samplesOf } from '../../../../renderer/bench/placing'
import { placePoint, takeBack } from '../../../../renderer/bench/point-edits'

const on = { clip: 'c1', subject: 's1', frame: 12 }

describe('a guided placing', () => {
  it('should go through all points three times, round by round', () => {
    const said: string[] = []
    for (let guide: Guide | null = beginGuide(on, ['hip.left', 'knee.left'], () => 0); guide; guide = nextTurn(placedAt(guide, [1, 2])))
      said.push(`${turnOf(guide).point}, ${placingWords(turnOf(guide))}`)
    expect(said).toEqual(
      ['first', 'second', 'third'].flatMap((n) => [`hip.left, ${n} placing of three`, `knee.left, ${n} placing of three`]),
    )
  })

  it('should ask only for what was not placed three times already', () => {
    const guide = beginGuide(on, ['hip.left', 'knee.left'], (point) => (point === 'hip.left' ? 3 : 1))
    expect(guide?.turns).toEqual([
      { point: 'knee.left', placing: 2 },
      { point: 'knee.left', placing: 3 },
    ])
    expect(beginGuide(on, ['hip.left'], () => 3)).toBeNull()
  })

  it('should hide a round when the next one begins', () => {
    const first = placedAt(beginGuide(on, ['hip.left', 'knee.left'], () => 0) as Guide, [10, 20])
    const second = nextTurn(first) as Guide
    expect(second.round.get('hip.left')?.at).toEqual([10, 20])
    const nextRound = nextTurn(placedAt(second, [30, 40])) as Guide
    expect(nextRound.round.size).toBe(0)
    expect(turnBefore(nextRound)).toBe(nextRound)
  })

  it('should go back within a round to a point that stands placed, as it was placed and seen', () => {
    const second = nextTurn(seenAs(placedAt(beginGuide(on, ['hip.left', 'knee.left'], () => 0) as Guide, [10, 20]), 'occluded')) as Guide
    expect(second.seen).toBe('seen')
    const back = turnBefore(second)
    expect([turnOf(back).point, placedOf(back), back.seen]).toEqual(['hip.left', { at: [10, 20], seen: 'occluded' }, 'occluded'])
  })

  it('should show no place that was taken back', () => {
    const back = takenBack(placedAt(beginGuide(on, ['hip.left', 'knee.left'], () => 0) as Guide, [10, 20]))
    expect(back.round.size).toBe(0)
    expect(placedOf(turnBefore(nextTurn(back) as Guide))).toBeNull()
  })

  it('should say at the end which points were passed over, and that all are placed only where they are', () => {
    const whole = beginGuide(on, ['hip.left', 'knee.left'], (point) => (point === 'hip.left' ? 2 : 0)) as Guide
    const run = (places: (turn: string) => boolean): string => {
      for (let guide = whole; ;) {
        const here = places(`${turnOf(guide).point} ${turnOf(guide).placing}`) ? placedAt(guide, [1, 2]) : guide
        const next = nextTurn(here)
        if (!next) return endWords(here, null)
        guide = next
      }
    }
    expect(run(() => true)).toBe('All points are placed.')
    expect(run((turn) => turn === 'knee.left 2')).toBe('Placed fewer than three times: left hip (twice), left knee (once).')
    expect(run((turn) => turn === 'hip.left 3')).toBe('Placed fewer than three times: left knee (not placed).')
  })
})

const breakdown: Breakdown = {
  format: 'claimframe-breakdown',
  version: 1,
  title: 'Placing',
  output: { width: 320, height: 180, rate: '30/1' },
  footage: [{ id: 'f1', file: 'a.mp4' }],
  subjects: [{ id: 's1', name: 'Nela Varga' }],
  clips: [{ id: 'c1', footage: 'f1', from: 0, to: 100, capture: 'unknown' }],
  landmarks: [
    {
      clip: 'c1',
      subject: 's1',
      point: 'knee.left',
      samples: [
        { frame: 12, at: [300, 300], sigma: 1, origin: 'tracked' },
        { frame: 13, at: [301, 300], sigma: 1, origin: 'tracked' },
      ],
    },
  ],
  script: [],
}

/// A guide and what is stored, led on together as the window leads them.
class Placing {
  #state: ProjectState = stateOf(breakdown)
  readonly #undo: ProjectState[] = []
  guide: Guide

  constructor(points: readonly string[]) {
    this.guide = beginGuide(on, points, (point) => this.hands(point).length) as Guide
  }
  hands = (point: string): Sample[] => handsOn(samplesOf(breakdownOf(this.#state), { clip: 'c1', subject: 's1', point }), 12)
  all = (point: string): Sample[] => [...samplesOf(breakdownOf(this.#state), { clip: 'c1', subject: 's1', point })]
  place(at: readonly [number, number]): void {
    this.#put(placePoint(this.#state, breakdownOf(this.#state), this.guide, at, null))
    this.guide = placedAt(this.guide, [at[0], at[1]])
  }
  back(): void {
    this.#put(takeBack(this.#state, breakdownOf(this.#state), this.guide, null))
    this.guide = takenBack(this.guide)
  }
  next(): void {
    this.guide = nextTurn(this.guide) as Guide
  }
  undo(): void {
    this.#state = this.#undo.pop() as ProjectState
    this.guide = asStored(this.guide, this.hands)
  }
  #put(change: ReturnType<typeof placePoint>): void {
    if (!change) return
    const applied = applyEdit(this.#state, { ...change, selection: null, id: 'e', group: null, base: this.#state.version })
    if (!applied.ok) throw applied.error
    this.#undo.push(this.#state)
    this.#state = applied.value.state
  }
}

describe('a guided placing and what is stored', () => {
  it('should store a click after an undo, and leave an earlier round where it is', () => {
    const placing = new Placing(['hip.left'])
    placing.place([10, 10])
    placing.undo()
    expect(placedOf(placing.guide)).toBeNull()
    placing.place([11, 11])
    expect(placing.hands('hip.left').map(({ at }) => at)).toEqual([[11, 11]])
    placing.next()
    placing.place([20, 20])
    placing.undo()
    expect(placedOf(placing.guide)).toBeNull()
    placing.place([21, 21])
    placing.place([22, 22])
    expect(placing.hands('hip.left').map(({ at }) => at)).toEqual([
      [11, 11],
      [22, 22],
    ])
  })

  it('should let no nudge after an undo move an earlier round, even before the window has heard of the undo', () => {
    const placing = new Placing(['hip.left'])
    placing.place([10, 10])
    placing.next()
    placing.place([20, 20])
    const unheard = placing.guide
    placing.undo()
    placing.guide = unheard
    placing.place([20.25, 20])
    expect(placing.hands('hip.left').map(({ at }) => at)).toEqual([
      [10, 10],
      [20.25, 20],
    ])
  })

  it('should stand where the project stands after an undo past the round, and place on from there', () => {
    const placing = new Placing(['hip.left', 'knee.left'])
    placing.place([10, 10])
    placing.next()
    placing.place([30, 30])
    placing.next()
    placing.undo()
    placing.undo()
    placing.place([12, 12])
    expect(placing.hands('hip.left').map(({ at }) => at)).toEqual([[12, 12]])
    expect(placedOf(placing.guide)?.at).toEqual([12, 12])
  })

  it('should take back the place of this round alone', () => {
    const placing = new Placing(['hip.left'])
    placing.place([10, 10])
    placing.next()
    placing.place([20, 20])
    placing.back()
    expect(placing.hands('hip.left').map(({ at }) => at)).toEqual([[10, 10]])
    placing.place([21, 21])
    expect(placing.hands('hip.left').map(({ at }) => at)).toEqual([
      [10, 10],
      [21, 21],
    ])
  })

  it('should ask for three rounds on a followed frame, and let a place by hand stand for what was followed there', () => {
    const placing = new Placing(['knee.left'])
    expect(placing.guide.turns.length).toBe(3)
    for (const x of [298, 299, 300]) {
      placing.place([x, 300])
      if (x < 300) placing.next()
    }
    expect(placing.all('knee.left').map(({ frame, at, origin }) => [frame, at[0], origin])).toEqual([
      [12, 298, 'placed'],
      [12, 299, 'placed'],
      [12, 300, 'placed'],
      [13, 301, 'tracked'],
    ])
  })
})
