import { randomUUID } from 'node:crypto'
import { hostname } from 'node:os'
import { basename, resolve } from 'node:path'
import { scriptParts, type ScriptSplit } from '../../../app/align/split-script'
import type { TakeWords } from '../../../app/align/take-words'
import { takeDiffs, type ChosenTake } from '../../../app/edit/take-change'
import { CodedError } from '../../../app/errors/coded-error'
import { filmTimeText } from '../../../app/programme/sentence-time'
import type { Paragraph } from '../../../app/project/picture'
import { cutTake, keepSound } from '../../engine/brought-sound'
import { TakeDesk } from '../../engine/take-desk'
import { readSound } from '../../media/sound-file'
import { alignTake, splitRecording } from '../../narration/align-take'
import { findRecogniser } from '../../narration/find-recogniser'
import { openFilms, readingTable } from '../../render/film-plan'
import { openProject } from '../../store/open-project'
import { textOption, type Command, type CommandInput } from '../command'
import { FINDINGS, FINE } from '../exit-status'
import { openBreakdown, type Opened } from '../opened'

export const narrate: Command = {
  usage: 'narrate <project> <sound file> [--paragraph id] [--use]',
  summary:
    'Finds the script’s words in a sound file: of one paragraph, or of the whole script, taken apart into takes. Tells what was not found. With --use the takes go into the film, as one edit.',
  options: { paragraph: { type: 'string' }, use: { type: 'boolean' }, cache: { type: 'string' } },
  async run(input) {
    const [path, sound, ...rest] = input.positionals
    if (!path || !sound || rest.length > 0) throw new CodedError('wrong-use', { problem: `Usage: claimframe ${narrate.usage}` })
    const opened = await openBreakdown(input, path)
    if (opened.from !== 'project')
      throw new CodedError('wrong-use', {
        problem: `${path} is a document; takes are kept with a project. Make one: claimframe create <project> --from ${path}`,
      })
    const { tool } = opened.library
    // Told first of a file that is no sound: finding words in it would only say that there are none.
    if ((await readSound(tool, resolve(sound), input.signal)) === null)
      throw new CodedError('file-unreadable', { file: sound, problem: 'it holds no sound' })
    const readings = readingTable(opened.breakdown, await openFilms(opened.breakdown, opened.library, input.progress))
    const one = textOption(input, 'paragraph')
    const rows = opened.breakdown.script.filter((row): row is Paragraph => 'text' in row && (one === undefined || row.id === one))
    if (one !== undefined && rows.length === 0) throw new CodedError('not-there', { what: 'paragraph', id: one })
    const parts = scriptParts(rows, readings)
    const options = { tool, recogniser: await findRecogniser(), signal: input.signal }
    input.progress('finding the words')
    const split =
      one === undefined
        ? await splitRecording(resolve(sound), parts, options)
        : await wholeFile(resolve(sound), one, parts[0]?.tokens ?? [], options)
    const used = input.values['use'] === true ? await useTakes(input, opened, sound, split, one, rows, parts, readings) : null
    if (input.json) input.print(JSON.stringify({ ...split, takes: used }, null, 2))
    else for (const line of linesOf(split, rows, used)) input.print(line)
    return split.missing.length > 0 || split.other || split.pieces.some(({ found }) => found.leftOut.length > 0) ? FINDINGS : FINE
  },
}

/// A file of one paragraph, from its start to its end.
async function wholeFile(
  path: string,
  paragraph: string,
  tokens: Parameters<typeof alignTake>[1],
  options: Parameters<typeof alignTake>[2],
): Promise<ScriptSplit> {
  const found = await alignTake(path, tokens, options)
  const length = await readSound(options.tool, path, options.signal)
  return {
    by: found.by,
    pieces: [{ paragraph, from: 0, to: length ? length.samples / length.rate : 0, found }],
    missing: [],
    other: found.other,
  }
}

async function useTakes(
  input: CommandInput,
  opened: Opened,
  sound: string,
  split: ScriptSplit,
  one: string | undefined,
  rows: readonly Paragraph[],
  parts: ReturnType<typeof scriptParts>,
  readings: Parameters<typeof takeDiffs>[2],
): Promise<string[]> {
  if (split.pieces.length === 0) return []
  const held = openProject(input.positionals[0]!, { readOnly: false, owner: `claimframe narrate on ${hostname()}, process ${process.pid}` })
  if (!held.ok) throw held.error
  const project = held.value
  try {
    const takes = new TakeDesk(opened.folder, () => undefined)
    const whole = await keepSound(
      takes,
      opened.library.tool,
      resolve(sound),
      basename(sound),
      one === undefined
        ? { kind: 'script', paragraph: null }
        : { kind: 'paragraph', paragraph: one, words: parts[0]?.tokens.map(({ word }) => word) },
      input.signal,
    )
    const cut = one === undefined ? await cutTake(takes, whole.id, split.pieces, parts) : [whole]
    const chosen = split.pieces.map(({ paragraph, found }, i): ChosenTake => ({
      paragraph: rows.find(({ id }) => id === paragraph) as Paragraph,
      file: cut[i]?.file ?? '',
      found,
    }))
    const applied = project.apply({
      id: randomUUID(),
      label: 'Choose the takes',
      group: null,
      steps: [],
      diffs: takeDiffs(project.state, chosen, readings),
      selection: null,
      base: project.version,
    })
    if (!applied.ok) throw applied.error
    return cut.map(({ file }) => file ?? '')
  } finally {
    project.close()
  }
}

function linesOf(split: ScriptSplit, rows: readonly Paragraph[], used: readonly string[] | null): string[] {
  return [
    ...split.pieces.map(
      ({ paragraph, from, to, found }, i) =>
        `${paragraph.padEnd(12)} ${filmTimeText(from)} to ${filmTimeText(to)}  ${[remarkOf(found), ...(used ? [used[i] ?? ''] : [])].join('  ')}`,
    ),
    ...split.missing.map((id) => `${id.padEnd(12)} not found: “${beginningOf(rows.find((row) => row.id === id))} …”`),
    ...(split.other ? ['something else than the script was said'] : []),
    ...(split.by === 'reference' ? ['no recogniser was at hand: hear where each take begins and ends'] : []),
    ...(used === null ? ['Nothing was written. With --use the takes go into the film, as one edit.'] : []),
  ]
}

const remarkOf = ({ leftOut, repeated }: TakeWords): string =>
  leftOut.length + repeated.length === 0
    ? 'every word was found'
    : [
        ...leftOut.map((words) => `“${words}” was not heard`),
        ...repeated.map(({ words }) => `“${words}” was said twice; the later one counts`),
      ].join('; ')

const beginningOf = (row: Paragraph | undefined): string =>
  (row?.text ?? [])
    .map((piece) => (typeof piece === 'string' ? piece : 'cue' in piece ? piece.word : ''))
    .join('')
    .split(/\s+/u)
    .slice(0, 6)
    .join(' ')
