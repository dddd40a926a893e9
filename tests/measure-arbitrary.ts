import fc from 'fast-check'
import type { z } from 'zod'
import { Measure } from '../app/project/question'

/// Random measures of every kind that the schema knows, made from the schema itself, so that a new
/// kind is tried as soon as it is there.

export interface MeasureNames {
  readonly clips: readonly string[]
  readonly subjects: readonly string[]
  /// Events by the clip that they belong to.
  readonly events: ReadonlyMap<string, readonly string[]>
  /// Frames of every clip: 0 up to this.
  readonly frames: number
  /// Measures that others may build on; never later ones, so that none goes round.
  readonly earlier: readonly string[]
}

type Schema = z.core.$ZodTypes
const inner = (schema: z.core.$ZodType): Schema => schema as Schema
const POINTS = ['hip.left', 'knee.left', 'ankle.left', 'shoulder.right', 'ring.corner.1']
const TEXTS = ['head heights', 'm', 'Nela’s lead knee', '±', '{\\an5}', '<b>']

export function measureArbitrary(id: string, names: MeasureNames): fc.Arbitrary<Measure> {
  return fc
    .constantFrom(...names.clips)
    .chain((clip) =>
      fc.oneof(...Measure.options.filter((option) => isPossible(option, clip, names)).map((option) => valueOf(option, '', clip, names))),
    )
    .map((measure) => Measure.parse({ ...(measure as object), id }))
}

/// Kinds that need what is not there (an event of the clip, an earlier measure) are left out.
function isPossible(option: (typeof Measure.options)[number], clip: string, names: MeasureNames): boolean {
  if ('from' in option.shape && (names.events.get(clip) ?? []).length === 0) return false
  return !('measures' in option.shape) || names.earlier.length > 0
}

function valueOf(schema: z.core.$ZodType, key: string, clip: string, names: MeasureNames): fc.Arbitrary<unknown> {
  const type = inner(schema)
  const def = type._zod.def
  const events = names.events.get(clip) ?? []
  switch (def.type) {
    case 'optional':
      if (inner(def.innerType)._zod.def.type === 'never' || (key === 'event' && events.length === 0)) return fc.constant(undefined)
      return fc.option(valueOf(def.innerType, key, clip, names), { nil: undefined })
    case 'nullable':
      return fc.option(valueOf(def.innerType, key, clip, names), { nil: null })
    case 'object':
      return fc
        .record(Object.fromEntries(Object.entries(def.shape).map(([name, field]) => [name, valueOf(field, name, clip, names)])))
        .map((record) => Object.fromEntries(Object.entries(record).filter(([, value]) => value !== undefined)))
    case 'literal':
      return fc.constantFrom(...def.values)
    case 'enum':
      return fc.constantFrom(...Object.values(def.entries))
    case 'boolean':
      return fc.boolean()
    case 'number':
      return numberOf(type, key, names)
    case 'string':
      return textOf(key, clip, events, names)
    case 'tuple':
      return fc.tuple(...def.items.map((item) => valueOf(item, key, clip, names)))
    case 'array': {
      const { low = 0, high = Infinity } = boundsOf(def)
      return fc.array(valueOf(def.element, key, clip, names), { minLength: low, maxLength: Math.min(high, low + 2) })
    }
    case 'union':
      return fc.oneof(...def.options.map((option) => valueOf(option, key, clip, names)))
    default:
      throw new Error(`no arbitrary for a ${def.type} (${key})`)
  }
}

function numberOf(type: Schema, key: string, names: MeasureNames): fc.Arbitrary<number> {
  if (/^(frame|.*Frame)$/.test(key)) return fc.integer({ min: 0, max: names.frames - 1 })
  const { low = -1000, high = 1000, above } = boundsOf(type._zod.def)
  const min = above === undefined ? Math.max(low, -1e6) : above + 1e-3
  return fc.double({ min, max: Math.min(high, 1e6), noNaN: true }).map((x) => (x === 0 ? 0 : x))
}

/// What a schema's checks allow: lengths of a list, values of a number.
function boundsOf(def: { checks?: readonly z.core.$ZodCheck<never>[] | undefined }): { low?: number; high?: number; above?: number } {
  const bounds: { low?: number; high?: number; above?: number } = {}
  for (const check of def.checks ?? []) {
    const rule = (check as unknown as z.core.$ZodChecks)._zod.def
    if (rule.check === 'min_length') bounds.low = rule.minimum
    else if (rule.check === 'max_length') bounds.high = rule.maximum
    else if (rule.check === 'length_equals') [bounds.low, bounds.high] = [rule.length, rule.length]
    else if (rule.check === 'less_than') bounds.high = Number(rule.value)
    else if (rule.check === 'greater_than') bounds[rule.inclusive ? 'low' : 'above'] = Number(rule.value)
  }
  return bounds
}

function textOf(key: string, clip: string, events: readonly string[], names: MeasureNames): fc.Arbitrary<string> {
  if (key === 'clip') return fc.constant(clip)
  if (key === 'subject') return fc.constantFrom(...names.subjects)
  if (key === 'event' || key === 'from' || key === 'to') return fc.constantFrom(...events)
  if (key === 'measures') return fc.constantFrom(...names.earlier)
  if (/^(points?|against|background)$/.test(key)) return fc.constantFrom(...POINTS)
  return fc.constantFrom(...TEXTS)
}
