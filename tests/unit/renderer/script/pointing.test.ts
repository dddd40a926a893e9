import { describe, expect, it } from 'vitest'
import type { Picture } from '../../../../app/programme/programme'
import type { Breakdown } from '../../../../app/project/breakdown'
import type { Point } from '../../../../app/project/fields'
import { Mark, type Shot } from '../../../../app/project/picture'
import { drawnAgain, pointed, simplified, waysOn } from '../../../../renderer/script/pointing'

/// A circle as a hand draws it: 700 points.
const circle: Point[] = Array.from({ length: 700 }, (_, i) => [960 + 300 * Math.cos((i / 700) * 6), 540 + 300 * Math.sin((i / 700) * 6)])

/// How far the points of `way` lie from the nearest leg of `path`, at most.
const strayed = (way: readonly Point[], path: readonly Point[]): number =>
  Math.max(
    ...way.map(([x, y]) =>
      Math.min(
        ...path.slice(1).map(([bx, by], i) => {
          const [ax, ay] = path[i]!
          const length = (bx - ax) ** 2 + (by - ay) ** 2
          const along = length === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length))
          return Math.hypot(x - ax - along * (bx - ax), y - ay - along * (by - ay))
        }),
      ),
    ),
  )

describe('a path drawn by hand', () => {
  it('keeps its ends and at most 60 points, and stays within 2 pixels of a smooth way', () => {
    const path = simplified(circle)!
    expect(path.length).toBeLessThanOrEqual(60)
    expect([path[0], path.at(-1)]).toEqual([circle[0], circle.at(-1)].map((point) => point!.map((at) => Math.round(at * 10) / 10)))
    expect(strayed(circle, path)).toBeLessThan(2)
  })

  it('keeps at most 60 points of the wildest way', () => {
    const wild = Array.from({ length: 3000 }, (_, i): Point => [i / 2, i % 2 === 0 ? 0 : 40 + ((i * 7919) % 1000)])
    const path = simplified(wild)!
    expect(path.length).toBeLessThanOrEqual(60)
    expect(path.length).toBeGreaterThanOrEqual(2)
  })

  it('keeps corners that were set one by one as they are', () => {
    expect(
      simplified([
        [10, 10],
        [200.04, 40],
        [90, 300],
      ]),
    ).toEqual([
      [10, 10],
      [200, 40],
      [90, 300],
    ])
  })

  it('is nothing where it goes nowhere, and something where it comes back', () => {
    expect(simplified([])).toBeNull()
    expect(simplified([[5, 5]])).toBeNull()
    expect(
      simplified([
        [5, 5],
        [6, 6],
        [5, 6],
      ]),
    ).toBeNull()
    expect(
      simplified([
        [0, 0],
        [100, 0],
        [100, 100],
        [0, 0],
      ]),
    ).toHaveLength(4)
  })
})

describe('pointing at a picture', () => {
  const shot: Shot = { hold: 'c1', at: 40, seconds: '1' }
  /// Half of the footage's size, 100 canvas pixels to the right.
  const picture = {
    panels: [
      {
        footage: 'f1',
        frame: 40,
        place: [100, 0, 960, 540],
        shown: [0, 0, 1920, 1080],
        mirrored: false,
        opacity: 1,
        toCanvas: { a: 0.5, b: 0, c: 0, d: 0.5, e: 100, f: 0 },
      },
    ],
    shot: { shot, panels: [{ clip: 'c1', source: { width: 1920, height: 1080 } }] },
    at: 0,
  } as unknown as Picture
  const breakdown = {} as Breakdown

  it('puts a path among the marks, in pixels of the footage', () => {
    const next = pointed(
      'path',
      [
        [200, 100],
        [300, 150],
        [400, 100],
      ],
      picture,
      shot,
      breakdown,
      '',
    )
    expect(next).toMatchObject({
      hold: 'c1',
      marks: [
        {
          path: [
            [200, 200],
            [400, 300],
            [600, 200],
          ],
        },
      ],
    })
    expect(Mark.safeParse(next && 'marks' in next ? next.marks?.[0] : null).success).toBe(true)
  })

  it('makes the other marks of the ends alone', () => {
    expect(
      pointed(
        'line',
        [
          [200, 100],
          [250, 400],
          [400, 100],
        ],
        picture,
        shot,
        breakdown,
        '',
      ),
    ).toMatchObject({
      marks: [
        {
          line: [
            [200, 200],
            [600, 200],
          ],
        },
      ],
    })
    expect(pointed('word', [[200, 100]], picture, shot, breakdown, ' here ')).toMatchObject({ marks: [{ word: 'here', at: [200, 200] }] })
  })

  it('dims all but the box that was dragged over, from any corner, as far as the picture reaches', () => {
    const box = (way: readonly Point[]): unknown => {
      const next = pointed('dim', way, picture, shot, breakdown, '')
      const made = next && 'marks' in next ? next.marks?.at(-1) : null
      if (made) expect(Mark.safeParse(made).success).toBe(true)
      return made
    }
    expect(
      box([
        [200, 100],
        [400, 250],
      ]),
    ).toEqual({ dim: [200, 200, 400, 300] })
    expect(
      box([
        [400, 250],
        [300, 120],
        [200, 100],
      ]),
    ).toEqual({ dim: [200, 200, 400, 300] })
    // Half over the picture's right and lower edge: up to there.
    expect(
      box([
        [860, 440],
        [1060, 540],
      ]),
    ).toEqual({ dim: [1520, 880, 400, 200] })
    expect(
      box([
        [200, 100],
        [201, 101],
      ]),
    ).toBeNull()
    expect(
      pointed(
        'dim',
        [
          [200, 100],
          [400, 250],
        ],
        picture,
        { ...shot, marks: ['m1'] },
        breakdown,
        '',
      ),
    ).toMatchObject({ marks: ['m1', { dim: [200, 200, 400, 300] }] })
  })

  const placed = {
    landmarks: [
      {
        clip: 'c1',
        subject: 's1',
        point: 'wrist.left',
        samples: [
          { frame: 39, at: [100, 100], sigma: 1 },
          { frame: 40, at: [400, 300], sigma: 1 },
        ],
      },
      { clip: 'c1', subject: 's1', point: 'elbow.left', samples: [{ frame: 40, at: [410, 300], sigma: 1 }] },
      { clip: 'c1', subject: 's1', point: 'floor.1', samples: [{ frame: 40, at: [800, 800], sigma: 1 }] },
      { clip: 'c2', subject: 's1', point: 'knee.left', samples: [{ frame: 40, at: [600, 600], sigma: 1 }] },
    ],
  } as unknown as Breakdown

  it('draws the way of the landmark that was clicked, the nearest that stands there on the frame shown, and of none elsewhere', () => {
    expect(pointed('trail', [[301, 151]], picture, shot, placed, '')).toEqual({
      ...shot,
      marks: [{ trail: { subject: 's1', point: 'wrist.left' } }],
    })
    expect(pointed('trail', [[306, 150]], picture, shot, placed, '')).toMatchObject({ marks: [{ trail: { point: 'elbow.left' } }] })
    // Where it stood a frame ago, a landmark of another clip, a mark on the floor, nothing.
    for (const at of [
      [150, 50],
      [400, 300],
      [500, 400],
      [700, 200],
    ] as Point[])
      expect(pointed('trail', [at], picture, shot, placed, '')).toBeNull()
    expect(waysOn(picture, placed)).toEqual([
      [300, 150],
      [305, 150],
    ])
  })

  it('draws a mark again where it stands among the others, with its words, its event and its part', () => {
    const marks: Mark[] = ['m1', { word: 'here', at: [10, 10], on: 'e1', part: 'hips' }, { ring: [5, 5], radius: 9 }, { plate: 'm1' }]
    const marked: Shot = { ...shot, marks }
    expect(drawnAgain(1, [[301, 151]], picture, marked, placed)).toEqual({
      ...shot,
      marks: marks.with(1, { word: 'here', at: { subject: 's1', point: 'wrist.left' }, on: 'e1', part: 'hips' }),
    })
    expect(
      drawnAgain(
        2,
        [
          [200, 100],
          [230, 140],
        ],
        picture,
        marked,
        placed,
      ),
    ).toEqual({ ...shot, marks: marks.with(2, { ring: [200, 200], radius: 100 }) })
    // Nothing was said, or it is no mark that is drawn.
    for (const index of [0, 3, 4])
      expect(
        drawnAgain(
          index,
          [
            [200, 100],
            [230, 140],
          ],
          picture,
          marked,
          placed,
        ),
      ).toBeNull()
    expect(drawnAgain(2, [[200, 100]], picture, marked, placed)).toBeNull()
  })

  it('says nothing beside the picture, and nothing of no way', () => {
    expect(
      pointed(
        'path',
        [
          [20, 100],
          [300, 150],
        ],
        picture,
        shot,
        breakdown,
        '',
      ),
    ).toBeNull()
    expect(pointed('path', [], picture, shot, breakdown, '')).toBeNull()
  })
})
