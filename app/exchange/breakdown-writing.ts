import { Breakdown } from '../project/breakdown'

const WIDTH = 120

/// The document's text: JSON indented by two spaces, keys in the order of the published schema,
/// and whatever fits on a line of 120 on one line, so that a point, a sample, a cue or a mark is
/// one line of a diff. Each entry of a list of records has lines of its own. Ends in a newline.
/// `JSON.parse` of it is the breakdown again, nothing added and nothing left out.
/// Throws (a ZodError) for a value that is no breakdown.
export function writeBreakdown(breakdown: Breakdown): string {
  return `${write(Breakdown.parse(breakdown), 0, 0)}\n`
}

type Json = string | number | boolean | null | readonly Json[] | { readonly [key: string]: Json }

/// `lead` is the number of characters before the value on its line.
function write(value: unknown, indent: number, lead: number): string {
  const json = value as Json
  if (indent > 0 && !isListOfRecords(json) && !holdsSamples(json)) {
    const line = flat(json, WIDTH - indent - lead)
    if (line !== null) return line
  }
  if (typeof json !== 'object' || json === null) return JSON.stringify(json)
  const inner = indent + 2
  const pad = ' '.repeat(inner)
  const close = ' '.repeat(indent)
  if (isList(json)) {
    if (json.length === 0) return '[]'
    return `[\n${json.map((v) => pad + write(v, inner, 0)).join(',\n')}\n${close}]`
  }
  const entries = Object.entries(json).filter(([, v]) => v !== undefined)
  if (entries.length === 0) return '{}'
  const rows = entries.map(([key, v]) => {
    const name = `${JSON.stringify(key)}: `
    return pad + name + write(v, inner, name.length)
  })
  return `{\n${rows.join(',\n')}\n${close}}`
}

const isList = (value: Json): value is readonly Json[] => Array.isArray(value)
const isListOfRecords = (value: Json): boolean =>
  isList(value) && value.length > 0 && value.every((v) => typeof v === 'object' && v !== null && !isList(v))

const holdsSamples = (value: Json): boolean => typeof value === 'object' && value !== null && 'samples' in value

/// The value on one line, or null when it needs more than `room` characters.
function flat(value: Json, room: number): string | null {
  if (typeof value !== 'object' || value === null) {
    const text = JSON.stringify(value)
    return text.length <= room ? text : null
  }
  const [open, close] = isList(value) ? ['[', ']'] : ['{ ', ' }']
  const entries: readonly (readonly [string, Json])[] = isList(value)
    ? value.map((v) => ['', v] as const)
    : Object.entries(value)
        .filter(([, v]) => v !== undefined)
        .map(([key, v]) => [`${JSON.stringify(key)}: `, v] as const)
  if (entries.length === 0) return isList(value) ? '[]' : '{}'
  let line: string = open
  for (const [i, [name, v]] of entries.entries()) {
    const lead = (i === 0 ? '' : ', ') + name
    const text = flat(v, room - line.length - lead.length - close.length)
    if (text === null) return null
    line += lead + text
  }
  return line.length + close.length <= room ? line + close : null
}
