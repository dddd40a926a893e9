import type { Point } from '../project/fields'
import { palette } from './palette'
import type { Colour, Shape } from './shape'
import { arcPoints, circleRings, discRing, squareRing, strokeRings, type Cap, type Ring } from './stroke'

/// Lines on film: a bright core over one dark casing, so that they hold on any picture. Lengths
/// are in canvas pixels. All casings of a drawing are one shape beneath all its cores.
export interface Ink {
  line(points: readonly Point[], style: LineStyle): void
  arc(centre: Point, radius: number, from: number, to: number, style: LineStyle): void
  circle(centre: Point, radius: number, style: LineStyle): void
  dot(at: Point, radius: number, colour: Colour): void
  square(at: Point, half: number, direction: number, colour: Colour): void
  /// A filled polygon wound like a solid ring, with its casing.
  solid(ring: Ring, colour: Colour): void
  /// One without a casing, upon what is there.
  inlay(ring: Ring, colour: Colour): void
  shapes(): Shape[]
}

export interface LineStyle {
  readonly colour: Colour
  readonly width: number
  readonly cap: Cap
  readonly dash?: readonly [number, number]
  /// Width of the dark core of a hollow line.
  readonly hollow?: number
}

/// `unit` is one pixel of a canvas whose shorter side is 1080.
export function ink(unit: number): Ink {
  const casing = 3 * unit
  const dark: Ring[] = []
  const cores: { rings: readonly Ring[]; colour: Colour }[] = []
  const add = (under: readonly Ring[], core: readonly Ring[], colour: Colour): void => {
    dark.push(...under)
    cores.push({ rings: core, colour })
  }
  const edge = (ring: Ring): Ring[] => [
    ring,
    ...strokeRings([...ring, ring[0] as Point, ring[1] as Point], { width: 2 * casing, cap: 'butt' }),
  ]
  const line: Ink['line'] = (points, style) => {
    const { dash: _, ...whole } = style
    add(
      strokeRings(points, { ...whole, width: style.width + 2 * casing, cap: style.cap === 'butt' ? 'square' : style.cap }),
      strokeRings(points, style),
      style.colour,
    )
    if (style.hollow) cores.push({ rings: strokeRings(points, { width: style.hollow, cap: 'butt' }), colour: palette.casing })
  }
  return {
    line,
    arc: (centre, radius, from, to, style) => line(arcPoints(centre, radius, from, to), style),
    circle: (centre, radius, style) =>
      add(circleRings(centre, radius, style.width + 2 * casing), circleRings(centre, radius, style.width), style.colour),
    dot: (at, radius, colour) => add([discRing(at, radius + casing)], [discRing(at, radius)], colour),
    square: (at, half, direction, colour) => add([squareRing(at, half + casing, direction)], [squareRing(at, half, direction)], colour),
    solid: (ring, colour) => add(edge(ring), [ring], colour),
    inlay: (ring, colour) => add([], [ring], colour),
    shapes: () => [
      ...(dark.length > 0 ? [{ kind: 'fill', rings: dark, colour: palette.casing, opacity: 0.85 } as const] : []),
      ...joined(cores).map(({ rings, colour }) => ({ kind: 'fill', rings, colour, opacity: 1 }) as const),
    ],
  }
}

/// Neighbours of one colour are one shape.
function joined(cores: readonly { rings: readonly Ring[]; colour: Colour }[]): { rings: readonly Ring[]; colour: Colour }[] {
  const out: { rings: readonly Ring[]; colour: Colour }[] = []
  for (const core of cores) {
    const last = out.at(-1)
    if (last && last.colour === core.colour) out[out.length - 1] = { colour: core.colour, rings: [...last.rings, ...core.rings] }
    else if (core.rings.length > 0) out.push(core)
  }
  return out
}

/// The look of a body part's line (Okabe and Ito's colours; shape and width say the same): hips solid with square ends,
/// shoulders dashed with round ends, the limb in question yellow, other limbs thin: rear solid, lead hollow.
export type PartStyle = 'hips' | 'shoulders' | 'limb' | 'rear' | 'lead'

export function lineStyle(part: PartStyle, unit: number): LineStyle {
  if (part === 'hips') return { colour: palette.hips, width: 8 * unit, cap: 'square' }
  if (part === 'shoulders') return { colour: palette.shoulders, width: 8 * unit, cap: 'round', dash: [30 * unit, 13 * unit] }
  if (part === 'limb') return { colour: palette.limb, width: 6 * unit, cap: 'round' }
  if (part === 'rear') return { colour: palette.other, width: 4 * unit, cap: 'round' }
  return { colour: palette.other, width: 7 * unit, cap: 'round', hollow: 3 * unit }
}

/// The dots at a line's ends.
export function endDots(ink: Ink, points: readonly Point[], part: PartStyle, unit: number): void {
  const [a, b] = [points[0] as Point, points.at(-1) as Point]
  for (const at of points) {
    if (part === 'hips') ink.square(at, 11 * unit, Math.atan2(b[1] - a[1], b[0] - a[0]), palette.hips)
    else if (part === 'shoulders') ink.dot(at, 12 * unit, palette.shoulders)
    else if (part === 'limb') {
      ink.dot(at, 10 * unit, palette.limb)
      ink.inlay(discRing(at, 3 * unit), palette.casing)
    } else {
      ink.dot(at, 7 * unit, palette.other)
      if (part === 'lead') ink.inlay(discRing(at, 4 * unit), palette.casing)
    }
  }
}
