import { relative, resolve, sep } from 'node:path'
import { CodedError } from '../../app/errors/coded-error'
import { problemOfFileName } from '../../app/exchange/document-file-name'
import type { Breakdown } from '../../app/project/breakdown'
import { ok, refused, type Result } from '../../app/result'

/// The breakdown of a document in folder `from` as it is said in folder `to`: films, takes and
/// room tone are named relative to `to`. Refused ('path-outside') when one does not lie in `to`:
/// a project stands beside its films, or above them.
export function moveFiles(breakdown: Breakdown, from: string, to: string): Result<Breakdown, CodedError> {
  if (resolve(from) === resolve(to)) return ok(breakdown)
  try {
    const moved = (file: string, place: string): string => {
      const name = relative(to, resolve(from, file)).split(sep).join('/')
      if (problemOfFileName(name)) throw new CodedError('path-outside', { place, file: name })
      return name
    }
    const { sound } = breakdown
    return ok({
      ...breakdown,
      ...(sound?.roomTone === undefined ? {} : { sound: { ...sound, roomTone: moved(sound.roomTone, 'sound.roomTone') } }),
      footage: breakdown.footage.map((film, i) => ({ ...film, file: moved(film.file, `footage[${i}].file`) })),
      script: breakdown.script.map((row, i) => ('chapter' in row || row.take === undefined ? row : { ...row, take: moved(row.take, `script[${i}].take`) })),
    })
  } catch (cause) {
    if (cause instanceof CodedError) return refused(cause)
    throw cause
  }
}
