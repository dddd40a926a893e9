import { createHash } from 'node:crypto'
import { existsSync } from 'node:fs'
import { readFile, rename, writeFile } from 'node:fs/promises'
import { join } from 'node:path'

/// Remembers beside a made thing what it was made from, so that it is made again only when that changes.

export const recipeOf = (...parts: readonly (string | Buffer)[]): string => {
  const hash = createHash('sha256')
  for (const part of parts) hash.update(String(part.length)).update('\n').update(part)
  return hash.digest('hex')
}

/// Whether all `files` are there and were made from `recipe`.
export async function isMade(folder: string, name: string, recipe: string, files: readonly string[]): Promise<boolean> {
  if (!files.every((f) => existsSync(join(folder, f)))) return false
  return (await readFile(join(folder, `${name}.stamp`), 'utf8').catch(() => '')) === recipe
}

export async function markMade(folder: string, name: string, recipe: string): Promise<void> {
  const file = join(folder, `${name}.stamp`)
  await writeFile(`${file}.part`, recipe)
  await rename(`${file}.part`, file)
}
