import { stat } from 'node:fs/promises'
import { basename, join } from 'node:path'
import type { FaceName } from '../../app/contract/addresses'
import { CodedError } from '../../app/errors/coded-error'
import { sourceFacts } from '../../app/render/source-facts'
import { readFrame } from '../media/exact-frame'
import { streamFfmpeg } from '../media/process'
import { filmFaces } from '../render/faces'
import { inputArguments } from '../media/file-url'
import { writeWhole } from '../whole-file'
import { isMade } from './stand-in'
import type { OpenedProject } from './opened-project'
import type { Workspace } from './workspace'

/// Files that are made from films and takes on demand, and kept in the cache folder.

const mediaTypes: readonly (readonly [RegExp, string])[] = [
  [/\.(mp4|m4v)$/i, 'video/mp4'],
  [/\.mov$/i, 'video/quicktime'],
  [/\.mkv$/i, 'video/x-matroska'],
  [/\.webm$/i, 'video/webm'],
  [/\.wav$/i, 'audio/wav'],
  [/\.flac$/i, 'audio/flac'],
  [/\.mp3$/i, 'audio/mpeg'],
  [/\.(ogg|opus)$/i, 'audio/ogg'],
  [/\.m4a$/i, 'audio/mp4'],
]

/// Anything else is bytes that no page may take for a page.
export const mediaType = (path: string): string => mediaTypes.find(([ending]) => ending.test(path))?.[1] ?? 'application/octet-stream'

/// One exact frame as a PNG file.
export async function stillFile(
  workspace: Workspace,
  opened: OpenedProject,
  footage: string,
  frame: number,
  width: number | null,
  signal: AbortSignal,
): Promise<string> {
  const film = opened.films.film(footage)
  if (frame >= film.table.pts.length) throw new CodedError('not-there', { what: 'frame', id: String(frame) })
  const wide = width === null || width >= film.head.width ? null : width
  const file = join(opened.cache, 'frames-shown', `${film.identity.slice(0, 40)}-${frame}-${wide ?? 'whole'}-2.png`)
  if (await isMade(file)) return file
  const tool = await workspace.tool()
  const { data } = await readFrame(tool, film, frame, {
    format: 'png',
    width: wide ?? undefined,
    colours: sourceFacts(film, tool.has),
    signal,
  })
  await writeWhole(file, data)
  return file
}

/// Lowest and highest sample of each 1/100 s of a sound, as little-endian 16-bit pairs.
export async function waveFile(workspace: Workspace, opened: OpenedProject, sound: string, signal: AbortSignal): Promise<string> {
  const facts = await stat(sound)
  const file = join(opened.cache, 'waves', `${basename(sound)}-${facts.size.toString(36)}-${Math.round(facts.mtimeMs).toString(36)}.bin`)
  if (await isMade(file)) return file
  const peaks = new Peaks()
  await streamFfmpeg(
    await workspace.tool(),
    [
      '-v',
      'error',
      ...inputArguments(sound),
      '-map',
      '0:a:0',
      '-ac',
      '1',
      '-ar',
      String(PEAK_RATE * PEAK_SAMPLES),
      '-f',
      's16le',
      'pipe:1',
    ],
    { signal, what: 'the wave', onStdout: (chunk) => peaks.add(chunk) },
  )
  await writeWhole(file, peaks.end())
  return file
}

const PEAK_RATE = 100
const PEAK_SAMPLES = 160

class Peaks {
  readonly #pairs: number[] = []
  #low = 0
  #high = 0
  #count = 0
  #rest = Buffer.alloc(0)

  add(chunk: Buffer): void {
    const bytes = this.#rest.length > 0 ? Buffer.concat([this.#rest, chunk]) : chunk
    const whole = bytes.length - (bytes.length % 2)
    for (let at = 0; at < whole; at += 2) {
      const sample = bytes.readInt16LE(at)
      if (sample < this.#low) this.#low = sample
      if (sample > this.#high) this.#high = sample
      if (++this.#count === PEAK_SAMPLES) this.#close()
    }
    this.#rest = Buffer.from(bytes.subarray(whole))
  }

  end(): Buffer {
    if (this.#count > 0) this.#close()
    const out = Buffer.alloc(this.#pairs.length * 2)
    this.#pairs.forEach((value, i) => out.writeInt16LE(value, i * 2))
    return out
  }

  #close(): void {
    this.#pairs.push(this.#low, this.#high)
    this.#low = this.#high = this.#count = 0
  }
}

/// The sound that a take's id, or a paragraph's file name, stands for; null where there is none.
export async function soundFile(opened: OpenedProject, name: string): Promise<string | null> {
  const recorded = await opened.takes.file(name)
  if (recorded) return recorded
  const named = opened.project.state.tables.paragraphs.list().some((p) => p.take === name)
  const path = join(opened.folder, name)
  return named && (await isMade(path)) ? path : null
}

export async function faceFile(name: string): Promise<string | null> {
  const names: readonly FaceName[] = ['atkinson-regular', 'atkinson-bold']
  const at = names.findIndex((face) => face === name)
  return at < 0 ? null : ((await filmFaces()).files[at] ?? null)
}
