import { describe, expect, it } from 'vitest'
import { changeBetween, findBlends, findCuts, findRepeats, findStills, repeatCycle, type Change } from '../../../main/media/picture-change'

const moving = (mean: number, peak = mean * 6): Change => ({ mean, peak, meanOverTwo: mean * 1.6, mixBefore: 0.3 })
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

describe('findBlends', () => {
  /// A bar of 20 pixels that moves 12 a frame over a striped ground.
  const shot = (at: number): Uint8Array =>
    Uint8Array.from({ length: 160 * 88 }, (_, i) => (i % 160 >= at && i % 160 < at + 20 ? 220 : 60 + ((i * 7) % 40)))
  const mix = (a: Uint8Array, b: Uint8Array, share: number): Uint8Array => a.map((value, i) => Math.round(value + share * (b[i]! - value)))
  const changes = (film: readonly Uint8Array[]): Change[] =>
    film.slice(1).map((now, i) => changeBetween(now, film[i]!, film[i - 1] ?? null, 160))

  it('finds the mixed frames between shot ones, whatever their share, and no shot frame', () => {
    const shots = [0, 12, 24, 36, 48].map(shot)
    expect(findBlends(changes(shots))).toEqual([])
    const converted = shots.flatMap((picture, i) => (i < 4 ? [picture, mix(picture, shots[i + 1]!, 0.3 + 0.1 * i)] : [picture]))
    expect(findBlends(changes(converted))).toEqual([1, 3, 5, 7])
  })
  it('takes small smooth motion for what it is, though each frame lies between its neighbours', () => {
    const soft = (at: number): Uint8Array =>
      Uint8Array.from({ length: 160 * 88 }, (_, i) => Math.round(128 + 100 * Math.sin(((i % 160) - at) / 9)))
    const film = Array.from({ length: 40 }, (_, i) => soft(i * 0.8))
    expect(changes(film).filter((c) => c.mixBefore !== null && c.mixBefore < 0.1).length).toBeGreaterThan(20)
    expect(findBlends(changes(film))).toEqual([])
  })
  it('says nothing of a film in which nothing moves, or of repeats', () => {
    expect(findBlends(changes([shot(5), shot(5), shot(5)]))).toEqual([])
    expect(findBlends(changes([0, 0, 12, 12, 24, 24].map(shot)))).toEqual([])
  })
})

describe('findCuts', () => {
  it('finds a jump of the whole picture', () => {
    const film = calm(40)
    film[20] = { mean: 45, peak: 150, meanOverTwo: 46, mixBefore: null }
    expect(findCuts(film).map((c) => c.frame)).toEqual([21])
  })
  it('takes neither a flash nor a fast pan nor a burst of motion for one', () => {
    const flash = calm(40)
    flash[20] = { mean: 90, peak: 150, meanOverTwo: 88, mixBefore: null }
    flash[21] = { mean: 88, peak: 150, meanOverTwo: 4, mixBefore: null }
    expect(findCuts(flash)).toEqual([])
    expect(findCuts([...calm(10), ...Array.from({ length: 12 }, () => moving(25)), ...calm(10)])).toEqual([])
    const burst = calm(40)
    burst[20] = moving(7)
    expect(findCuts(burst)).toEqual([])
  })
})

describe('findRepeats', () => {
  it('finds frames that repeat while the film moves, coding noise allowed', () => {
    const film = calm(60).map((change, i) => (i % 5 === 4 ? { mean: 0.1, peak: 0.6, meanOverTwo: 2, mixBefore: null } : change))
    const repeats = findRepeats(film)
    expect(repeats).toEqual([5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60])
    expect(repeatCycle(repeats, 61)).toEqual({ repeated: 1, of: 5 })
  })
  it('finds two of every three, and no cycle in chance repeats', () => {
    const film = calm(60).map((change, i) => (i % 3 ? { mean: 0, peak: 0, meanOverTwo: 2, mixBefore: null } : change))
    expect(repeatCycle(findRepeats(film), 61)).toEqual({ repeated: 2, of: 3 })
    expect(repeatCycle([3, 20, 22, 41, 55, 90], 100)).toBeNull()
  })
  it('calls nothing a repeat where nothing moves; that is a still', () => {
    const still = Array.from({ length: 30 }, (): Change => ({ mean: 0, peak: 0.1, meanOverTwo: 0, mixBefore: null }))
    const film = [...calm(20), ...still, ...calm(20)]
    expect(findRepeats(film)).toEqual([])
    expect(findStills(film, 25)).toEqual([{ from: 20, to: 51 }])
    expect(findStills(calm(50), 10)).toEqual([])
  })
})
