import { z } from 'zod'
import { parseRational, rational, type Rational } from '../time/rational'

/// Field types that the records share. Numbers are finite; texts are bounded; a record never
/// carries a key that it does not know.

export const ID_LENGTH = 80
export const TEXT_LENGTH = 100_000

/// Names a record within its table: a letter or digit first, then letters, digits, `.`, `-`, `_`, `:`.
export const Id = z
  .string()
  .max(ID_LENGTH)
  .regex(/^[\p{L}\p{N}][\p{L}\p{N}._:-]*$/u, 'an id is letters, digits, . - _ :, and begins with a letter or digit')
  .meta({ id: 'Id', description: 'Names a record within its table, or refers to one.' })
/// One line of text for people: no line breaks or other control characters.
export const Line = z
  .string()
  .max(2000)
  .regex(/^[^\p{Cc}\u2028\u2029]*$/u, 'one line of text without control characters')
export const Prose = z.string().max(TEXT_LENGTH)
/// A footage frame index.
export const Frame = z.int().min(0).max(100_000_000).meta({ id: 'Frame', description: 'A footage frame index.' })
export const Real = z.number().min(-1e9).max(1e9)
export const NotNegative = z.number().min(0).max(1e9)

/// An exact fraction as the person wrote it ("60/1", "1/4", "2", "0.5"). The text is kept, so a
/// document comes back as it was; read it with `exact`.
export const Fraction = z
  .string()
  .max(32)
  .regex(/^-?\d{1,15}(\.\d{1,12}|\/\d{1,15})?$/, 'a fraction such as "1/4", "2" or "0.5"')
  .refine((t) => parseRational(t) !== null, 'a fraction such as "1/4", "2" or "0.5"')
export const PositiveFraction = Fraction.refine((t) => {
  const r = parseRational(t)
  return r !== null && r.n > 0 && r.n / r.d <= 10_000 && r.n / r.d >= 1e-4
}, 'a fraction above zero, between 1/10000 and 10000')
export const NotNegativeFraction = Fraction.refine((t) => {
  const r = parseRational(t)
  return r !== null && r.n >= 0 && r.n / r.d <= 100_000
}, 'a fraction of zero or more, at most 100000')

/// The value of a fraction that a record already vouched for.
export function exact(fraction: string): Rational {
  const value = parseRational(fraction)
  if (!value) throw new RangeError(`not a fraction: ${fraction}`)
  return rational(value.n, value.d)
}

/// [x, y] in pixels of the upright, square-pixel, unmirrored picture: (0, 0) is its top-left
/// corner, pixel centres lie at + 0.5.
export const Point = z.tuple([z.number().min(-100_000).max(100_000), z.number().min(-100_000).max(100_000)]).meta({
  id: 'Point',
  description:
    '[x, y] in pixels of the upright, square-pixel, unmirrored picture; (0, 0) is its top-left corner, pixel centres lie at + 0.5.',
})
export type Point = readonly [number, number]
/// [x, y, width, height] in the same pixels.
export const Rectangle = z
  .tuple([Real, Real, z.number().min(1).max(100_000), z.number().min(1).max(100_000)])
  .meta({ id: 'Rectangle', description: '[x, y, width, height] in the pixels of Point.' })
export type Rectangle = readonly [number, number, number, number]
/// A body point ("knee.left"), a named free point ("ring.corner.1"), of a subject in a clip.
export const LandmarkName = z
  .string()
  .max(80)
  .regex(/^[a-z][a-z0-9]*([.-][a-z0-9]+)*$/, 'a point is named like knee.left')
  .meta({ id: 'LandmarkName', description: 'A body point such as knee.left, or a free point such as ring.corner.1.' })
/// An angle in degrees with its standard uncertainty (1 σ).
export const AngleWithU = z
  .strictObject({ deg: z.number().min(-360).max(360), u: z.number().min(0).max(180) })
  .meta({ id: 'AngleWithU', description: 'An angle in degrees with its standard uncertainty (1 σ).' })
export type AngleWithU = z.infer<typeof AngleWithU>
