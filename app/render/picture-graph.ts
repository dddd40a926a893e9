import { applyAffine, compose, invert, rectangleOnto, type Affine } from '../programme/affine'
import type { LaidShot, Panel } from '../programme/programme'
import type { Point, Rectangle } from '../project/fields'
import type { Rational } from '../time/rational'
import type { Seek } from '../project/scanned-film'
import { rateText } from './encoding'
import { firstShown, timingExpression, type FirstShown } from './timing-expression'

/// The filter graph of one segment: a stretch of a laid shot, as text for ffmpeg. Written for the
/// oldest build we carry (2018): nothing newer is used.

/// What the graph must know of a film file.
export interface SourceFacts {
  /// Size of the upright picture in its own pixels, before non-square pixels are put right.
  readonly decoded: { readonly width: number; readonly height: number }
  /// The matrix its colours are coded with, as ffmpeg's scaler names it.
  readonly matrix: 'bt709' | 'bt601' | 'smpte240m' | 'bt2020' | 'fcc'
  readonly fullRange: boolean
  /// Filters that the decoded picture needs: deinterlacing, tone mapping.
  readonly prepare: readonly string[]
  /// Index of the picture's stream in the file.
  readonly stream: number
  /// How to decode from a footage frame on.
  seek(frame: number): Seek
}

export interface GraphInput {
  readonly footage: string
  /// First footage frame that must come out of the decoder, and how many are used.
  readonly from: number
  readonly count: number
  /// For `-ss`, so that decoding begins there.
  readonly seconds: string
}

export interface SegmentGraph {
  readonly inputs: readonly GraphInput[]
  /// Ends in the label [out].
  readonly text: string
}

const CANVAS_COLOUR = '0x101214'
const CARD_COLOUR = '0x14181b'

/// Builds the graph of output frames [from, to) of `shot`. `assFile` is the marks' file name within the
/// working folder (null: nothing is drawn), with the type faces in `fontsFolder`.
export function segmentGraph(
  shot: LaidShot,
  from: number,
  to: number,
  canvas: { width: number; height: number; rate: Rational },
  source: (footage: string) => SourceFacts,
  marks: { assFile: string; fontsFolder: string } | null,
): SegmentGraph {
  const frames = to - from
  const rate = rateText(canvas.rate)
  const inputs: GraphInput[] = []
  const chains: string[] = []
  let top: string
  if (shot.panels.length === 0) {
    chains.push(
      `color=c=${CARD_COLOUR}:s=${canvas.width}x${canvas.height}:r=${rate},format=yuv420p,trim=end_frame=${frames},${onClock(rate)}[p0]`,
    )
    top = 'p0'
  } else {
    shot.panels.forEach((panel, i) => {
      const shown = firstShown(panel.frames.subarray(from, to))
      const facts = source(panel.footage)
      inputs.push({ footage: panel.footage, from: shown.from, count: shown.count, seconds: facts.seek(shown.from).seconds.toFixed(6) })
      chains.push(`[${i}:${facts.stream}]${panelChain(shot, panel, i, { from, frames, rate }, shown, facts)}[p${i}]`)
    })
    top = 'p0'
    const first = shot.panels[0] as Panel
    if (!fills(first.place, canvas)) {
      chains.push(`[p0]pad=${canvas.width}:${canvas.height}:${first.place[0]}:${first.place[1]}:color=${CANVAS_COLOUR}[c0]`)
      top = 'c0'
    }
    for (let i = 1; i < shot.panels.length; i++) {
      const panel = shot.panels[i] as Panel
      const edge = panel.over ? OVER_EDGE : 0
      chains.push(`[${top}][p${i}]overlay=x=${panel.place[0] - edge}:y=${panel.place[1] - edge}:format=yuv420:eof_action=repeat[c${i}]`)
      top = `c${i}`
    }
  }
  const finish: string[] = []
  // Builds from 7.1 on paint by the picture's own colour tag, older ones always by BT.601: the marks are written for
  // the latter, so the tag is set to it while they are painted.
  if (marks)
    finish.push(
      `settb=1/1000`,
      `setpts=N*100`,
      'setparams=colorspace=smpte170m',
      `ass=${marks.assFile}:fontsdir=${marks.fontsFolder}`,
      'setparams=colorspace=bt709',
    )
  finish.push('format=yuv420p', 'setsar=1', onClock(rate))
  chains.push(`[${top}]${finish.join(',')}[out]`)
  return { inputs, text: chains.join(';') }
}

const onClock = (rate: string): string => `settb=1/(${rate}),setpts=N`

const fills = (place: Rectangle, canvas: { width: number; height: number }): boolean =>
  place[2] === canvas.width && place[3] === canvas.height

/// Clear border round a picture that is laid over another, so that what lies outside it stays clear.
const OVER_EDGE = 2

interface Stretch {
  readonly from: number
  readonly frames: number
  readonly rate: string
}

function panelChain(
  shot: LaidShot,
  panel: Panel,
  index: number,
  { from, frames, rate }: Stretch,
  { from: footageFrom, first, count }: FirstShown,
  facts: SourceFacts,
): string {
  const enter = facts.seek(footageFrom).filter
  const steps = [...(enter ? [enter] : []), `trim=end_frame=${count}`, ...facts.prepare]
  const moving = panel.shown[0].some((v, i) => v !== panel.shown[1][i])
  const base = panel.over ? (shot.panels[0] as Panel) : panel
  const [, , width, height] = base.place
  const square = panel.source
  if (panel.over || moving) {
    steps.push(scaleTo(width, height, facts))
  } else {
    const unsquare = { x: facts.decoded.width / square.width, y: facts.decoded.height / square.height }
    const [x, y, w, h] = panel.shown[0]
    const whole = x === 0 && y === 0 && w === square.width && h === square.height
    if (!whole) {
      if (unsquare.x !== 1 || unsquare.y !== 1) steps.push(scaleTo(square.width, square.height, facts))
      steps.push(`crop=${w}:${h}:${x}:${y}`)
    }
    steps.push(scaleTo(width, height, facts))
  }
  if (panel.mirrored) steps.push('hflip')
  steps.push('setsar=1')
  if (count === 1) {
    // One more than needed; `fps` tells the encoder the rate, without which it counts in the source's.
    steps.push(`loop=loop=${frames}:size=1:start=0`, onClock(rate), `fps=${rate}`)
  } else {
    // The last frame once more, at the stretch's end, makes `fps` hold it until then: at the end of its
    // input `fps` is not to be relied on, and `loop` counts its start differently from build to build.
    steps.push(`split[a${index}][b${index}];[b${index}]trim=start_frame=${count - 1}[l${index}];[a${index}][l${index}]concat`)
    steps.push(`settb=1/(${rate})`, `setpts='${timingExpression([...first, frames])}'`, `fps=${rate}`)
  }
  steps.push(`trim=end_frame=${frames}`, onClock(rate))
  if (panel.over) {
    const edge = OVER_EDGE
    steps.push(
      'format=yuva420p',
      `pad=${width + 2 * edge}:${height + 2 * edge}:${edge}:${edge}:color=black@0`,
      warp(panel, base, shot.frames, from, moving, edge),
      `lutyuv=a=val*${panel.opacity}`,
    )
  } else if (moving) {
    steps.push(warp(panel, base, shot.frames, from, moving, 0))
  }
  return steps.join(',')
}

const scaleTo = (width: number, height: number, facts: SourceFacts): string =>
  `scale=${width}:${height}:flags=bicubic+accurate_rnd:in_color_matrix=${facts.matrix}:in_range=${facts.fullRange ? 'pc' : 'tv'}:out_color_matrix=bt709:out_range=tv,format=yuv420p`

/// The perspective filter takes, for each corner of its output, where that corner lies in its input.
/// It counts pixels from their centres where we count from the picture's corner: hence the halves.
/// The map is linear in how far the move has come, so two ends suffice.
function warp(panel: Panel, base: Panel, shotFrames: number, from: number, moving: boolean, edge: number): string {
  const [, , width, height] = base.place
  const ends = [panel.shown[0], panel.shown[1]].map((_, i) => cornersInInput(panel, base, base.shown[i] as Rectangle, width, height, edge))
  const names = ['x0', 'y0', 'x1', 'y1', 'x2', 'y2', 'x3', 'y3']
  const progress = moving ? `((on-1+${from})/${Math.max(1, shotFrames - 1)})` : ''
  const values = names.map((name, i) => {
    const corner = i >> 1
    const axis = (i & 1) as 0 | 1
    const start = ends[0]![corner]![axis]
    const end = ends[1]![corner]![axis]
    if (!moving || start === end) return `${name}=${start.toFixed(4)}`
    return `${name}='${start.toFixed(4)}+${(end - start).toFixed(4)}*${progress}*${progress}*(3-2*${progress})'`
  })
  return `perspective=${values.join(':')}:interpolation=cubic:sense=source:eval=${moving ? 'frame' : 'init'}`
}

/// Where the corners of the place lie in the panel's own picture as it comes into the filter: scaled to
/// the place's size, flipped if mirrored, with a border of `edge`.
function cornersInInput(panel: Panel, base: Panel, shown: Rectangle, width: number, height: number, edge: number): Point[] {
  const asShown: Rectangle = base.mirrored ? [base.source.width - shown[0] - shown[2], shown[1], shown[2], shown[3]] : shown
  const onto = rectangleOnto(asShown, [0, 0, width, height])
  const fromOwn = panel.over ? compose(onto, panel.over) : onto
  const ownToInput: Affine = rectangleOnto([0, 0, panel.source.width, panel.source.height], [0, 0, width, height])
  const back = compose(ownToInput, invert(fromOwn))
  const corners: Point[] = [
    [0, 0],
    [width + 2 * edge, 0],
    [0, height + 2 * edge],
    [width + 2 * edge, height + 2 * edge],
  ]
  return corners.map(([x, y]) => {
    const [u, v] = applyAffine(back, [x - edge + 0.5, y - edge + 0.5])
    return [u + edge - 0.5, v + edge - 0.5]
  })
}
