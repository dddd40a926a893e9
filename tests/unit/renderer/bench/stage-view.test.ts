import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { applyAffine } from '../../../../app/programme/affine'
import {
  bringIn,
  isOnPicture,
  ontoPicture,
  pictureAtStage,
  pictureRoom,
  viewAffine,
  wholeView,
  zoomAbout,
} from '../../../../renderer/bench/stage-view'

const picture = { width: 1920, height: 1080 }
const stage = { width: 1348, height: 660 }
const pointer = fc.tuple(fc.double({ min: 0, max: stage.width, noNaN: true }), fc.double({ min: 0, max: stage.height, noNaN: true }))

it('should leave the point under the pointer where it is, zoom by zoom', () => {
  fc.assert(
    fc.property(
      pointer,
      fc.array(fc.double({ min: 0.3, max: 3, noNaN: true }), { minLength: 1, maxLength: 20 }),
      fc.boolean(),
      (at, factors, mirrored) => {
        let view = wholeView(picture, stage)
        const before = pictureAtStage(view, at, picture, mirrored)
        for (const factor of factors) view = zoomAbout(view, at, factor)
        const after = pictureAtStage(view, at, picture, mirrored)
        expect(after[1]).toBeCloseTo(before[1], 6)
        expect(after[0]).toBeCloseTo(before[0], 6)
      },
    ),
  )
})

it('should lead from the picture to the stage and back, mirrored or not', () => {
  fc.assert(
    fc.property(pointer, fc.double({ min: 0.1, max: 40, noNaN: true }), fc.boolean(), (at, factor, mirrored) => {
      const view = zoomAbout(wholeView(picture, stage), [300, 200], factor)
      const back = applyAffine(viewAffine(view, picture, mirrored), pictureAtStage(view, at, picture, mirrored))
      expect(back[0]).toBeCloseTo(at[0], 6)
      expect(back[1]).toBeCloseTo(at[1], 6)
    }),
  )
})

it('should show the whole picture in the middle', () => {
  const view = wholeView(picture, stage)
  expect(view.scale).toBeCloseTo(660 / 1080, 9)
  expect(view.y).toBeCloseTo(0, 9)
  expect(view.x).toBeCloseTo((1348 - (1920 * 660) / 1080) / 2, 9)
})

it('should move no further than needed to bring a point in', () => {
  const view = wholeView(picture, stage)
  expect(bringIn(view, [600, 300], stage, 24)).toEqual(view)
  const moved = bringIn(view, [-10, 300], stage, 24)
  expect([moved.x - view.x, moved.y - view.y]).toEqual([34, 0])
})

it('should tell the black margin from the picture, edges belonging to it', () => {
  const whole = wholeView(picture, { width: 2400, height: 1080 })
  expect([239, 240, 2160, 2161].map((x) => isOnPicture(pictureAtStage(whole, [x, 500], picture, false), picture))).toEqual([
    false,
    true,
    true,
    false,
  ])
  expect(isOnPicture([5, -0.25], picture)).toBe(false)
})

it('should lead what is drawn off the picture back to its nearest point', () => {
  expect(ontoPicture([-3, 1200], picture)).toEqual([0, 1080])
  expect(ontoPicture([7, 8], picture)).toEqual([7, 8])
})

describe('the room of the picture', () => {
  const room = (width: number, beside: boolean, sheet: boolean) => pictureRoom({ width, height: 660 }, { beside, sheet })
  it('should be all of the stage, half of it beside a second clip, and what a sheet leaves free', () => {
    expect([room(1348, false, false), room(1348, true, false), room(1348, true, true), room(1348, false, true)]).toEqual(
      [1348, 674, 674, 1008].map((width) => ({ width, height: 660 })),
    )
  })
  it('should lie under the sheet where too little would be left', () => expect(room(800, false, true).width).toBe(800))
})
