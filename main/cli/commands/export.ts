import { mkdir, rename, rm, writeFile } from 'node:fs/promises'
import { basename, extname, join, resolve } from 'node:path'
import { CodedError } from '../../../app/errors/coded-error'
import { writeSubRip } from '../../../app/exchange/sub-rip'
import { writeWebVtt } from '../../../app/exchange/web-vtt'
import { captionsOf } from '../../../app/programme/caption'
import { filmFaces } from '../../render/faces'
import { openFilms, programmeOf, readingTable } from '../../render/film-plan'
import { makeStills } from '../../render/stills'
import { findTakes } from '../../render/takes'
import { textOption, type Command } from '../command'
import { FINE } from '../exit-status'
import { onePath } from '../one-path'
import { openBreakdown } from '../opened'

const CAPTIONS = { vtt: writeWebVtt, srt: writeSubRip } as const

export const exportCommand: Command = {
  usage: 'export <project or breakdown.json> [--captions vtt,srt] [--stills] [--to folder]',
  summary: 'Writes captions and stills of every held frame beside the breakdown, or into the folder.',
  options: { captions: { type: 'string' }, stills: { type: 'boolean' }, to: { type: 'string' }, cache: { type: 'string' } },
  async run(input) {
    const path = onePath(input, exportCommand)
    const kinds = captionKinds(textOption(input, 'captions'))
    const stills = input.values['stills'] === true
    if (kinds.length === 0 && !stills) throw new CodedError('wrong-use', { problem: `Nothing to write: name --captions vtt,srt or --stills.` })
    const opened = await openBreakdown(input, path)
    const [faces, takes, films] = await Promise.all([filmFaces(), findTakes(opened.breakdown, opened), openFilms(opened.breakdown, opened.library, input.progress)])
    const readings = readingTable(opened.breakdown, films)
    const programme = programmeOf(opened.breakdown, films, readings, takes, faces.typeface)
    const folder = resolve(textOption(input, 'to') ?? opened.folder)
    const name = basename(path, extname(path))
    await mkdir(folder, { recursive: true })
    const written: string[] = []
    for (const kind of kinds) {
      const file = join(folder, `${name}.${kind}`)
      await writeWhole(file, CAPTIONS[kind](captionsOf(opened.breakdown, programme, readings)))
      written.push(file)
    }
    if (stills) written.push(...(await makeStills({ breakdown: opened.breakdown, programme, films, readings, faces, library: opened.library, folder: join(folder, `${name}-stills`), cache: opened.cache, signal: input.signal, onProgress: input.progress })))
    if (input.json) input.print(JSON.stringify({ written }, null, 2))
    else for (const file of written) input.print(file)
    return FINE
  },
}

function captionKinds(text: string | undefined): (keyof typeof CAPTIONS)[] {
  if (text === undefined) return []
  return text.split(',').map((kind) => {
    if (kind !== 'vtt' && kind !== 'srt') throw new CodedError('wrong-use', { problem: `--captions takes vtt, srt or both, not ${JSON.stringify(kind)}` })
    return kind
  })
}

async function writeWhole(file: string, text: string): Promise<void> {
  const part = `${file}.part`
  try {
    await writeFile(part, text)
    await rename(part, file)
  } finally {
    await rm(part, { force: true })
  }
}
