import { createReadStream } from 'node:fs'
import { open, mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { z } from 'zod'
import { takeKinds, type Take } from '../../app/contract/take-calls'
import { CodedError } from '../../app/errors/coded-error'
import { wavHead, WAV_HEAD_BYTES } from '../media/wav-head'
import { portableName } from './gather'

/// Recordings of narration, in the project's `takes` folder: 16-bit samples, one channel. While one is
/// being made it is a `.part` with room for its head, so that whatever was acknowledged is there after a crash.

/// Three hours at 48 kHz.
const MOST_BYTES = 3 * 3600 * 96_000
const FOLDER = 'takes'

const Note = z.strictObject({
  kind: z.enum(takeKinds).default('paragraph'),
  paragraph: z.string().nullable(),
  sampleRate: z.int(),
  words: z.array(z.string()).optional(),
  source: z.string().optional(),
})

/// What a new recording is written down as.
export type TakeNote = z.input<typeof Note>

export class TakeDesk {
  readonly #folder: string
  /// One writer a take at a time.
  readonly #busy = new Map<string, Promise<unknown>>()

  constructor(
    folder: string,
    private readonly tell: (take: Take) => void,
  ) {
    this.#folder = join(folder, FOLDER)
  }

  async begin(note: TakeNote): Promise<Take> {
    await mkdir(this.#folder, { recursive: true })
    const stem =
      note.paragraph === null ? (note.kind === 'room' ? 'room-tone' : 'script') : portableName(note.paragraph).replaceAll('.', '_')
    const taken = new Set((await readdir(this.#folder)).map((name) => name.replace(/\.(wav|part|json)$/, '')))
    let number = 1
    while (taken.has(`${stem}-${number}`)) number++
    const id = `${stem}-${number}`
    await writeFile(this.#path(id, 'json'), JSON.stringify(note), { flag: 'wx' })
    await writeFile(this.#path(id, 'part'), Buffer.alloc(WAV_HEAD_BYTES), { flag: 'wx' })
    return this.#told(await this.#take(id))
  }

  /// A whole recording at once: `fill` hands its samples over piece by piece. What fails leaves nothing.
  async add(note: TakeNote, fill: (append: (bytes: Uint8Array) => Promise<void>) => Promise<void>): Promise<Take> {
    const { id } = await this.begin(note)
    try {
      const handle = await open(this.#path(id, 'part'), 'r+')
      let held = 0
      try {
        await fill(async (bytes) => {
          if (held + bytes.byteLength > MOST_BYTES) throw new CodedError('too-large', { what: 'a recording', limit_bytes: MOST_BYTES })
          let done = 0
          while (done < bytes.byteLength)
            done += (await handle.write(bytes, done, bytes.byteLength - done, WAV_HEAD_BYTES + held + done)).bytesWritten
          held += bytes.byteLength
        })
      } finally {
        await handle.close()
      }
    } catch (error) {
      await this.discard(id)
      if (['ENOSPC', 'EDQUOT', 'EFBIG'].includes((error as NodeJS.ErrnoException).code ?? ''))
        throw new CodedError('disk-full', { file: this.#path(id, 'wav') }, { cause: error })
      throw error
    }
    return this.finish(id)
  }

  /// Stretches of a finished recording as recordings of their own, seconds of it. Throws `not-there`, `disk-full`; what was
  /// cut before stays.
  async cut(id: string, pieces: readonly { readonly note: TakeNote; readonly from: number; readonly to: number }[]): Promise<Take[]> {
    const path = await this.file(id)
    if (path === null) throw new CodedError('not-there', { what: 'recording', id })
    const { sampleRate, samples } = await this.#take(id)
    const takes: Take[] = []
    for (const { note, from, to } of pieces) {
      const [start, end] = [from, to].map((seconds) => Math.max(0, Math.min(samples, Math.round(seconds * sampleRate)))) as [number, number]
      takes.push(
        await this.add({ ...note, sampleRate }, async (append) => {
          if (end > start)
            for await (const piece of createReadStream(path, { start: WAV_HEAD_BYTES + 2 * start, end: WAV_HEAD_BYTES + 2 * end - 1 }))
              await append(piece as Uint8Array)
        }),
      )
    }
    return takes
  }

  /// Appends bytes at `offset`; answers how many the recording has now, safe on the disk. Throws
  /// `take-offset` with the right offset where it is another, `not-there`, `too-large`, `disk-full`.
  async append(id: string, offset: number, bytes: Uint8Array): Promise<number> {
    return this.#alone(id, async () => {
      const path = this.#path(id, 'part')
      const handle = await open(path, 'r+').catch(() => null)
      if (!handle) throw new CodedError('not-there', { what: 'recording', id })
      try {
        const held = (await handle.stat()).size - WAV_HEAD_BYTES
        if (offset !== held) throw new CodedError('take-offset', { take: id, expected: held })
        if (held + bytes.byteLength > MOST_BYTES) throw new CodedError('too-large', { what: 'a recording', limit_bytes: MOST_BYTES })
        try {
          let done = 0
          while (done < bytes.byteLength)
            done += (await handle.write(bytes, done, bytes.byteLength - done, WAV_HEAD_BYTES + held + done)).bytesWritten
          await handle.sync()
        } catch (error) {
          await handle.truncate(WAV_HEAD_BYTES + held).catch(() => undefined)
          if (['ENOSPC', 'EDQUOT', 'EFBIG'].includes((error as NodeJS.ErrnoException).code ?? ''))
            throw new CodedError('disk-full', { file: path }, { cause: error })
          throw error
        }
        return held + bytes.byteLength
      } finally {
        await handle.close()
      }
    })
  }

  /// Gives the recording its head and its final name. Finishing twice answers the same. One without a sample is not kept.
  async finish(id: string): Promise<Take> {
    return this.#alone(id, async () => {
      const handle = await open(this.#path(id, 'part'), 'r+').catch(() => null)
      if (handle) {
        try {
          const held = (await handle.stat()).size - WAV_HEAD_BYTES
          const whole = held - (held % 2)
          const { sampleRate } = await this.#note(id)
          await handle.write(wavHead(whole, sampleRate), 0, WAV_HEAD_BYTES, 0)
          await handle.truncate(WAV_HEAD_BYTES + whole)
          await handle.sync()
        } finally {
          await handle.close()
        }
        await rename(this.#path(id, 'part'), this.#path(id, 'wav'))
      }
      const take = await this.#take(id)
      if (take.samples > 0) return this.#told(take)
      await this.discard(id)
      return take
    })
  }

  async list(): Promise<Take[]> {
    const names = await readdir(this.#folder).catch(() => [])
    const takes: Take[] = []
    for (const name of names.filter((n) => n.endsWith('.json')).sort()) {
      const take = await this.#take(basename(name, '.json')).catch(() => null)
      if (take) takes.push(take)
    }
    return takes
  }

  /// The file of a finished take; null where there is none.
  async file(id: string): Promise<string | null> {
    if (!isTakeName(id)) return null
    const path = this.#path(id, 'wav')
    return (await stat(path).catch(() => null))?.isFile() ? path : null
  }

  async discard(id: string): Promise<void> {
    for (const ending of ['part', 'wav', 'json'] as const) await rm(this.#path(id, ending), { force: true })
  }

  async #take(id: string): Promise<Take> {
    const { kind, paragraph, sampleRate, words = null, source = null } = await this.#note(id)
    const [finished, recording] = await Promise.all([
      stat(this.#path(id, 'wav')).catch(() => null),
      stat(this.#path(id, 'part')).catch(() => null),
    ])
    const size = (recording ?? finished)?.size
    if (size === undefined) throw new CodedError('not-there', { what: 'recording', id })
    const bytes = Math.max(0, size - WAV_HEAD_BYTES)
    return {
      id,
      kind,
      paragraph,
      source,
      file: recording ? null : `${FOLDER}/${id}.wav`,
      bytes,
      sampleRate,
      samples: Math.floor(bytes / 2),
      state: recording ? 'recording' : 'finished',
      words,
    }
  }

  async #note(id: string): Promise<z.infer<typeof Note>> {
    const text = await readFile(this.#path(id, 'json'), 'utf8').catch(() => null)
    if (text === null) throw new CodedError('not-there', { what: 'recording', id })
    return Note.parse(JSON.parse(text))
  }

  #told(take: Take): Take {
    this.tell(take)
    return take
  }

  #path(id: string, ending: 'part' | 'wav' | 'json'): string {
    if (!isTakeName(id)) throw new CodedError('not-there', { what: 'recording', id })
    return join(this.#folder, `${id}.${ending}`)
  }

  async #alone<T>(id: string, work: () => Promise<T>): Promise<T> {
    const before = this.#busy.get(id) ?? Promise.resolve()
    const mine = before.then(work, work)
    this.#busy.set(id, mine)
    try {
      return await mine
    } finally {
      if (this.#busy.get(id) === mine) this.#busy.delete(id)
    }
  }
}

const isTakeName = (id: string): boolean => /^[\p{L}\p{N}_-][\p{L}\p{N} _.-]{0,200}$/u.test(id) && !id.includes('..')
