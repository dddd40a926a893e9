import { expect, it } from 'vitest'
import { Measure } from '../../../app/project/question'
import { read } from './scene'

/// A floor of 4 m × 4 m seen straight from above, 100 px to the metre: what is read can be read off the drawing.
const footMeasure = (kind: 'foot-heading' | 'step-off-line', planted = true) =>
  Measure.parse({
    id: 'm1',
    kind,
    clip: 'c1',
    subject: 's1',
    frame: 460,
    points: kind === 'foot-heading' ? ['heel.left', 'toe.left'] : ['toe.left'],
    line: { frame: 450, stands: ['s1', 's2'].map((subject) => ({ subject, points: ['toe.left', 'toe.right'] })) },
    ...(planted ? { planted: true } : {}),
  })
const at = (subject: string, point: string, frame: number, x: number, y: number) => ({
  clip: 'c1',
  subject,
  point,
  samples: [{ frame, at: [x, y] as [number, number], sigma: 1 }],
})
const corners = [
  [100, 100],
  [500, 100],
  [500, 500],
  [100, 500],
] as const
const marks = corners.map(([x, y], i) => ({ point: `floor.${i + 1}`, at: [(x - 100) / 100, (y - 100) / 100] as [number, number] }))
const hall = (camera: 'still' | undefined) => ({ ...(camera ? { camera } : {}), floor: { subject: 's1', marks, unit: 'm', u: 0 } })
const reading = (kind: 'foot-heading' | 'step-off-line', camera: 'still' | undefined, planted = true) =>
  read(footMeasure(kind, planted), {
    more: {
      subjects: [
        { id: 's1', name: 'Nela Varga' },
        { id: 's2', name: 'Ida Koss' },
      ],
      clips: [{ id: 'c1', footage: 'f1', from: 400, to: 830, capture: { factor: '1', u: 0 }, hall: hall(camera) }],
      views: [],
      events: [],
      landmarks: [
        ...corners.map(([x, y], i) => at('s1', `floor.${i + 1}`, 460, x, y)),
        {
          ...at('s1', 'toe.left', 450, 200, 290),
          samples: [
            { frame: 450, at: [200, 290], sigma: 1 },
            { frame: 460, at: [250, 350], sigma: 1 },
          ],
        },
        at('s1', 'toe.right', 450, 200, 310),
        at('s1', 'heel.left', 460, 250, 380),
        at('s2', 'toe.left', 450, 400, 290),
        at('s2', 'toe.right', 450, 400, 310),
      ],
    },
  })

it('should tell by the clip’s own floor where a measure has none', () => {
  // Half a metre off the line from (1, 2) to (3, 2), and square to it.
  expect(reading('step-off-line', 'still')).toMatchObject({ value: expect.closeTo(0.5, 6), unit: 'm' })
  expect(reading('foot-heading', 'still')).toMatchObject({ value: expect.closeTo(90, 6) })
})

it('should ask for the marks on the line’s own frame, unless the camera stood still', () => {
  expect(reading('step-off-line', undefined)).toMatchObject({ value: null, reasons: expect.arrayContaining(['floor-missing']) })
})

it('should refuse while nobody said that the feet stand flat', () => {
  expect(reading('foot-heading', 'still', false)).toMatchObject({ value: null, reasons: expect.arrayContaining(['not-planted']) })
})

/// Further marks of the same floor; the last one placed `slip` px from where it lies.
const withMore = (slip: number) => {
  const more = [
    [300, 100],
    [500, 300],
    [300, 500],
    [100, 300],
  ] as const
  const floor = {
    subject: 's1',
    unit: 'm',
    u: 0,
    marks: [...marks, ...more.map(([x, y], i) => ({ point: `floor.${i + 5}`, at: [(x - 100) / 100, (y - 100) / 100] }))],
  }
  return read(footMeasure('step-off-line'), {
    more: {
      subjects: [
        { id: 's1', name: 'Nela Varga' },
        { id: 's2', name: 'Ida Koss' },
      ],
      clips: [{ id: 'c1', footage: 'f1', from: 400, to: 830, capture: { factor: '1', u: 0 }, hall: { camera: 'still', floor } as never }],
      views: [],
      events: [],
      landmarks: [
        ...corners.map(([x, y], i) => at('s1', `floor.${i + 1}`, 460, x, y)),
        ...more.map(([x, y], i) => at('s1', `floor.${i + 5}`, 460, x + (i === 3 ? slip : 0), y)),
        {
          ...at('s1', 'toe.left', 450, 200, 290),
          samples: [
            { frame: 450, at: [200, 290], sigma: 1 },
            { frame: 460, at: [250, 350], sigma: 1 },
          ],
        },
        at('s1', 'toe.right', 450, 200, 310),
        at('s2', 'toe.left', 450, 400, 290),
        at('s2', 'toe.right', 450, 400, 310),
      ],
    },
  })
}

it('should warn of a mark that the others do not bear out, and take what it does into the error', () => {
  const [good, slipped] = [withMore(0), withMore(60)]
  expect(good).toMatchObject({ value: expect.closeTo(0.5, 6), reasons: expect.not.arrayContaining(['floor-marks-apart']) })
  expect(slipped.reasons).toContain('floor-marks-apart')
  expect(slipped.U! / good.U!).toBeGreaterThan(3)
  expect(Math.abs(slipped.value! - 0.5)).toBeLessThan(slipped.U!)
})

it('should refuse marks of which two have changed places', () => {
  const crossed = {
    ...hall('still'),
    floor: { ...hall('still').floor, marks: [0, 1, 3, 2].map((from, i) => ({ ...marks[i]!, at: marks[from]!.at })) },
  }
  const measure = footMeasure('step-off-line')
  expect(
    read({ ...measure, floor: crossed.floor } as never, {
      more: {
        subjects: [
          { id: 's1', name: 'Nela Varga' },
          { id: 's2', name: 'Ida Koss' },
        ],
        clips: [{ id: 'c1', footage: 'f1', from: 400, to: 830, capture: { factor: '1', u: 0 }, hall: { camera: 'still' } }],
        views: [],
        events: [],
        landmarks: corners.map(([x, y], i) => at('s1', `floor.${i + 1}`, 460, x, y)),
      },
    }),
  ).toMatchObject({ value: null, reasons: expect.arrayContaining(['floor-crossed']) })
})
