import { readFile } from 'node:fs/promises'
import type { z } from 'zod'
import { writeWhole } from '../whole-file'

/// A small JSON file of the cache folder: null where it is not there or not what it should be.
export async function readKept<T>(file: string, schema: z.ZodType<T>): Promise<T | null> {
  try {
    const parsed = schema.safeParse(JSON.parse(await readFile(file, 'utf8')))
    return parsed.success ? parsed.data : null
  } catch {
    return null
  }
}

export const writeKept = (file: string, value: unknown): Promise<void> => writeWhole(file, JSON.stringify(value))
