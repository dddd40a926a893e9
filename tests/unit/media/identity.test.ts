import { createHash, randomBytes } from 'node:crypto'
import { copyFile, mkdtemp, open, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { fullHash, sampledIdentity } from '../../../main/media/identity'

let folder = ''
let large = ''
const bytes = randomBytes(3 * 1024 * 1024)
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'claimframe-identity-'))
  large = join(folder, 'large.bin')
  await writeFile(large, bytes)
})
afterAll(() => rm(folder, { recursive: true, force: true }))

const changedAt = async (at: number): Promise<string> => {
  const path = join(folder, `changed-${at}.bin`)
  await copyFile(large, path)
  const file = await open(path, 'r+')
  await file.write(Buffer.from([bytes[at]! ^ 1]), 0, 1, at)
  await file.close()
  return path
}

describe('a file’s identity', () => {
  it('is of its content, not its name', async () => {
    const copy = join(folder, 'copy.bin')
    await copyFile(large, copy)
    expect(await sampledIdentity(copy)).toBe(await sampledIdentity(large))
    expect(await fullHash(copy)).toBe(createHash('sha256').update(bytes).digest('hex'))
  })
  it('changes with a byte at the start, in the middle, at the end, and with the length', async () => {
    const whole = await sampledIdentity(large)
    for (const at of [0, bytes.length >> 1, bytes.length - 1])
      expect(await sampledIdentity(await changedAt(at)), String(at)).not.toBe(whole)
    const shorter = join(folder, 'shorter.bin')
    await writeFile(shorter, bytes.subarray(0, -1))
    expect(await sampledIdentity(shorter)).not.toBe(whole)
  })
  it('is only sampled: a byte between the samples is seen by the full hash alone', async () => {
    const between = await changedAt(600_000)
    expect(await sampledIdentity(between)).toBe(await sampledIdentity(large))
    expect(await fullHash(between)).not.toBe(await fullHash(large))
  })
  it('reads every byte of a small file', async () => {
    const small = async (name: string, content: Buffer): Promise<string> => {
      await writeFile(join(folder, name), content)
      return sampledIdentity(join(folder, name))
    }
    const part = bytes.subarray(0, 700_000)
    const other = Buffer.from(part)
    other[400_000]! ^= 1
    expect(await small('a', part)).not.toBe(await small('b', other))
    expect(await small('c', Buffer.alloc(0))).toMatch(/^[0-9a-f]{64}$/)
  })
  it('reports progress, can be cancelled, and names a file that is not there', async () => {
    const seen: number[] = []
    await fullHash(large, { onProgress: (x) => seen.push(x) })
    expect(seen.at(-1)).toBe(1)
    expect(seen).toEqual([...seen].sort((a, b) => a - b))
    await expect(fullHash(large, { signal: AbortSignal.abort() })).rejects.toMatchObject({ code: 'cancelled' })
    await expect(fullHash(join(folder, 'none'))).rejects.toMatchObject({ code: 'file-missing' })
    await expect(sampledIdentity(folder)).rejects.toMatchObject({ code: 'file-unreadable' })
  })
})
