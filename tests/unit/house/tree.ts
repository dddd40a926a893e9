import { readFileSync, readdirSync } from 'node:fs'
import { extname, join, relative } from 'node:path'
import { root } from './licence-table'

export interface Source {
  /// From the project's folder, with slashes.
  readonly path: string
  readonly text: string
}

const made = new Set(['node_modules', 'out', 'made', 'coverage'])
const written = new Set([
  '.ts',
  '.tsx',
  '.mts',
  '.mjs',
  '.js',
  '.cjs',
  '.json',
  '.md',
  '.html',
  '.css',
  '.sql',
  '.sh',
  '.yml',
  '.yaml',
  '.txt',
  '.svg',
  '',
])

/// Every text file of the tree that people wrote, or of some of its folders.
export function sources(folders: readonly string[] = ['.']): readonly Source[] {
  return files(folders)
    .filter((path) => written.has(extname(path)))
    .map((path) => ({ path, text: readFileSync(join(root, path), 'utf8') }))
}

/// Every file of the tree, or of some of its folders, but for what is installed or made.
export function files(folders: readonly string[] = ['.']): readonly string[] {
  return folders.flatMap((folder) => walk(join(root, folder)))
}

function walk(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name)
    // Git's own: a folder, or in a linked working tree a file.
    if (entry.name === '.git') return []
    if (entry.isDirectory()) return made.has(entry.name) ? [] : walk(path)
    return entry.isFile() ? [relative(root, path).replaceAll('\\', '/')] : []
  })
}
