import { beforeAll, describe, expect, it } from 'vitest'
import { clipShapes } from '../../app/marks/clip-shape'
import { drawFrame, drawShot } from '../../app/marks/frame-drawing'
import { letteringOf } from '../../app/marks/lettering'
import { palette } from '../../app/marks/palette'
import { setPlate } from '../../app/marks/plate'
import { planShot } from '../../app/marks/shot-plan'
import type { Colour, Shape } from '../../app/marks/shape'
import type { Span } from '../../app/marks/span'
import { boxRing, discRing, strokeRings, type Ring } from '../../app/marks/stroke'
import { applyAffine } from '../../app/programme/affine'
import { pictureOfShot } from '../../app/programme/picture-at'
import type { FfmpegTool } from '../../main/media/find-ffmpeg'
import { breakdownOf, contextOf, laid, pose, typeface } from '../unit/marks/scene'
import { builds, inkBox, inkCentre, renderSpans } from './marks-frames'

const white = (rings: readonly Ring[]): Shape => ({ kind: 'fill', rings, colour: '#ffffff', opacity: 1 })
const words = (text: string, x: number, y: number, size: number, weight: 400 | 700 = 400): Shape => ({
  kind: 'text',
  text,
  at: [x, y],
  align: 'left',
  size,
  weight,
  colour: '#ffffff',
  opacity: 1,
})
const still = (...shapes: Shape[]): Span[] => [{ from: 0, to: 1, shapes }]

let tools: FfmpegTool[] = []
beforeAll(async () => {
  tools = await builds()
})

/// Runs a check on every build at hand, naming the build in what fails.
const onEach = async (check: (tool: FfmpegTool) => Promise<void>): Promise<void> => {
  expect(tools.length).toBeGreaterThan(0)
  for (const tool of tools) await check(tool)
}

describe('marks in time', () => {
  it('stand on the frames that they are asked for: 300 frames at 59.94, 0 wrong', async () => {
    const [width, height, frames, cell] = [320, 60, 300, 20]
    const block = (column: number, row: number): Shape => white([boxRing(column * cell + 2, row * cell + 2, cell - 4, cell - 4)])
    const spans: Span[] = Array.from({ length: frames }, (_, n) => ({
      from: n,
      to: n + 1,
      shapes: Array.from({ length: 9 }, (_, bit) => bit)
        .filter((bit) => n & (1 << bit))
        .map((bit) => block(bit, 0)),
    }))
    const stretches = [
      [0, 1],
      [7, 8],
      [0, 300],
      [100, 200],
      [299, 300],
      [150, 400],
    ] as const
    stretches.forEach(([from, to], i) => spans.push({ from, to, shapes: [block(i, 1)] }))
    await onEach(async (tool) => {
      const film = await renderSpans(tool, spans, { width, height, frames })
      const lit = (frame: Buffer, column: number, row: number): boolean =>
        (frame[(row * cell + cell / 2) * width + column * cell + cell / 2] as number) > 127
      let wrong = 0
      film.forEach((frame, n) => {
        const read = Array.from({ length: 9 }, (_, bit) => (lit(frame, bit, 0) ? 1 << bit : 0)).reduce((a, b) => a + b, 0)
        if (read !== n) wrong++
        stretches.forEach(([from, to], i) => {
          if (lit(frame, i, 1) !== (n >= from && n < to)) wrong++
        })
      })
      expect(wrong, tool.version).toBe(0)
    })
  })
})

describe('shapes on the picture', () => {
  it('lie where they are asked for, to a tenth of a pixel, at any place on the canvas', async () => {
    const [width, height] = [1920, 1080]
    const places = [
      [31.3, 40.7],
      [960.06, 540.94],
      [1897.5, 1060.25],
      [1500.49, 33.51],
    ] as const
    await onEach(async (tool) => {
      const spans = places.map(([x, y], i): Span => ({ from: i, to: i + 1, shapes: [white([discRing([x, y], 9.4)])] }))
      const film = await renderSpans(tool, spans, { width, height, frames: places.length })
      film.forEach((frame, i) => {
        const centre = inkCentre(frame, width)
        const [x, y] = places[i] as readonly [number, number]
        expect(Math.hypot(centre.x - x, centre.y - y), tool.version).toBeLessThan(0.1)
        expect(centre.area / (Math.PI * 9.4 ** 2)).toBeCloseTo(1, 1.7)
      })
    })
  })

  it('end where a line ends, within a quarter of a pixel', async () => {
    const film = { width: 640, height: 200, frames: 1 }
    await onEach(async (tool) => {
      const [frame] = (await renderSpans(
        tool,
        still(
          white(
            strokeRings(
              [
                [100.4, 100],
                [500.7, 100],
              ],
              { width: 12.5, cap: 'butt' },
            ),
          ),
        ),
        film,
      )) as [Buffer]
      const box = inkBox(frame, film.width)
      expect(box?.left).toBeCloseTo(100.4, 0.6)
      expect(box?.right).toBeCloseTo(500.7, 0.6)
      expect(box?.top).toBeCloseTo(93.75, 0.6)
      expect(box?.bottom).toBeCloseTo(106.25, 0.6)
    })
  })

  it('leave holes open and stay inside the box that they are clipped to', async () => {
    const film = { width: 400, height: 300, frames: 2 }
    const hole = white([boxRing(50, 50, 300, 200), [...boxRing(150, 100, 100, 100)].reverse()])
    const cut = clipShapes(
      [
        white(
          strokeRings(
            [
              [-500, 20],
              [200, 150],
              [900, 280],
            ],
            { width: 20, cap: 'round' },
          ),
        ),
      ],
      { x: 100, y: 40, width: 180, height: 200 },
    )
    await onEach(async (tool) => {
      const [first, second] = (await renderSpans(
        tool,
        [
          { from: 0, to: 1, shapes: [hole] },
          { from: 1, to: 2, shapes: cut },
        ],
        film,
      )) as [Buffer, Buffer]
      const at = (frame: Buffer, x: number, y: number): number => frame[y * film.width + x] as number
      expect([at(first, 100, 150), at(first, 200, 150), at(first, 20, 20)]).toEqual([255, 0, 0])
      const box = inkBox(second, film.width)
      expect(box?.left).toBeGreaterThanOrEqual(100)
      expect(box?.right).toBeLessThanOrEqual(280)
      expect(box?.top).toBeGreaterThanOrEqual(40)
      expect((box?.right ?? 0) - (box?.left ?? 0)).toBeGreaterThan(179.5)
    })
  })

  it('have their colour in a film coded by BT.709, within two codes (one for the painter, one for rounding)', async () => {
    const colours: Colour[] = [palette.hips, palette.shoulders, palette.limb, palette.plate, palette.text, palette.amber]
    const spans = colours.map((colour, i): Span => ({
      from: i,
      to: i + 1,
      shapes: [{ kind: 'fill', rings: [boxRing(0, 0, 64, 64)], colour, opacity: 1 }],
    }))
    await onEach(async (tool) => {
      const film = await renderSpans(tool, spans, { width: 64, height: 64, frames: colours.length, format: 'yuv444p', matrix: 'bt709' })
      film.forEach((frame, i) => {
        const [r, g, b] = [1, 3, 5].map((at) => parseInt((colours[i] as string).slice(at, at + 2), 16) / 255) as [number, number, number]
        const y = 0.2126 * r + 0.7152 * g + 0.0722 * b
        const wanted = [16 + 219 * y, 128 + (224 * (b - y)) / 1.8556, 128 + (224 * (r - y)) / 1.5748]
        wanted.forEach((code, plane) =>
          expect(
            Math.abs((frame[plane * 4096 + 2000] as number) - code),
            `${colours[i]} plane ${plane}, ${tool.version}`,
          ).toBeLessThanOrEqual(2),
        )
      })
    })
  })
})

describe('text on the picture', () => {
  const film = { width: 1400, height: 160, frames: 1 }

  /// The ink of a line by the face's own outlines, control points left out: glyphs bulge no further than their extremes, which
  /// TrueType faces put on the curve.
  const expectedInk = (text: string, size: number, weight: 400 | 700) => {
    const points = (typeface().outline(text, size, weight) ?? []).map((s) => s.at)
    return {
      left: Math.min(...points.map((p) => p[0])),
      right: Math.max(...points.map((p) => p[0])),
      top: Math.min(...points.map((p) => p[1])),
      bottom: Math.max(...points.map((p) => p[1])),
    }
  }

  it('is as wide and as high as it was measured, within half a pixel, kerned pairs and accents too', async () => {
    const lines = [
      ['142° ± 12°', 58.3, 700],
      ['AVATAR To Ty We. LT', 43.2, 400],
      ['Šárka Łukasiewicz–Ørsted, ½ × ¼', 43.2, 400],
      ['apparent rear knee angle, image plane', 43.2, 400],
      ['roughly 95–150° (≈)', 57, 700],
    ] as const
    await onEach(async (tool) => {
      const spans = lines.map(([text, size, weight], i): Span => ({ from: i, to: i + 1, shapes: [words(text, 40.5, 100, size, weight)] }))
      const frames = await renderSpans(tool, spans, { ...film, frames: lines.length })
      frames.forEach((frame, i) => {
        const [text, size, weight] = lines[i] as (typeof lines)[number]
        const [ink, box] = [expectedInk(text, size, weight), inkBox(frame, film.width)]
        expect(Math.abs((box?.left ?? 0) - 40.5 - ink.left), text).toBeLessThan(0.5)
        expect(Math.abs((box?.right ?? 0) - 40.5 - ink.right), text).toBeLessThan(0.5)
        expect(Math.abs((box?.top ?? 0) - 100 - ink.top), text).toBeLessThan(0.5)
        expect(Math.abs((box?.bottom ?? 0) - 100 - ink.bottom), text).toBeLessThan(0.5)
      })
    })
  })

  it('is drawn as text whatever is in it: no override, no break, no drawing, no leading space lost', async () => {
    const hostile = [
      '{\\p1}m 0 0 l 999 0 999 999 0 999{\\p0}',
      '{\\an9\\pos(700,10)}moved',
      '{\\alpha&HFF&}gone',
      'two\\Nlines\\nor three\\h',
      'a{b}c\\{d\\}e',
      '\\',
      '%s %n ${x} #{y}',
      'Dialogue: 0,0:00:00.00,9:59:59.99',
      '; [Events] !:',
    ]
    await onEach(async (tool) => {
      const frames = await renderSpans(
        tool,
        hostile.map((text, i) => ({ from: i, to: i + 1, shapes: [words(text, 20, 100, 40)] })),
        { ...film, frames: hostile.length },
      )
      frames.forEach((frame, i) => {
        const text = hostile[i] as string
        const [ink, box] = [expectedInk(text, 40, 400), inkBox(frame, film.width)]
        expect(Math.abs((box?.left ?? 0) - 20 - ink.left), text).toBeLessThan(0.5)
        expect(Math.abs((box?.right ?? 0) - 20 - ink.right), text).toBeLessThan(0.5)
        expect(Math.abs((box?.top ?? 0) - 100 - ink.top), text).toBeLessThan(0.5)
        expect(Math.abs((box?.bottom ?? 0) - 100 - ink.bottom), text).toBeLessThan(0.5)
      })
    })
  })

  it('with characters that the face lacks is one line in its colour at its place, and no override either', async () => {
    const hostile = [
      'Ж{\\fs400\\p1}m 0 0 l 99 0{\\p0}',
      'Ж\\N\\N\\NЖ',
      'Ж{\\an9\\pos(900,20)}x',
      'Ж{\\1c&H0000FF&\\bord9}x',
      '中文{\\alpha&HFF&\\fscx900}',
      'Ж \u202e{\\q2}gnirts',
    ]
    await onEach(async (tool) => {
      const frames = await renderSpans(
        tool,
        hostile.map((text, i) => ({ from: i, to: i + 1, shapes: [words(text, 20, 100, 40)] })),
        { ...film, frames: hostile.length, format: 'rgb24' },
      )
      frames.forEach((frame, i) => {
        const text = hostile[i] as string
        const grey = Buffer.from(Array.from({ length: frame.length / 3 }, (_, p) => frame[3 * p] as number))
        const box = inkBox(grey, film.width)
        expect(box, text).not.toBeNull()
        expect(box?.left, text).toBeGreaterThan(19)
        expect(box?.left, text).toBeLessThan(30)
        expect(box?.right, text).toBeLessThan(20 + 1.25 * typeface().advance(text, 40, 400))
        expect(box?.top, text).toBeGreaterThan(100 - 1.15 * 40)
        expect(box?.bottom, text).toBeLessThan(100 + 0.5 * 40)
        for (let p = 0; p < frame.length; p += 3)
          if (frame[p] !== frame[p + 1] || frame[p] !== frame[p + 2]) throw new Error(`${text}: a colour of its own`)
      })
    })
  })
})

describe('a plate', () => {
  it('holds its ink with even room on every side', async () => {
    const [width, height] = [1920, 1080]
    const lettering = letteringOf(width, height)
    const content = {
      value: '142°',
      error: '± 12°',
      what: 'mean trunk lean in the film',
      instant: '',
      verdict: 'good' as const,
      reason: '',
      note: '',
    }
    const set = setPlate(content, typeface(), lettering, 900)
    await onEach(async (tool) => {
      const [frame] = (await renderSpans(tool, still(...set.draw([300, 400])), { width, height, frames: 1 })) as [Buffer]
      const plate = inkBox(frame, width, 24)
      const ink = inkBox(frame, width, 200, 40)
      expect(plate).not.toBeNull()
      const rooms = [ink!.left - 300, 300 + set.width - ink!.right, ink!.top - 400, 400 + set.height - ink!.bottom]
      expect(Math.abs(plate!.left - 300) + Math.abs(plate!.right - 300 - set.width)).toBeLessThan(1)
      for (const room of rooms)
        expect(Math.abs(room - lettering.padding), `${rooms.map((r) => r.toFixed(1)).join(' ')} of ${lettering.padding}`).toBeLessThan(4)
    })
  })
})

describe('a measure on film', () => {
  it('has its dots on the landmarks of exactly the frame shown, within half a pixel, while the picture zooms', async () => {
    const breakdown = breakdownOf()
    const context = contextOf(breakdown)
    const shot = laid(
      { run: 'c1', from: 20, to: 100, speed: '1', frame: [0, 0, 1280, 720], frameTo: [400, 200, 640, 360], marks: ['knee'] },
      breakdown,
    )
    const frames = [0, 17, 40, 79]
    const spans = frames.map((at, i): Span => ({
      from: i,
      to: i + 1,
      shapes: drawFrame(pictureOfShot(shot, at), { ...context, explainsErrorAt: null }),
    }))
    await onEach(async (tool) => {
      const film = await renderSpans(tool, spans, { width: 1920, height: 1080, frames: frames.length, colour: '0x808080' })
      film.forEach((frame, i) => {
        const picture = pictureOfShot(shot, frames[i] as number)
        const panel = picture.panels[0]!
        for (const name of ['hip.right', 'knee.right', 'ankle.right']) {
          const [x, y] = applyAffine(panel.toCanvas, pose(panel.frame)[name]!)
          if (x < 20 || y < 20 || x > 1900 || y > 1060) continue
          let [sx, sy, mass] = [0, 0, 0]
          for (let py = Math.floor(y - 6); py <= y + 6; py++)
            for (let px = Math.floor(x - 6); px <= x + 6; px++) {
              const dark = Math.max(0, 150 - (frame[py * 1920 + px] as number))
              sx += dark * (px + 0.5)
              sy += dark * (py + 0.5)
              mass += dark
            }
          expect(mass).toBeGreaterThan(500)
          expect(Math.hypot(sx / mass - x, sy / mass - y), `${name} on frame ${panel.frame}`).toBeLessThan(0.5)
        }
      })
    })
  })

  it('leaves nothing outside its panel', async () => {
    const breakdown = breakdownOf()
    const context = contextOf(breakdown)
    const shot = laid(
      {
        pair: [
          { clip: 'c1', event: 'e1', frame: [400, 200, 320, 360] },
          { clip: 'c2', event: 'e2' },
        ],
        before: '1/4',
        after: '1/4',
        speed: '1/4',
        layout: 'beside',
        still: '2',
        marks: ['knee'],
      },
      breakdown,
      { badges: [] },
    )
    const plan = planShot(shot, context)
    const at = plan.plates[0]!.from
    const lines = drawShot(shot, { ...context, readings: new Map() }).filter((span) => span.from <= at && at < span.to)
    await onEach(async (tool) => {
      const [frame] = (await renderSpans(
        tool,
        lines.map((s) => ({ ...s, from: 0, to: 1 })),
        { width: 1920, height: 1080, frames: 1, colour: '0x808080' },
      )) as [Buffer]
      const place = shot.panels[0]!.place
      let outside = 0
      frame.forEach((v, i) => {
        const [x, y] = [i % 1920, Math.floor(i / 1920)]
        if (Math.abs(v - 128) > 2 && (x < place[0] || x >= place[0] + place[2] || y < place[1] || y >= place[1] + place[3])) outside++
      })
      expect(outside).toBe(0)
    })
  })
})
