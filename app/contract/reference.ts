import { z } from 'zod'
import { Edit, SentEdit } from '../edit/edit'
import { Clip, Event, Footage, Landmark, Sample, Subject, View } from '../project/film'
import { Claim, Evidence, Override, Quoted } from '../project/claim'
import { CueTime, Paragraph } from '../project/picture'
import { Measure } from '../project/question'
import { Reference } from '../project/reference'
import { Correction, Release, Said } from '../project/release'
import { LandmarkHead, ParagraphRecord, Settings } from '../edit/records'
import { addressTable } from './addresses'
import { calls } from './calls'
import { ClaimAnswer, OvertakenAnswer, ReferenceAnswer } from './claim-calls'
import { Committed, NextUndo, UndoStep } from './edit-calls'
import { EngineEvent, EventPage, SequencedEvent } from './events'
import { FilmFacts, FilmTable, FilmWarning, Piece } from './footage-calls'
import { ProjectFacts } from './project-calls'
import { Refusal, RefusalCode } from './refusal'
import { Replica } from './replica'
import { CaptionAnswer, FindingAnswer, ReadingAnswer } from './script-calls'
import { Take } from './take-calls'
import { Job } from './work-calls'

/// The reference of the contract (docs/contract.md), written from the contract itself.

/// Shapes that the reference names once and shows in a section of their own.
const shown = {
  Refusal,
  ProjectFacts,
  Replica,
  NextUndo,
  UndoStep,
  Committed,
  FilmFacts,
  FilmWarning,
  FilmTable,
  Piece,
  Reading: ReadingAnswer,
  Caption: CaptionAnswer,
  Finding: FindingAnswer,
  ClaimAnswer,
  ReferenceAnswer,
  OvertakenAnswer,
  Job,
  Take,
  EngineEvent,
} as const
/// Shapes that are the core's own: where they are described.
const described = {
  RefusalCode: [RefusalCode, 'app/errors/messages.ts'],
  Edit: [Edit, 'app/edit/edit.ts'],
  SentEdit: [SentEdit, 'app/edit/edit.ts'],
  Footage: [Footage, 'app/project/film.ts'],
  Subject: [Subject, 'app/project/film.ts'],
  Clip: [Clip, 'app/project/film.ts'],
  View: [View, 'app/project/film.ts'],
  Event: [Event, 'app/project/film.ts'],
  Sample: [Sample, 'app/project/film.ts'],
  Landmark: [Landmark, 'app/project/film.ts'],
  CueTime: [CueTime, 'app/project/picture.ts'],
  Paragraph: [Paragraph, 'app/project/picture.ts'],
  Measure: [Measure, 'app/project/question.ts'],
  Quoted: [Quoted, 'app/project/claim.ts'],
  Evidence: [Evidence, 'app/project/claim.ts'],
  Claim: [Claim, 'app/project/claim.ts'],
  Override: [Override, 'app/project/claim.ts'],
  Reference: [Reference, 'app/project/reference.ts'],
  Said: [Said, 'app/project/release.ts'],
  Release: [Release, 'app/project/release.ts'],
  Correction: [Correction, 'app/project/release.ts'],
  Settings: [Settings, 'app/edit/records.ts'],
  LandmarkHead: [LandmarkHead, 'app/edit/records.ts'],
  ParagraphRecord: [ParagraphRecord, 'app/edit/records.ts'],
} as const

const names = z.registry<{ id: string }>()
for (const [id, schema] of Object.entries(shown)) names.add(schema, { id })
for (const [id, [schema]] of Object.entries(described)) names.add(schema, { id })

/// The whole reference as Markdown.
export function contractReference(): string {
  const lines = [
    '# The contract between window and engine',
    '',
    'Written from `app/contract` by `app/contract/reference.ts`; a test fails when it differs. Run `npx vitest run --config tests/vitest.config.ts --project unit tests/unit/contract -u` after changing the contract.',
    '',
    'A call is a POST of JSON to `call/<name>`, answered by `{"ok": true, "value": …}` or `{"ok": false, "error": Refusal}`. An expected refusal has status 200; 400, 404, 413 and 415 mean that the call itself was wrong, 500 that something unexpected happened. All addresses are relative to the page.',
    '',
    '## Calls',
    '',
  ]
  for (const [name, { does, input, output, by }] of Object.entries(calls)) {
    lines.push(
      `### \`${name}\``,
      '',
      does + (by === 'shell' ? ' Answered by the desktop shell alone.' : ''),
      '',
      '```ts',
      `in:  ${typeOf(input, 'input')}`,
      `out: ${typeOf(output, 'output')}`,
      '```',
      '',
    )
  }
  lines.push('## Addresses of bytes', '', '| address | method | what |', '|---|---|---|')
  for (const { address, method, what } of addressTable) lines.push(`| \`${address}\` | ${method} | ${what} |`)
  lines.push(
    '',
    '## Events',
    '',
    'Ask `events?engine=…&after=…` again and again: it waits up to 25 s for the next event. Begin with `engine` and `after` of `project.state`. Only the latest 2,000 events are kept; `lost` says that some were missed, or that the engine is another one: read `project.state` again.',
    '',
    '```ts',
    `out: ${typeOf(EventPage, 'output', true)}`,
    '```',
    '',
  )
  lines.push('## Shapes', '')
  for (const [name, schema] of Object.entries(shown)) lines.push(`### ${name}`, '', '```ts', typeOf(schema, 'output', true), '```', '')
  lines.push('Described in the core:', '', ...Object.entries(described).map(([name, [, file]]) => `- ${name}: \`${file}\``), '')
  return lines.join('\n')
}

interface Json {
  readonly $ref?: string
  readonly $defs?: unknown
  readonly type?: string | readonly string[]
  readonly const?: unknown
  readonly enum?: readonly unknown[]
  readonly anyOf?: readonly Json[]
  readonly oneOf?: readonly Json[]
  readonly allOf?: readonly Json[]
  readonly items?: Json
  readonly prefixItems?: readonly Json[]
  readonly properties?: Readonly<Record<string, Json>>
  readonly required?: readonly string[]
  readonly additionalProperties?: Json | boolean
}

/// A schema in the notation of TypeScript. `open` shows a named shape itself.
function typeOf(schema: z.ZodType, io: 'input' | 'output', open = false): string {
  const json = z.toJSONSchema(schema, { io, metadata: names, unrepresentable: 'any' }) as Json & { $defs?: Record<string, Json> }
  const name = names.get(schema)?.id
  if (name !== undefined && !open) return name
  const own = json.$ref === undefined ? json : json.$defs?.[json.$ref.split('/').at(-1)!]
  return write(own ?? json, 0)
}

function write(json: Json, depth: number): string {
  if (json.$ref !== undefined) return json.$ref === '#' ? 'itself' : json.$ref.split('/').at(-1)!
  if (json.const !== undefined) return JSON.stringify(json.const)
  if (json.enum) return json.enum.map((value) => JSON.stringify(value)).join(' | ')
  const union = json.anyOf ?? json.oneOf
  if (union)
    return [...new Set(union.map((each) => write(each, depth)))].join(
      union.some((each) => each.properties) && union.length > 2 ? '\n| ' : ' | ',
    )
  if (typeof json.type === 'object') return json.type.map((type) => write({ ...json, type }, depth)).join(' | ')
  if (json.allOf) return json.allOf.map((each) => write(each, depth)).join(' & ')
  if (json.prefixItems) return `[${json.prefixItems.map((each) => write(each, depth)).join(', ')}]`
  if (json.type === 'array') {
    const item = write(json.items ?? {}, depth)
    return / [|&] /.test(item) && !item.startsWith('{') ? `(${item})[]` : `${item}[]`
  }
  if (json.properties) return writeObject(json.properties, new Set(json.required ?? []), depth)
  if (typeof json.additionalProperties === 'object') return `{ [key]: ${write(json.additionalProperties, depth)} }`
  if (json.type === 'object') return '{}'
  return json.type === 'integer' ? 'whole number' : (json.type ?? 'any JSON')
}

function writeObject(properties: Readonly<Record<string, Json>>, required: ReadonlySet<string>, depth: number): string {
  const fields = Object.entries(properties).map(([name, json]) => `${name}${required.has(name) ? '' : '?'}: ${write(json, depth + 1)}`)
  if (fields.length === 0) return '{}'
  const line = `{ ${fields.join(', ')} }`
  if (line.length <= 110 && !line.includes('\n')) return line
  const indent = '  '.repeat(depth + 1)
  return `{\n${fields.map((field) => indent + field).join('\n')}\n${'  '.repeat(depth)}}`
}

/// Kept out of the list of shapes, but named where they are met.
names.add(SequencedEvent, { id: 'NumberedEvent' })
