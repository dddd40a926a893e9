import { describe, expect, it } from 'vitest'
import type { LaidShot } from '../../../../app/programme/programme'
import type { ProjectState } from '../../../../app/edit/project-state'
import type { Clip } from '../../../../app/project/film'
import type { Rectangle } from '../../../../app/project/fields'
import type { Run, Shot } from '../../../../app/project/picture'
import { rational } from '../../../../app/time/rational'
import { changeShot, moveShot, redone } from '../../../../renderer/script/shot-changes'
import { atNextSpeed, cutInTwo, withEndMoved } from '../../../../renderer/script/shot-ends'
import type { EditChange } from '../../../../renderer/state/project'

const clip: Clip = { id: 'c1', footage: 'f1', from: 0, to: 100, capture: { factor: '1', u: 0 } }
const rate = rational(60)

/// A run at half speed on a film of the output's own rate: every frame twice.
const run: Shot = { run: 'c1', from: 20, to: 50, speed: '1/2' }
const laid = (shot: Shot, frames: readonly number[]): LaidShot =>
  ({ shot, frames: frames.length, start: 0, index: 0, panels: [{ clip: 'c1', footage: 'f1', frames }] }) as unknown as LaidShot
const twice = laid(
  run,
  Array.from({ length: 60 }, (_, i) => 20 + Math.floor(i / 2)),
)

describe('moving an end', () => {
  it('shows other frames of the run, never outside its clip', () => {
    expect(withEndMoved(run, twice, 'end', -20, rate, clip)).toMatchObject({ from: 20, to: 40 })
    expect(withEndMoved(run, twice, 'end', 20, rate, clip)).toMatchObject({ to: 60 })
    expect(withEndMoved(run, twice, 'end', 900, rate, clip)).toMatchObject({ to: 100 })
    expect(withEndMoved(run, twice, 'start', 20, rate, clip)).toMatchObject({ from: 30, to: 50 })
    expect(withEndMoved(run, twice, 'start', -900, rate, clip)).toMatchObject({ from: 0 })
  })
  it('is nothing where it would leave no frame, or moves by none', () => {
    expect(withEndMoved(run, twice, 'end', -60, rate, clip)).toBeNull()
    expect(withEndMoved(run, twice, 'start', 0, rate, clip)).toBeNull()
  })
  it('makes a hold longer or shorter by exact fractions', () => {
    const hold: Shot = { hold: 'c1', at: 40, seconds: '1' }
    const held = laid(
      hold,
      Array.from({ length: 60 }, () => 40),
    )
    expect(withEndMoved(hold, held, 'end', 7, rate, undefined)).toMatchObject({ seconds: '67/60' })
    expect(withEndMoved(hold, held, 'start', 30, rate, undefined)).toMatchObject({ seconds: '1/2' })
  })
  it('shows more or less about a pair’s event, by the pair’s speed', () => {
    const pair: Shot = {
      pair: [
        { clip: 'c1', event: 'e1' },
        { clip: 'c1', event: 'e2' },
      ],
      before: '1/2',
      after: '1/2',
      speed: '1/4',
      layout: 'beside',
    }
    const shown = laid(
      pair,
      Array.from({ length: 240 }, () => 0),
    )
    expect(withEndMoved(pair, shown, 'end', 60, rate, undefined)).toMatchObject({ after: '3/4' })
    expect(withEndMoved(pair, shown, 'start', 60, rate, undefined)).toMatchObject({ before: '1/4' })
    expect(withEndMoved(pair, shown, 'end', -200, rate, undefined)).toBeNull()
  })
})

describe('cutting in two', () => {
  it('parts a run at the frame shown, and a hold in time', () => {
    expect(cutInTwo(run, twice, 20, rate)).toEqual([
      { ...run, to: 30 },
      { ...run, from: 30 },
    ])
    const hold: Shot = { hold: 'c1', at: 40, seconds: '1' }
    expect(
      cutInTwo(
        hold,
        laid(
          hold,
          Array.from({ length: 60 }, () => 40),
        ),
        20,
        rate,
      ),
    ).toEqual([
      { ...hold, seconds: '1/3' },
      { ...hold, seconds: '2/3' },
    ])
  })
  it('goes on with a move from where the cut finds it, and leaves a still part as it is', () => {
    const part = [0, 0, 320, 180] as [number, number, number, number]
    const framed = (shot: Shot, frames: readonly number[], from: Rectangle, to: Rectangle): LaidShot => {
      const bare = laid(shot, frames)
      return { ...bare, panels: bare.panels.map((panel) => ({ ...panel, shown: [from, to], source: { width: 640, height: 360 } })) }
    }
    const zooming: Shot = { hold: 'c1', at: 40, seconds: '1', frameTo: part }
    const halves = cutInTwo(
      zooming,
      framed(
        zooming,
        Array.from({ length: 61 }, () => 40),
        [0, 0, 640, 360],
        part,
      ),
      30,
      rate,
    )
    expect(halves).toEqual([
      { ...zooming, seconds: '1/2', frameTo: [0, 0, 480, 270] },
      { ...zooming, seconds: '31/60', frame: [0, 0, 480, 270] },
    ])
    const panned: Shot = { ...run, frame: [0, 0, 320, 180], frameTo: [320, 180, 320, 180] }
    const [before, after] = cutInTwo(
      panned,
      framed(panned, twice.panels[0]!.frames as unknown as number[], [0, 0, 320, 180], [320, 180, 320, 180]),
      30,
      rate,
    )!
    expect(before).toMatchObject({ from: 20, to: 35, frame: [0, 0, 320, 180] })
    expect(after).toMatchObject({ from: 35, to: 50, frameTo: [320, 180, 320, 180] })
    expect((after as Run).frame).toEqual((before as Run).frameTo)
    const still: Shot = { ...run, frame: part }
    expect(cutInTwo(still, framed(still, twice.panels[0]!.frames as unknown as number[], part, part), 20, rate)).toEqual([
      { ...still, to: 30 },
      { ...still, from: 30 },
    ])
  })
  it('cuts nothing at the ends, within the first frame, or of a pair', () => {
    expect(cutInTwo(run, twice, 0, rate)).toBeNull()
    expect(cutInTwo(run, twice, 1, rate)).toBeNull()
    expect(cutInTwo(run, twice, 60, rate)).toBeNull()
  })
})

it('speeds go one step at a time, and stop at either end', () => {
  expect(atNextSpeed(run, 1)).toMatchObject({ speed: '1' })
  expect(atNextSpeed(run, -1)).toMatchObject({ speed: '1/4' })
  expect(atNextSpeed({ ...run, speed: '1/8' } as Shot, -1)).toBeNull()
  expect(atNextSpeed({ ...run, speed: '2/3' } as Shot, 1)).toMatchObject({ speed: '1' })
  expect(atNextSpeed({ hold: 'c1', at: 3, seconds: '1' }, 1)).toBeNull()
})

describe('a change made on a shot that has changed meanwhile', () => {
  const seen: Shot = { hold: 'c1', at: 40, seconds: '1', marks: ['m1'] }
  it('keeps what others did to it, and adds its own mark behind theirs', () => {
    const now: Shot = { hold: 'c1', at: 40, seconds: '1', frame: [0, 0, 100, 60], marks: ['m1', 'm2'] }
    expect(redone(seen, { ...seen, marks: ['m1', 'm3'] }, now)).toEqual({ ...now, marks: ['m1', 'm2', 'm3'] })
    expect(redone(seen, { ...seen, seconds: '2' }, now)).toEqual({ ...now, seconds: '2' })
    expect(redone(seen, { ...seen, frame: [5, 5, 50, 30] }, { ...seen, marks: ['m1', 'm2'] })).toEqual({
      ...seen,
      marks: ['m1', 'm2'],
      frame: [5, 5, 50, 30],
    })
  })
  it('takes away what it took away, and is itself where nothing changed', () => {
    const { marks: _marks, ...bare } = seen
    expect(redone(seen, bare, { ...seen, at: 41 })).toEqual({ ...bare, at: 41 })
    expect(redone(seen, { ...seen, at: 3 }, seen)).toEqual({ ...seen, at: 3 })
  })
})

describe('a shot that was cut, moved or taken out as it was seen', () => {
  const card: Shot = { card: 'text', lines: ['Round two'], seconds: '4' }
  const marked: Shot = { ...(run as Run), marks: ['m1'] }
  const state = (shots: readonly Shot[]): ProjectState =>
    ({ tables: { paragraphs: new Map([['p1', { id: 'p1', shots }]]) } }) as unknown as ProjectState
  const after = (change: EditChange | null): unknown => (change?.diffs[0] as { to: { shots: unknown } } | undefined)?.to.shots
  const two = cutInTwo(run, twice, 20, rate)!
  it('keeps what was put on it meanwhile', () => {
    expect(after(changeShot(state([marked, card]), 'p1', 'Cut', 0, run, (now) => two.map((half) => redone(run, half, now))))).toEqual([
      { ...two[0], marks: ['m1'] },
      { ...two[1], marks: ['m1'] },
      card,
    ])
    expect(after(moveShot(state([marked, card]), 'p1', 0, run, 1))).toEqual([card, marked])
    expect(after(changeShot(state([marked, card]), 'p1', 'Delete', 0, run, () => []))).toEqual([card])
  })
  it('is left alone once another kind of shot, or none, stands in its place', () => {
    expect(changeShot(state([card]), 'p1', 'Delete', 0, run, () => [])).toBeNull()
    expect(changeShot(state([card]), 'p1', 'Delete', 1, card, () => [])).toBeNull()
    expect(moveShot(state([card, marked]), 'p1', 0, run, 1)).toBeNull()
  })
})
