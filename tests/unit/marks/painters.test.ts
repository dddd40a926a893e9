import { describe, expect, it } from 'vitest'
import { writeAss } from '../../../app/marks/ass'
import { paintCanvas, type PaintContext } from '../../../app/marks/canvas'
import { drawFrame } from '../../../app/marks/frame-drawing'
import { paintedColour } from '../../../app/marks/painted-colour'
import { palette } from '../../../app/marks/palette'
import type { Colour, Shape } from '../../../app/marks/shape'
import { pictureOfShot } from '../../../app/programme/picture-at'
import { breakdownOf, contextOf, laid, typeface } from './scene'

const script = { width: 1920, height: 1080, frames: 100, typeface: typeface(), matrix: 'bt601' as const }
const square: Shape = {
  kind: 'fill',
  rings: [
    [
      [10, 10],
      [20, 10],
      [20.06, 20.01],
    ],
  ],
  colour: '#56b4e9',
  opacity: 0.5,
}
const events = (ass: string): string[] => ass.split('\n').filter((line) => line.startsWith('Dialogue:'))

/// What a context was asked to fill: colour, alpha, and all points in order.
interface Filled {
  readonly colour: string
  readonly alpha: number
  readonly points: number[]
}

function recorder(): { context: PaintContext; filled: Filled[]; written: string[] } {
  const filled: Filled[] = []
  const written: string[] = []
  let points: number[] = []
  const context: PaintContext = {
    globalAlpha: 1,
    fillStyle: '',
    font: '',
    textAlign: 'left',
    textBaseline: 'alphabetic',
    save: () => undefined,
    restore: () => undefined,
    beginPath: () => void (points = []),
    moveTo: (...p) => void points.push(...p),
    lineTo: (...p) => void points.push(...p),
    bezierCurveTo: (...p) => void points.push(...p),
    closePath: () => undefined,
    fill: (rule) => {
      expect(rule).toBe('nonzero')
      filled.push({ colour: String(context.fillStyle), alpha: context.globalAlpha, points })
    },
    fillText: (text) => void written.push(text),
  }
  return { context, filled, written }
}

describe('an ASS script', () => {
  it("has the canvas's size and one event per shape and span, on the virtual clock of 100 ms a frame", () => {
    const ass = writeAss(
      [
        { from: 0, to: 3, shapes: [square] },
        { from: 7, to: 8, shapes: [square, square] },
      ],
      script,
    )
    expect(ass).toContain('PlayResX: 1920\nPlayResY: 1080\n')
    expect(events(ass).map((e) => e.split(',').slice(1, 3).join(' '))).toEqual([
      '0:00:00.00 0:00:00.25',
      '0:00:00.65 0:00:00.75',
      '0:00:00.65 0:00:00.75',
    ])
  })

  it('counts on past hours, and cuts spans to the film', () => {
    const long = writeAss(
      [
        { from: 215_999, to: 400_000, shapes: [square] },
        { from: 300_000, to: 300_001, shapes: [square] },
      ],
      { ...script, frames: 216_001 },
    )
    expect(events(long).map((e) => e.split(',').slice(1, 3).join(' '))).toEqual(['5:59:59.85 6:00:00.05'])
    expect(
      events(
        writeAss(
          [
            { from: -5, to: 0, shapes: [square] },
            { from: -5, to: 1, shapes: [square] },
          ],
          script,
        ),
      ),
    ).toHaveLength(1)
  })

  it('writes colours blue first, opacity as transparency, points to a thirty-second of a pixel', () => {
    expect(events(writeAss([{ from: 0, to: 1, shapes: [square] }], script))[0]).toContain(
      '{\\an7\\pos(0,0)\\bord0\\shad0\\1c&HE9B456&\\1a&H80&\\p5}m 160 160 l 320 160 321 320{\\p0}',
    )
  })

  it('leaves out what cannot be seen', () => {
    const nothing: Shape[] = [
      { ...square, opacity: 0 },
      {
        ...square,
        rings: [
          [
            [0, 0],
            [1, 1],
          ],
        ],
      },
      { kind: 'text', text: ' \n ', at: [0, 0], align: 'left', size: 40, weight: 400, colour: '#ffffff', opacity: 1 },
    ]
    expect(events(writeAss([{ from: 0, to: 1, shapes: nothing }], script))).toEqual([])
  })

  it('has no line that a text could have added', () => {
    const hostile: Shape = {
      kind: 'text',
      text: 'Ж\nDialogue: 0,0:00:00.00,9:00:00.00,Mark,,0,0,0,,{\\p1}\r\n[Events]',
      at: [0, 50],
      align: 'left',
      size: 40,
      weight: 400,
      colour: '#ffffff',
      opacity: 1,
    }
    expect(events(writeAss([{ from: 0, to: 1, shapes: [hostile] }], script))).toHaveLength(1)
    expect(
      writeAss([{ from: 0, to: 1, shapes: [hostile] }], script)
        .split('\n')
        .filter((l) => l.startsWith('[')),
    ).toEqual(['[Script Info]', '[V4+ Styles]', '[Events]'])
  })
})

describe('the two painters', () => {
  it('fill the same outlines in the same order, colour and opacity, to a thirty-second of a pixel', () => {
    const breakdown = breakdownOf()
    const context = contextOf(breakdown, { explainsErrorAt: 0 })
    const shot = laid(
      {
        hold: 'c1',
        at: 60,
        seconds: '1',
        marks: ['knee', 'elbow', 'lines', { word: "Šárka's heel", at: [700, 650] }, { dim: [300, 50, 600, 600] }],
      },
      breakdown,
      { credit: 'Film: Riverside Boxing Club' },
    )
    const shapes = drawFrame(pictureOfShot(shot, 0), context)
    const { context: canvas, filled } = recorder()
    paintCanvas(canvas, shapes, typeface())
    const lines = events(writeAss([{ from: 0, to: 1, shapes }], script))
    expect(lines).toHaveLength(filled.length)
    lines.forEach((line, i) => {
      const [, tags = '', drawing = ''] = /\{([^}]*)\}([^{]*)\{\\p0\}$/.exec(line) ?? []
      const [, b, g, r] = /\\1c&H(..)(..)(..)&/.exec(tags) ?? []
      const alpha = parseInt(/\\1a&H(..)&/.exec(tags)?.[1] ?? '', 16)
      expect(`#${r}${g}${b}`.toLowerCase()).toBe(filled[i]!.colour)
      expect(1 - alpha / 255).toBeCloseTo(filled[i]!.alpha, 2)
      const numbers = drawing
        .split(' ')
        .filter((t) => /^-?\d+$/.test(t))
        .map((t) => Number(t) / 16)
      expect(numbers).toHaveLength(filled[i]!.points.length)
      expect(Math.max(...numbers.map((n, k) => Math.abs(n - filled[i]!.points[k]!)))).toBeLessThanOrEqual(1 / 32 + 1e-9)
    })
  })

  it('leave a line with characters that the face lacks to other faces', () => {
    const text: Shape = {
      kind: 'text',
      text: 'Олег',
      at: [100, 100],
      align: 'middle',
      size: 50,
      weight: 700,
      colour: '#ffffff',
      opacity: 1,
    }
    const { context, filled, written } = recorder()
    paintCanvas(context, [text], typeface())
    expect([filled.length, written]).toEqual([0, ['Олег']])
    expect(context.font).toBe('700 50px "Atkinson Hyperlegible", sans-serif')
    const [line] = events(writeAss([{ from: 0, to: 1, shapes: [text] }], script))
    expect(line).toMatch(/\\an1\\pos\([\d.]+,114\.500\).*\\fs62\.000\\b1\\q2\}Олег$/)
  })
})

describe('the colour asked of the painter', () => {
  /// Y'CbCr of R'G'B' (0–255), full scale: ITU-R BT.601-7 §2.5.1 and BT.709-6 §3.2, luma weights [M].
  const coded = ([r, g, b]: readonly number[], kr: number, kb: number): number[] => {
    const y = kr * r! + (1 - kr - kb) * g! + kb * b!
    return [y, (b! - y) / (2 - 2 * kb), (r! - y) / (2 - 2 * kr)]
  }
  const channels = (colour: Colour): number[] => [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16))

  it('is coded by the painter as the film codes the colour that is meant, within a code', () => {
    for (const colour of Object.values(palette)) {
      const [meant, painted] = [coded(channels(colour), 0.2126, 0.0722), coded(channels(paintedColour(colour, 'bt709')), 0.299, 0.114)]
      meant.forEach((code, i) => expect(Math.abs(code - painted[i]!), colour).toBeLessThan(1))
      expect(paintedColour(colour, 'bt601')).toBe(colour)
    }
    expect(paintedColour('#808080', 'bt709')).toBe('#808080')
  })
})
