import { stat } from 'node:fs/promises'
import { join } from 'node:path'
import { spokenTokens, type SpokenToken } from '../../app/align/spoken-tokens'
import { scriptParts, type ScriptPart } from '../../app/align/split-script'
import type { TakeWords } from '../../app/align/take-words'
import type { CallOutput, Handlers } from '../../app/contract/calls'
import type { Take, takeCalls } from '../../app/contract/take-calls'
import { CodedError } from '../../app/errors/coded-error'
import type { Readings } from '../../app/script/spoken-form'
import { alignTake } from '../narration/align-take'
import { findRecogniser } from '../narration/find-recogniser'
import { cutTake, keepSound, keepSoundBytes, splitTake } from './brought-sound'
import { soundFile } from './bytes'
import { readSound } from '../media/sound-file'
import { nodeToRow } from '../../app/script/conversion'
import type { OpenedProject } from './opened-project'
import type { Workspace } from './workspace'

export function takeHandlers(workspace: Workspace): Handlers<keyof typeof takeCalls> {
  return {
    'takes.begin': ({ paragraph, sampleRate }) => {
      const { project, takes } = workspace.opened
      if (project.readOnly) throw new CodedError('read-only', { file: project.path })
      if (paragraph === null) return takes.begin({ kind: 'room', paragraph, sampleRate })
      if (!project.state.script.children.some((node) => node.attrs['id'] === paragraph))
        throw new CodedError('not-there', { what: 'paragraph', id: paragraph })
      return takes.begin({
        kind: 'paragraph',
        paragraph,
        sampleRate,
        words: tokensNow(workspace.opened, paragraph).map(({ word }) => word),
      })
    },
    'takes.words': async ({ take, paragraph }) => {
      const { opened } = workspace
      const sound = await soundFile(opened, take)
      if (sound === null) throw new CodedError('not-there', { what: 'recording', id: take })
      return copyOf(
        await alignTake(sound, tokensNow(opened, paragraph), { tool: await workspace.tool(), recogniser: await findRecogniser() }),
      )
    },
    'takes.split': async ({ take }) => {
      const { opened } = workspace
      const { by, pieces, missing, other } = await splitTake(opened.takes, take, partsNow(opened), {
        tool: await workspace.tool(),
        recogniser: await findRecogniser(),
      })
      return { by, other, missing: [...missing], pieces: pieces.map((piece) => ({ ...piece, found: copyOf(piece.found) })) }
    },
    'takes.cut': async ({ take, pieces }) => {
      const { opened } = workspace
      if (opened.project.readOnly) throw new CodedError('read-only', { file: opened.project.path })
      return { takes: await cutTake(opened.takes, take, pieces, partsNow(opened)) }
    },
    'takes.finish': ({ take }) => workspace.opened.takes.finish(take),
    'takes.list': async () => {
      const { opened } = workspace
      const recorded = await opened.takes.list()
      const known = new Set(recorded.map((take) => take.file))
      const named = opened.project.state.tables.paragraphs
        .list()
        .flatMap((p) => (p.take === undefined || known.has(p.take) ? [] : [p.take]))
      const others = await Promise.all([...new Set(named)].map((file) => fromElsewhere(workspace, opened, file)))
      return { takes: [...recorded, ...others.filter((take) => take !== null)] }
    },
  }
}

/// A sound file that a paragraph names but that was not recorded here. Its length is read by decoding it.
async function fromElsewhere(workspace: Workspace, opened: OpenedProject, file: string): Promise<Take | null> {
  const path = join(opened.folder, file)
  const facts = await stat(path).catch(() => null)
  const sound = await readSound(await workspace.tool(), path).catch(() => null)
  if (!facts || !sound) return null
  return {
    id: file,
    kind: 'paragraph',
    paragraph: null,
    source: null,
    file,
    bytes: facts.size,
    sampleRate: sound.rate,
    samples: sound.samples,
    state: 'finished',
    words: null,
  }
}

/// Keeps a sound file that comes as bytes: as a take of a paragraph, or as a recording of the whole script.
export async function bringSound(
  workspace: Workspace,
  name: string,
  paragraph: string | null,
  pieces: AsyncIterable<Uint8Array>,
): Promise<Take> {
  const { opened } = workspace
  if (opened.project.readOnly) throw new CodedError('read-only', { file: opened.project.path })
  const words = paragraph === null ? undefined : tokensNow(opened, paragraph).map(({ word }) => word)
  const tool = await workspace.tool()
  return keepSoundBytes(opened.folder, pieces, (path) =>
    keepSound(opened.takes, tool, path, name, { kind: paragraph === null ? 'script' : 'paragraph', paragraph, ...(words && { words }) }),
  )
}

const readingsNow = (opened: OpenedProject): Readings => new Map(opened.readings.list().map((reading) => [reading.id, reading]))

const partsNow = (opened: OpenedProject): ScriptPart[] =>
  scriptParts(opened.project.state.script.children.map(nodeToRow), readingsNow(opened))

/// A paragraph's words as they are to be said now. Throws `not-there`.
function tokensNow(opened: OpenedProject, id: string): SpokenToken[] {
  const node = opened.project.state.script.children.find((each) => each.attrs['id'] === id)
  const row = node && nodeToRow(node)
  if (!row || 'chapter' in row) throw new CodedError('not-there', { what: 'paragraph', id })
  return spokenTokens(row, readingsNow(opened))
}

const copyOf = ({ by, words, leftOut, repeated, other }: TakeWords): CallOutput<'takes.words'> => ({
  by,
  words: [...words],
  leftOut: [...leftOut],
  repeated: [...repeated],
  other,
})
