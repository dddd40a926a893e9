import { describe, expect, it } from 'vitest'
import { clearance, type Obstacle } from '../../../app/marks/box'
import { firstValueShot } from '../../../app/marks/draw-context'
import { drawFrame, drawShot } from '../../../app/marks/frame-drawing'
import { palette } from '../../../app/marks/palette'
import type { Shape } from '../../../app/marks/shape'
import { planShot } from '../../../app/marks/shot-plan'
import { cutSpans } from '../../../app/marks/span'
import { applyAffine } from '../../../app/programme/affine'
import { pictureOfShot } from '../../../app/programme/picture-at'
import type { Programme } from '../../../app/programme/programme'
import type { Breakdown } from '../../../app/project/breakdown'
import type { Point } from '../../../app/project/fields'
import type { Mark, Shot } from '../../../app/project/picture'
import { breakdownOf, contextOf, laid, pose, FRAMES } from './scene'

const texts = (shapes: readonly Shape[]): string[] => shapes.flatMap((s) => (s.kind === 'text' ? [s.text] : []))
const coloured = (shapes: readonly Shape[], colour: string): boolean => shapes.some((s) => s.kind === 'fill' && s.colour === colour)
const hold = (at: number, marks: Mark[]): Shot => ({ hold: 'c1', at, seconds: '1', marks })
const run = (marks: Mark[], more: object = {}): Shot => ({ run: 'c1', from: 20, to: 100, speed: '1', marks, ...more })

/// The scene with a landmark's samples kept only on some frames.
const keeping = (point: string, keep: (frame: number) => boolean): Breakdown => {
  const breakdown = breakdownOf()
  return {
    ...breakdown,
    landmarks: breakdown.landmarks!.map((l) => (l.point === point ? { ...l, samples: l.samples.filter((s) => keep(s.frame)) } : l)),
  }
}

const drawnAt = (shot: Shot, breakdown: Breakdown, at: number): Shape[] =>
  drawFrame(pictureOfShot(laid(shot, breakdown), at), contextOf(breakdown))

describe('a measure on film', () => {
  it('has its lines on a run on every frame with all its points, and on no other', () => {
    const breakdown = keeping('knee.right', (frame) => frame % 7 !== 0)
    for (const at of [0, 1, 7, 8, 29, 50, 79]) {
      const shot = laid(run(['knee']), breakdown)
      const frame = shot.panels[0]!.frames[at]!
      expect(coloured(drawnAt(run(['knee']), breakdown, at), palette.limb), `frame ${frame}`).toBe(frame % 7 !== 0)
    }
  })

  it('has its value on a hold of its own frame, and no value on another frame or on a run', () => {
    const breakdown = breakdownOf()
    expect(texts(drawnAt(hold(60, ['knee']), breakdown, 5)).join(' ')).toContain('173°')
    expect(texts(drawnAt(hold(61, ['knee']), breakdown, 5)).join(' ')).not.toContain('°')
    expect(coloured(drawnAt(hold(61, ['knee']), breakdown, 5), palette.limb)).toBe(true)
    for (const at of [0, 40, 79]) expect(texts(drawnAt(run(['knee']), breakdown, at)).join(' ')).not.toContain('°')
  })

  it('on a plate may stand on a run, named by its instant, from its event on, and never ties a moving joint', () => {
    const breakdown = breakdownOf()
    const shot = run([{ plate: 'knee', on: 'e1' }])
    const appears = laid(shot, breakdown).eventAt.get('e1')!
    expect(appears).toBe(40)
    expect(texts(drawnAt(shot, breakdown, appears - 1)).join(' ')).not.toContain('173°')
    expect(texts(drawnAt(shot, breakdown, appears)).join(' ')).toMatch(/173° .*at contact/)
    expect(texts(drawnAt(run([{ plate: 'knee' }]), breakdown, 0)).join(' ')).toMatch(/173° .*at contact/)
    expect(planShot(laid(shot, breakdown), contextOf(breakdown)).plates[0]?.tied).toBe(false)
    const unnamed = { ...breakdown, events: breakdown.events!.filter((e) => e.id !== 'e1') }
    expect(texts(drawnAt(run([{ plate: 'knee' }]), unnamed, 0)).join(' ')).toMatch(/at frame 60/)
  })

  it('has its value in a pair only while that stands still on its frame', () => {
    const breakdown = breakdownOf()
    const pair = (still: object): Shot => ({
      pair: [
        { clip: 'c1', event: 'e1' },
        { clip: 'c2', event: 'e2' },
      ],
      before: '1/4',
      after: '1/4',
      speed: '1/8',
      layout: 'beside',
      marks: ['knee', 'knee2'],
      ...still,
    })
    const shot = laid(pair({ still: '2' }), breakdown)
    const plates = planShot(shot, contextOf(breakdown)).plates
    expect(plates.map((p) => [p.measure, p.panel])).toEqual([
      ['knee', 0],
      ['knee2', 1],
    ])
    for (const plate of plates) {
      expect(plate.to - plate.from).toBeGreaterThanOrEqual(120)
      const own = plate.measure === 'knee' ? 60 : 62
      for (let at = plate.from; at < plate.to; at++) expect(shot.panels[plate.panel]!.frames[at]).toBe(own)
    }
    expect(planShot(laid(pair({}), breakdown), contextOf(breakdown)).plates).toEqual([])
  })

  it('of times and orders has a plate and no lines', () => {
    const breakdown = breakdownOf()
    const shapes = drawnAt(hold(60, ['time']), breakdown, 5)
    expect(texts(shapes).join(' ')).toMatch(/0\.\d+ s ± 0\.\d+ s plant to contact/)
    expect(coloured(shapes, palette.limb)).toBe(false)
  })

  it('that is refused says so with its reason, and draws no number', () => {
    const shapes = texts(drawnAt(hold(60, ['head']), breakdownOf(), 5)).join(' ')
    expect(shapes).toContain('not measured')
    expect(shapes).toContain('has not been placed')
    expect(shapes).not.toMatch(/\d/)
  })

  it('follows the pixels of a mirrored clip, its text never', () => {
    const breakdown = breakdownOf()
    const shot = laid({ hold: 'c2', at: 62, seconds: '1', marks: ['knee2'] }, breakdown)
    const plan = planShot(shot, contextOf(breakdown))
    const knee = pose(62)['knee.right']!
    const onCanvas = applyAffine(pictureOfShot(shot, 0).panels[0]!.toCanvas, knee)
    expect(onCanvas[0]).toBeCloseTo((1280 - knee[0]) * 1.5, 6)
    const dots = drawFrame(pictureOfShot(shot, 0), contextOf(breakdown)).flatMap((s) =>
      s.kind === 'fill' && s.colour === palette.casing && s.opacity === 1 ? s.rings : [],
    )
    const middle = (ring: readonly Point[]): number => ring.reduce((sum, p) => sum + p[0], 0) / ring.length
    expect(Math.min(...dots.map((ring) => Math.abs(middle(ring) - onCanvas[0])))).toBeLessThan(0.01)
    expect(plan.plates[0]?.clear).toBe(true)
    expect(plan.badges.shapes.filter((s) => s.kind === 'text').map((s) => s.text)).toEqual(['frozen', 'mirrored'])
  })

  it("leans against the true vertical: the reference line turns with the camera's roll", () => {
    const rolled = (deg: number): Breakdown => ({
      ...breakdownOf(),
      clips: breakdownOf().clips.map((c) => ({ ...c, roll: { deg, u: 1 } })),
    })
    const reference = (deg: number): number => {
      const shape = drawnAt(hold(60, ['lean']), rolled(deg), 0).find((s) => s.kind === 'fill' && s.colour === palette.other)
      const ring = shape?.kind === 'fill' ? shape.rings[0]! : []
      const [[ax, ay], [bx, by]] = [ring[0]!, ring[1]!]
      return (Math.atan2(bx - ax, ay - by) * 180) / Math.PI
    }
    expect(reference(0)).toBeCloseTo(0, 6)
    expect(reference(5)).toBeCloseTo(-5, 6)
  })
})

describe('a free mark', () => {
  const wrist = { subject: 's1', point: 'wrist.right' }
  const ring: Mark = { ring: wrist, radius: 30 }
  it('that follows a landmark is carried over gaps of up to five frames, and not over longer ones', () => {
    const gap = (length: number): Breakdown => keeping('wrist.right', (f) => f <= 50 || f >= 50 + length)
    const shown = (breakdown: Breakdown, frame: number): boolean => coloured(drawnAt(hold(frame, [ring]), breakdown, 0), palette.other)
    expect(shown(gap(5), 53)).toBe(true)
    expect(shown(gap(6), 53)).toBe(false)
    expect(shown(gap(6), 50)).toBe(true)
    expect(
      shown(
        keeping('wrist.right', (f) => f < 50),
        50,
      ),
    ).toBe(false)
  })

  it('lies halfway between the samples about it', () => {
    const breakdown = keeping('wrist.right', (f) => f % 4 === 0)
    const shot = laid(hold(58, [ring]), breakdown)
    const shape = drawFrame(pictureOfShot(shot, 0), contextOf(breakdown)).find((s) => s.kind === 'fill' && s.colour === palette.other)
    const points = shape?.kind === 'fill' ? shape.rings[0]! : []
    const centre = points.reduce((sum, p) => sum + p[0], 0) / points.length
    expect(centre).toBeCloseTo(((pose(56)['wrist.right']![0] + pose(60)['wrist.right']![0]) / 2) * 1.5, 1)
  })

  it('appears on its event and stays; one whose event is not in the shot never appears', () => {
    const breakdown = breakdownOf()
    const shown = (on: string, at: number): boolean =>
      coloured(drawnAt(run([{ ...(ring as object), on } as Mark]), breakdown, at), palette.other)
    expect([shown('e1', 39), shown('e1', 40), shown('e1', 79)]).toEqual([false, true, true])
    expect(shown('e2', 79)).toBe(false)
  })

  it('between two joints of one side is solid on the rear limb and hollow on the lead one', () => {
    const breakdown = breakdownOf()
    const hollow = (side: string, part?: 'limb'): boolean => {
      const line = [
        { subject: 's1', point: `knee.${side}` },
        { subject: 's1', point: `ankle.${side}` },
      ] as [object, object]
      const shapes = drawnAt(hold(60, [{ line, ...(part && { part }) } as Mark]), breakdown, 0)
      return shapes.some((s) => s.kind === 'fill' && s.colour === palette.casing && s.opacity === 1)
    }
    expect([hollow('left'), hollow('right'), hollow('lead'), hollow('rear')]).toEqual([true, false, true, false])
  })

  it('of each kind draws something, inside its panel', () => {
    const breakdown = breakdownOf()
    const marks: Mark[] = [
      { arrow: [[-500, 100], wrist] },
      ring,
      {
        line: [
          [600, 100],
          [3000, 900],
        ],
        part: 'shoulders',
      },
      { line: [wrist, { subject: 's1', point: 'hip.mid' }], part: 'hips' },
      {
        path: [
          [500, 100],
          [600, 300],
          [-400, 500],
        ],
      },
      { trail: wrist },
      { word: 'rear heel is up', at: [405, 715] },
      { dim: [450, 100, 300, 300] },
    ]
    for (const mark of marks) {
      const shot = laid({ hold: 'c1', at: 60, seconds: '1', frame: [400, 0, 640, 720], marks: [mark] }, breakdown, { badges: [] })
      const shapes = drawFrame(pictureOfShot(shot, 0), contextOf(breakdown))
      expect(shapes.length, JSON.stringify(mark)).toBeGreaterThan(0)
      const [x, y, width, height] = shot.panels[0]!.place
      for (const shape of shapes) {
        const points = shape.kind === 'fill' ? shape.rings.flat() : [shape.at]
        for (const p of points) {
          expect(p[0]).toBeGreaterThanOrEqual(x - 1e-6)
          expect(p[0]).toBeLessThanOrEqual(x + width + 1e-6)
          expect(p[1]).toBeGreaterThanOrEqual(y - 1e-6)
          expect(p[1]).toBeLessThanOrEqual(y + height + 1e-6)
        }
      }
    }
  })
})

const CANVASES = [
  { width: 1920, height: 1080 },
  { width: 1080, height: 1920 },
  { width: 1080, height: 1080 },
]

describe.each(CANVASES)('plates on $width × $height', (canvas) => {
  const breakdown = breakdownOf(canvas)
  const context = contextOf(breakdown, { explainsErrorAt: 0 })
  const title = { name: 'Nela Varga', line: 'Riverside Open, second bout', frames: 240 }
  const shots: Shot[] = [
    hold(60, ['knee']),
    hold(60, ['knee', 'elbow']),
    hold(60, ['knee', 'elbow', 'lean', 'time']),
    hold(60, ['lines', 'head']),
    run([{ plate: 'knee' }, { trail: { subject: 's1', point: 'wrist.right' } }], { frame: [200, 0, 1000, 720] }),
    {
      pair: [
        { clip: 'c1', event: 'e1' },
        { clip: 'c2', event: 'e2' },
      ],
      before: '1/2',
      after: '3/10',
      speed: '1/8',
      still: '2',
      layout: canvas.height > canvas.width ? 'above' : 'beside',
      marks: ['knee', 'knee2'],
    },
  ]

  it('lie over no joint, line, arc, plate, badge, title, credit or caption zone', () => {
    for (const shot of shots)
      for (const named of [false, true]) {
        const whole = laid(shot, breakdown, named ? { title, credit: 'Film: Riverside Boxing Club' } : {})
        const plan = planShot(whole, context)
        expect(plan.plates.length).toBeGreaterThan(0)
        plan.plates.forEach((plate, i) => {
          const { box } = plate
          const about = `${JSON.stringify('marks' in shot ? shot.marks : [])} ${plate.measure}`
          if (!named) expect(plate.clear, about).toBe(true)
          if (!plate.clear) return
          expect(box.x).toBeGreaterThanOrEqual(0)
          expect(box.x + box.width).toBeLessThanOrEqual(canvas.width)
          expect(box.y).toBeGreaterThanOrEqual(0)
          expect(box.y + box.height).toBeLessThanOrEqual(0.82 * canvas.height)
          const others: Obstacle[] = [
            ...plan.badges.boxes,
            ...plan.title.boxes,
            ...plan.credit.boxes,
            ...plan.plates.slice(0, i).map((p) => p.box),
          ].map((b) => ({ kind: 'box', box: b }))
          for (const other of others) expect(clearance(box, other), about).toBeGreaterThan(0)
          for (const at of [plate.from, (plate.from + plate.to) >> 1, plate.to - 1]) {
            const picture = pictureOfShot(whole, at)
            const inked = drawFrame(picture, context).flatMap((s) =>
              s.kind === 'fill' && [palette.limb, palette.hips, palette.shoulders].includes(s.colour as never) ? s.rings.flat() : [],
            )
            for (const p of inked) expect(clearance(box, { kind: 'disc', at: p, radius: 0 }), about).toBeGreaterThan(0)
            picture.panels.forEach((panel) => {
              for (const joint of Object.values(pose(panel.frame)))
                expect(clearance(box, { kind: 'disc', at: applyAffine(panel.toCanvas, joint), radius: 0 }), about).toBeGreaterThan(0)
            })
          }
        })
      }
  })

  it('and everything else stay on the canvas and come quickly, however long the names are', () => {
    const long = 'Überlang '.repeat(220).trim()
    const solid = 'W'.repeat(1900)
    for (const name of [long, solid]) {
      const hostile = {
        ...breakdown,
        measures: breakdown.measures!.map((m) => ({ ...m, label: name })),
        events: breakdown.events!.map((e) => ({ ...e, name })),
      }
      for (const shot of [hold(60, ['knee', 'time', { word: name, at: [600, 300] }]), run([{ plate: 'knee' }])]) {
        const whole = laid(shot, hostile, { title: { name, line: name, frames: 100 }, credit: name, badges: ['frozen', name] })
        for (const shape of drawFrame(pictureOfShot(whole, 0), contextOf(hostile))) {
          for (const [x, y] of shape.kind === 'fill' ? shape.rings.flat() : [shape.at]) {
            expect(x).toBeGreaterThanOrEqual(-1e-6)
            expect(x).toBeLessThanOrEqual(canvas.width + 1e-6)
            expect(y).toBeGreaterThanOrEqual(-1e-6)
            expect(y).toBeLessThanOrEqual(canvas.height + 1e-6)
          }
        }
      }
    }
  })

  it('explain their error once', () => {
    const said = texts(drawFrame(pictureOfShot(laid(shots[2]!, breakdown), 5), context))
      .join(' ')
      .replaceAll('\u00a0', ' ')
    expect(said.split('our 95 %').length - 1).toBe(1)
    const later = texts(drawFrame(pictureOfShot(laid(shots[2]!, breakdown, { start: 500 }), 5), context))
      .join(' ')
      .replaceAll('\u00a0', ' ')
    expect(later).not.toContain('our 95 %')
  })
})

describe('a whole shot', () => {
  const breakdown = breakdownOf()
  const context = contextOf(breakdown)
  const title = { name: 'Nela Varga', line: 'second bout', frames: 30 }
  const shots: Shot[] = [
    hold(60, ['knee', { ring: [300, 300], radius: 40, on: 'e1' }]),
    run(['knee', { plate: 'elbow', on: 'e1' }, { dim: [300, 100, 500, 500] }], { frameTo: [300, 100, 640, 360] }),
    { run: 'c1', from: 20, to: 50, speed: '1/4', marks: ['knee', { word: 'here', at: { subject: 's1', point: 'wrist.right' } }] },
    { card: 'end', seconds: '30' },
  ]

  it('drawn as spans is what is drawn frame by frame, in the same order from the bottom', () => {
    for (const shot of shots) {
      const whole = laid(shot, breakdown, { title, credit: 'Film: Riverside Boxing Club' })
      const spans = drawShot(whole, context)
      for (let at = 0; at < whole.frames; at++) {
        const standing = spans.filter((s) => s.from <= at && at < s.to).flatMap((s) => s.shapes)
        expect(standing).toEqual(drawFrame(pictureOfShot(whole, at), context))
      }
    }
  })

  it('keeps what stands still in one span', () => {
    const whole = laid(hold(60, ['knee']), breakdown)
    expect(drawShot(whole, context).map((s) => [s.from, s.to])).toEqual([
      [0, 60],
      [0, 60],
      [0, 60],
      [0, 60],
    ])
    const slow = laid({ run: 'c1', from: 20, to: 50, speed: '1/4', marks: ['knee'] }, breakdown)
    const moving = drawShot(slow, context).filter((s) => s.to - s.from < slow.frames)
    expect(moving).toHaveLength(30)
  })

  it('may be cut into stretches', () => {
    const spans = [
      { from: 0, to: 10, shapes: [] },
      { from: 8, to: 20, shapes: [] },
    ]
    expect(cutSpans(spans, 9, 15)).toEqual([
      { from: 0, to: 1, shapes: [] },
      { from: 0, to: 6, shapes: [] },
    ])
    expect(cutSpans(spans, 20, 30)).toEqual([])
  })
})

describe("the film's first value", () => {
  it('is on the first hold or plate whose reading has an error', () => {
    const breakdown = breakdownOf()
    const { readings } = contextOf(breakdown)
    const shots = [run(['knee']), hold(60, ['head']), hold(60, ['knee']), hold(60, ['knee'])].map((shot, i) =>
      laid(shot, breakdown, { start: i * FRAMES }),
    )
    expect(firstValueShot({ shots } as unknown as Programme, readings)).toBe(2 * FRAMES)
    expect(firstValueShot({ shots: shots.slice(0, 2) } as unknown as Programme, readings)).toBeNull()
  })
})
