import { existsSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'

/// Electron's program, where its package has one; null where there is none. The package itself is not
/// loaded: it would try to download what is missing.
export function electronBinary(): string | null {
  let folder: string
  try {
    folder = dirname(createRequire(import.meta.url).resolve('electron/package.json'))
  } catch {
    return null
  }
  const dist = process.env['ELECTRON_OVERRIDE_DIST_PATH'] ?? join(folder, 'dist')
  const named = existsSync(join(folder, 'path.txt')) ? readFileSync(join(folder, 'path.txt'), 'utf8').trim() : 'electron'
  const program = join(dist, named)
  return existsSync(program) ? program : null
}
