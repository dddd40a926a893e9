import { stat } from 'node:fs/promises'
import { join } from 'node:path'
import { spokenTokens, type SpokenToken } from '../../app/align/spoken-tokens'
import type { TakeWords } from '../../app/align/take-words'
import type { CallOutput, Handlers } from '../../app/contract/calls'
import type { Take, takeCalls } from '../../app/contract/take-calls'
import { CodedError } from '../../app/errors/coded-error'
import { alignTake } from '../narration/align-take'
import { findRecogniser } from '../narration/find-recogniser'
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
      if (!project.state.script.children.some((node) => node.attrs['id'] === paragraph)) throw new CodedError('not-there', { what: 'paragraph', id: paragraph })
      return takes.begin(paragraph, sampleRate, tokensNow(workspace.opened, paragraph).map(({ word }) => word))
    },
    'takes.words': async ({ take, paragraph }) => {
      const { opened } = workspace
      const sound = await soundFile(opened, take)
      if (sound === null) throw new CodedError('not-there', { what: 'recording', id: take })
      return copyOf(await alignTake(sound, tokensNow(opened, paragraph), { tool: await workspace.tool(), recogniser: await findRecogniser() }))
    },
    'takes.finish': ({ take }) => workspace.opened.takes.finish(take),
    'takes.list': async () => {
      const { opened } = workspace
      const recorded = await opened.takes.list()
      const known = new Set(recorded.map((take) => take.file))
      const named = opened.project.state.tables.paragraphs.list().flatMap((p) => (p.take === undefined || known.has(p.take) ? [] : [p.take]))
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
  return { id: file, paragraph: null, file, bytes: facts.size, sampleRate: sound.rate, samples: sound.samples, state: 'finished', words: null }
}

/// A paragraph's words as they are to be said now. Throws `not-there`.
function tokensNow(opened: OpenedProject, id: string): SpokenToken[] {
  const node = opened.project.state.script.children.find((each) => each.attrs['id'] === id)
  const row = node && nodeToRow(node)
  if (!row || 'chapter' in row) throw new CodedError('not-there', { what: 'paragraph', id })
  return spokenTokens(row, new Map(opened.readings.list().map((reading) => [reading.id, reading])))
}

const copyOf = ({ by, words, leftOut, repeated, other }: TakeWords): CallOutput<'takes.words'> => ({ by, words: [...words], leftOut: [...leftOut], repeated: [...repeated], other })
