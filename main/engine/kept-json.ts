import { mkdir, readFile, rename, writeFile } from 'node:fs/promises'
import { dirname } from 'node:path'
import type { z } from 'zod'

/// A small JSON file of the cache folder: null where it is not there or not what it should be.
export async function readKept<T>(file: string, schema: z.ZodType<T>): Promise<T | null> {
  try {
    const parsed = schema.safeParse(JSON.parse(await readFile(file, 'utf8')))
    return parsed.success ? parsed.data : null
  } catch {
    return null
  }
}

export async function writeKept(file: string, value: unknown): Promise<void> {
  await mkdir(dirname(file), { recursive: true })
  const part = `${file}.${process.pid}.part`
  await writeFile(part, JSON.stringify(value))
  await rename(part, file)
}
