import { mkdir, mkdtemp, rm } from 'node:fs/promises'
import { basename, extname, join, resolve } from 'node:path'
import { CodedError } from '../../../app/errors/coded-error'
import { evidencePage } from '../../../app/release/evidence-page'
import { releaseRecord } from '../../../app/release/release-record'
import { reportOf } from '../../release/film-evidence'
import { deliveryMatter, deliveryTexts } from '../../release/delivery-texts'
import { classIn, embeddedStills, makeEvidenceStills, neededStills, stillFile } from '../../release/evidence-files'
import { fullHash } from '../../media/identity'
import { filmFaces } from '../../render/faces'
import { drawContext, openFilms, programmeOf, readingTable } from '../../render/film-plan'
import { makeStills } from '../../render/stills'
import { findTakes } from '../../render/takes'
import { writeWhole } from '../../whole-file'
import { textOption, type Command, type CommandInput } from '../command'
import { FINE } from '../exit-status'
import { onePath } from '../one-path'
import { openBreakdown } from '../opened'

/// What may be asked for, by option.
const KINDS = { captions: ['vtt', 'srt'], timeline: ['otio', 'edl'], data: ['csv'], evidence: ['html', 'json'] } as const

export const exportCommand: Command = {
  usage:
    'export <project or breakdown.json> [--captions vtt,srt] [--timeline otio,edl] [--data csv] [--description] [--evidence html,json] [--stills] [--to folder]',
  summary: 'Writes what goes with a film, piece by piece, beside the breakdown or into the folder.',
  options: {
    captions: { type: 'string' },
    timeline: { type: 'string' },
    data: { type: 'string' },
    description: { type: 'boolean' },
    evidence: { type: 'string' },
    stills: { type: 'boolean' },
    to: { type: 'string' },
    cache: { type: 'string' },
  },
  async run(input) {
    const path = onePath(input, exportCommand)
    const texts = [
      ...kindsOf(input, 'captions'),
      ...kindsOf(input, 'timeline'),
      ...kindsOf(input, 'data'),
      ...(input.values['description'] === true ? (['description', 'chapters'] as const) : []),
    ]
    const evidence = kindsOf(input, 'evidence')
    const stills = input.values['stills'] === true
    if (texts.length === 0 && evidence.length === 0 && !stills)
      throw new CodedError('wrong-use', {
        problem:
          'Nothing to write: name --captions vtt,srt, --timeline otio,edl, --data csv, --description, --evidence html,json or --stills.',
      })
    const opened = await openBreakdown(input, path)
    const { breakdown, library, cache } = opened
    const [faces, takes, films] = await Promise.all([
      filmFaces(),
      findTakes(breakdown, opened),
      openFilms(breakdown, library, input.progress),
    ])
    const readings = readingTable(breakdown, films)
    const programme = programmeOf(breakdown, films, readings, takes, faces.typeface)
    const matter = deliveryMatter({
      breakdown,
      programme,
      films,
      readings,
      context: drawContext(breakdown, programme, films, readings, faces.typeface),
    })
    const folder = resolve(textOption(input, 'to') ?? opened.folder)
    const name = basename(path, extname(path))
    await mkdir(folder, { recursive: true })
    const written: string[] = []
    const write = async (file: string, text: string): Promise<void> => {
      await writeWhole(join(folder, file), text)
      written.push(join(folder, file))
    }
    for (const kind of texts) {
      const { name: file, text } = deliveryTexts[kind](matter, name)
      await write(file, text)
    }
    if (evidence.length > 0) {
      const work = await mkdtemp(join(folder, '.evidence-'))
      try {
        const made = await makeEvidenceStills(matter, neededStills(matter), work, {
          library,
          faces,
          cache,
          signal: input.signal,
          onProgress: (done) => input.progress(`stills: ${Math.floor(done * 100)} %`),
        })
        const files = await Promise.all(
          made.map(async (still) => ({
            name: stillFile(still),
            sha256: await fullHash(join(work, stillFile(still))),
            still: { clip: still.clip, frame: still.frame },
          })),
        )
        const release = releaseRecord({
          ...matter,
          classOf: classIn(breakdown, readings),
          stills: made,
          stillFile,
          id: 'unpublished',
          version: 'not published',
          date: new Date().toISOString().slice(0, 10),
          projectVersion: 0,
          files,
          footageSha256: new Map(),
        })
        const report = reportOf(matter, release)
        if (evidence.includes('json')) await write(`${name}-evidence.json`, `${JSON.stringify(report, null, 2)}\n`)
        if (evidence.includes('html')) await write(`${name}-evidence.html`, evidencePage(report, await embeddedStills(made, work)))
      } finally {
        await rm(work, { recursive: true, force: true })
      }
    }
    if (stills)
      written.push(
        ...(await makeStills({
          breakdown,
          programme,
          films,
          readings,
          faces,
          library,
          folder: join(folder, `${name}-stills`),
          cache,
          signal: input.signal,
          onProgress: input.progress,
        })),
      )
    if (input.json) input.print(JSON.stringify({ written }, null, 2))
    else for (const file of written) input.print(file)
    return FINE
  },
}

function kindsOf<O extends keyof typeof KINDS>(input: CommandInput, option: O): (typeof KINDS)[O][number][] {
  const text = textOption(input, option)
  if (text === undefined) return []
  const known: readonly string[] = KINDS[option]
  return text.split(',').map((kind) => {
    if (!known.includes(kind))
      throw new CodedError('wrong-use', { problem: `--${option} takes ${known.join(', ')}, not ${JSON.stringify(kind)}` })
    return kind as (typeof KINDS)[O][number]
  })
}
