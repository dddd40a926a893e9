/// One range of bytes of a file, as asked for in a Range header (RFC 9110, section 14).

export interface ByteRange {
  /// First and last byte, both included.
  readonly first: number
  readonly last: number
}

/// What a Range header asks of a file of `size` bytes. `whole`: there is no header, or one that is to
/// be passed over (another unit, bad syntax, several ranges). `none`: no byte of it is in the file.
export function rangeOf(header: string | null, size: number): ByteRange | 'whole' | 'none' {
  const match = /^bytes=\s*(\d{0,15})\s*-\s*(\d{0,15})\s*$/i.exec(header ?? '')
  if (!match) return 'whole'
  const [, from = '', to = ''] = match
  if (from === '' && to === '') return 'whole'
  if (from === '') {
    const length = Math.min(Number(to), size)
    return length === 0 ? 'none' : { first: size - length, last: size - 1 }
  }
  const first = Number(from)
  if (to !== '' && Number(to) < first) return 'whole'
  if (first >= size) return 'none'
  return { first, last: to === '' ? size - 1 : Math.min(Number(to), size - 1) }
}
