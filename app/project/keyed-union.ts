import { z } from 'zod'

/// A union whose branch is known before anything is parsed: by the kind of JSON value, and for
/// objects by the key that names what it is (`run`, `hold`, `value` …). A wrong field is then
/// reported as that field, never as "none of the choices fits".

/// The branches: objects by their naming key, in the order in which keys are looked for;
/// `text` and `list` take strings and arrays.
export interface Branches {
  readonly keys: Readonly<Record<string, z.core.$ZodType>>
  readonly text?: z.core.$ZodType
  readonly list?: z.core.$ZodType
}

type Option<B extends Branches> =
  | B['keys'][keyof B['keys']]
  | (B extends { text: infer T extends z.core.$ZodType } ? T : never)
  | (B extends { list: infer L extends z.core.$ZodType } ? L : never)

interface KeyedUnionDef extends z.core.$ZodUnionDef {
  readonly branches: Branches
  readonly wanted: string
}
type KeyedUnionType = z.ZodUnion<readonly z.core.$ZodType[]> & { _zod: { def: KeyedUnionDef } }

const own = (value: object, key: string): boolean => Object.prototype.hasOwnProperty.call(value, key)

function branchOf({ keys, text, list }: Branches, value: unknown): z.core.$ZodType | undefined {
  if (typeof value === 'string') return text
  if (Array.isArray(value)) return list
  if (typeof value !== 'object' || value === null) return undefined
  const key = Object.keys(keys).find((k) => own(value, k))
  return key === undefined ? undefined : keys[key]
}

const KeyedUnionClass = z.core.$constructor<KeyedUnionType, KeyedUnionDef>('KeyedUnion', (inst, def) => {
  z.ZodUnion.init(inst, def)
  inst._zod.parse = (payload, context) => {
    const branch = branchOf(def.branches, payload.value)
    if (branch) return branch._zod.run(payload, context)
    payload.issues.push({ code: 'custom', message: `must be ${def.wanted}`, input: payload.value, inst, continue: false })
    return payload
  }
})

/// `wanted` finishes the sentence "must be …" for a value that no branch takes.
/// In the published schema the union is a plain `anyOf`.
export function keyedUnion<const B extends Branches>(
  wanted: string,
  branches: B,
): z.ZodType<z.core.output<Option<B>>, z.core.input<Option<B>>> {
  const options = [branches.text, branches.list, ...Object.values(branches.keys)].filter((o) => o !== undefined)
  const union = new KeyedUnionClass({ type: 'union', options: [...new Set(options)], branches, wanted })
  return union as unknown as z.ZodType<z.core.output<Option<B>>, z.core.input<Option<B>>>
}
