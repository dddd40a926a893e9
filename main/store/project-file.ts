import { closeSync, existsSync, openSync, readSync, statSync } from 'node:fs'
import { CodedError } from '../../app/errors/coded-error'
import { ok, refused, type Result } from '../../app/result'

/// "CLfr": what marks a SQLite file as a project (PRAGMA application_id).
export const APPLICATION_ID = 0x434c6672

/// The format of a project file as its first bytes say, read without SQLite so that nothing is
/// written beside a file that is not ours. SQLite file format, "The Database Header": magic at 0,
/// user version at 60, application id at 68, big-endian.
/// Refuses what is missing, unreadable or no project.
export function readFormat(path: string): Result<number, CodedError> {
  if (!existsSync(path)) return refused(new CodedError('file-missing', { file: path }))
  const header = Buffer.alloc(100)
  try {
    if (!statSync(path).isFile()) return refused(new CodedError('project-not-ours', { file: path }))
    const file = openSync(path, 'r')
    try {
      if (readSync(file, header, 0, 100, 0) < 100) return refused(new CodedError('project-not-ours', { file: path }))
    } finally {
      closeSync(file)
    }
  } catch (cause) {
    return refused(storeError(cause, path))
  }
  const ours = header.toString('latin1', 0, 16) === 'SQLite format 3\0' && header.readUInt32BE(68) === APPLICATION_ID
  return ours ? ok(header.readUInt32BE(60)) : refused(new CodedError('project-not-ours', { file: path }))
}

/// What SQLite or the file system said, as an error for a person. Throws whatever is neither.
export function storeError(cause: unknown, file: string): CodedError {
  if (cause instanceof CodedError) return cause
  const code = cause instanceof Error && 'code' in cause ? String(cause.code) : ''
  const message = cause instanceof Error ? cause.message : String(cause)
  if (/^(SQLITE_FULL|ENOSPC|EDQUOT|EFBIG)/.test(code) || code === 'SQLITE_IOERR_WRITE')
    return new CodedError('disk-full', { file }, { cause })
  if (/^SQLITE_(CORRUPT|NOTADB)/.test(code)) return new CodedError('project-damaged', { file, problem: message }, { cause })
  if (/^SQLITE_BUSY/.test(code)) return new CodedError('project-locked', { file, owner: 'another program' }, { cause })
  if (/^(SQLITE_(READONLY|IOERR|PERM|AUTH)|EACCES|EPERM|EROFS|ENOENT|ENOTDIR|EISDIR|ENAMETOOLONG)/.test(code))
    return new CodedError('file-unwritable', { file, problem: message }, { cause })
  if (/^SQLITE_CANTOPEN/.test(code)) return new CodedError('file-unreadable', { file, problem: message }, { cause })
  throw cause
}
