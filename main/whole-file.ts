import { mkdir, rename, rm, writeFile } from 'node:fs/promises'
import { dirname } from 'node:path'

let written = 0

/// Writes a file, and the folder that it lies in where there is none. Under its name stands what was there before or the whole of
/// it, whatever goes wrong and whoever writes it too. Rejects as the file system does.
export async function writeWhole(file: string, data: string | Uint8Array): Promise<void> {
  await mkdir(dirname(file), { recursive: true })
  const part = `${file}.${process.pid}-${written++}.part`
  try {
    await writeFile(part, data)
    await rename(part, file)
  } finally {
    await rm(part, { force: true })
  }
}
