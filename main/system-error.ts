import { CodedError } from '../app/errors/coded-error'

const FULL: ReadonlySet<string> = new Set(['ENOSPC', 'EFBIG', 'EDQUOT'])
const FORBIDDEN: ReadonlySet<string> = new Set(['EACCES', 'EPERM', 'EROFS'])

/// What the file system said, in words a person can act on; any other error as it is. `file` names what was
/// being made where the system does not.
export function codedSystemError(error: unknown, file: string): unknown {
  if (!(error instanceof Error) || error instanceof CodedError) return error
  const { code, path } = error as NodeJS.ErrnoException
  if (code === undefined) return error
  if (FULL.has(code)) return new CodedError('disk-full', { file: path ?? file }, { cause: error })
  if (FORBIDDEN.has(code))
    return new CodedError('file-unreadable', { file: path ?? file, problem: 'its permissions do not allow it' }, { cause: error })
  return error
}
