import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { open } from 'node:fs/promises'
import { CodedError } from '../../app/errors/coded-error'

const BLOCK = 256 * 1024

/// What a file's content is known by at once: SHA-256 over its size and its first, middle and last
/// 256 KiB. Tells films apart, not a forgery from its original: a final render asks for `fullHash`.
/// Rejects with `file-missing` or `file-unreadable`.
export async function sampledIdentity(path: string): Promise<string> {
  return naming(path, async () => {
    const handle = await open(path, 'r')
    try {
      const { size } = await handle.stat()
      const hash = createHash('sha256').update(`sampled-1:${size}:`)
      const starts = size <= 3 * BLOCK ? [0, BLOCK, 2 * BLOCK] : [0, Math.floor((size - BLOCK) / 2), size - BLOCK]
      for (const start of starts) {
        const { bytesRead, buffer } = await handle.read(Buffer.alloc(BLOCK), 0, BLOCK, start)
        hash.update(buffer.subarray(0, bytesRead))
      }
      return hash.digest('hex')
    } finally {
      await handle.close()
    }
  })
}

/// SHA-256 of the whole file, in hexadecimal. Reads it once (about 0.3–1 GB a second).
/// Rejects with `cancelled`, `file-missing` or `file-unreadable`.
export async function fullHash(
  path: string,
  options: { readonly signal?: AbortSignal | undefined; readonly onProgress?: ((fraction: number) => void) | undefined } = {},
): Promise<string> {
  return naming(path, async () => {
    const handle = await open(path, 'r')
    const { size } = await handle.stat().finally(() => handle.close())
    const hash = createHash('sha256')
    let done = 0
    for await (const chunk of createReadStream(path, { highWaterMark: 1 << 20 })) {
      if (options.signal?.aborted) throw new CodedError('cancelled', { what: `hashing ${path}` })
      hash.update(chunk as Buffer)
      done += (chunk as Buffer).length
      options.onProgress?.(size > 0 ? Math.min(1, done / size) : 1)
    }
    return hash.digest('hex')
  })
}

async function naming<T>(path: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work()
  } catch (error) {
    if (error instanceof CodedError) throw error
    const code = (error as NodeJS.ErrnoException).code
    if (code === 'ENOENT') throw new CodedError('file-missing', { file: path })
    throw new CodedError('file-unreadable', { file: path, problem: code ?? String(error) }, { cause: error })
  }
}
