import { describe, expect, it } from 'vitest'
import { changeBetween, findCuts, findRepeats, findStills, repeatCycle, type Change } from '../../../main/media/picture-change'

const moving = (mean: number, peak = mean * 6): Change => ({ mean, peak, meanOverTwo: mean * 1.6 })
const calm = (frames: number): Change[] => Array.from({ length: frames }, (_, i) => moving(2 + 0.3 * (i % 3)))

describe('changeBetween', () => {
  it('sees one small moving thing in its peak and hardly in its mean', () => {
    const before = new Uint8Array(160 * 88).fill(100)
    const now = before.slice()
    for (let y = 8; y < 16; y++) for (let x = 16; x < 24; x++) now[y * 160 + x] = 180
    const change = changeBetween(now, before, now, 160)
    expect(change.peak).toBe(80)
    expect(change.mean).toBeCloseTo((80 * 64) / (160 * 88), 9)
    expect(change.meanOverTwo).toBe(0)
  })
})

describe('findCuts', () => {
  it('finds a jump of the whole picture', () => {
    const film = calm(40)
    film[20] = { mean: 45, peak: 150, meanOverTwo: 46 }
    expect(findCuts(film).map((c) => c.frame)).toEqual([21])
  })
  it('takes neither a flash nor a fast pan nor a burst of motion for one', () => {
    const flash = calm(40)
    flash[20] = { mean: 90, peak: 150, meanOverTwo: 88 }
    flash[21] = { mean: 88, peak: 150, meanOverTwo: 4 }
    expect(findCuts(flash)).toEqual([])
    expect(findCuts([...calm(10), ...Array.from({ length: 12 }, () => moving(25)), ...calm(10)])).toEqual([])
    const burst = calm(40)
    burst[20] = moving(7)
    expect(findCuts(burst)).toEqual([])
  })
})

describe('findRepeats', () => {
  it('finds frames that repeat while the film moves, coding noise allowed', () => {
    const film = calm(60).map((change, i) => (i % 5 === 4 ? { mean: 0.1, peak: 0.6, meanOverTwo: 2 } : change))
    const repeats = findRepeats(film)
    expect(repeats).toEqual([5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60])
    expect(repeatCycle(repeats, 61)).toEqual({ repeated: 1, of: 5 })
  })
  it('finds two of every three, and no cycle in chance repeats', () => {
    const film = calm(60).map((change, i) => (i % 3 ? { mean: 0, peak: 0, meanOverTwo: 2 } : change))
    expect(repeatCycle(findRepeats(film), 61)).toEqual({ repeated: 2, of: 3 })
    expect(repeatCycle([3, 20, 22, 41, 55, 90], 100)).toBeNull()
  })
  it('calls nothing a repeat where nothing moves; that is a still', () => {
    const still = Array.from({ length: 30 }, (): Change => ({ mean: 0, peak: 0.1, meanOverTwo: 0 }))
    const film = [...calm(20), ...still, ...calm(20)]
    expect(findRepeats(film)).toEqual([])
    expect(findStills(film, 25)).toEqual([{ from: 20, to: 51 }])
    expect(findStills(calm(50), 10)).toEqual([])
  })
})
