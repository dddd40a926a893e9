import { open, readFile, stat } from 'node:fs/promises'
import { dirname, resolve } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import { readBreakdown } from '../../app/exchange/breakdown-reading'
import type { Breakdown } from '../../app/project/breakdown'
import { openProject } from '../store/open-project'

/// A breakdown with the folder that its files lie in, from a project or straight from a document.
export interface Loaded {
  readonly breakdown: Breakdown
  readonly folder: string
  readonly from: 'project' | 'document'
}

const SQLITE_HEAD = 'SQLite format 3\0'

/// Loads a project or a breakdown document. Throws CodedError for whatever is wrong with it.
export async function load(path: string): Promise<Loaded> {
  const facts = await stat(path).catch(() => null)
  if (!facts) throw new CodedError('file-missing', { file: path })
  if (!facts.isFile()) throw new CodedError('file-unreadable', { file: path, problem: 'it is not a file' })
  const folder = dirname(resolve(path))
  if (await startsWith(path, SQLITE_HEAD)) {
    const opened = openProject(path, { readOnly: true })
    if (!opened.ok) throw opened.error
    try {
      return { breakdown: opened.value.breakdown(), folder, from: 'project' }
    } finally {
      opened.value.close()
    }
  }
  return { breakdown: await loadDocument(path), folder, from: 'document' }
}

/// Reads and checks a breakdown document.
export async function loadDocument(path: string): Promise<Breakdown> {
  const text = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
    throw error.code === 'ENOENT'
      ? new CodedError('file-missing', { file: path })
      : new CodedError('file-unreadable', { file: path, problem: error.code ?? error.message })
  })
  const read = readBreakdown(text, path)
  if (!read.ok) throw read.error
  return read.value
}

async function startsWith(path: string, head: string): Promise<boolean> {
  const handle = await open(path, 'r')
  try {
    const buffer = Buffer.alloc(head.length)
    const { bytesRead } = await handle.read(buffer, 0, head.length, 0)
    return bytesRead === head.length && buffer.toString('latin1') === head
  } finally {
    await handle.close()
  }
}
